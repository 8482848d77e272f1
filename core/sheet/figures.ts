// Figures as the sheet prints them: digits, signs and units in one place. Pure.
import type { Direction } from "../codec/rigLines.ts";
import type { Limits } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";

/** Digits after the point, by unit: a hundredth of an inch of mercury is 34 Pa. */
const VACUUM_DIGITS: Readonly<Record<VacuumUnit, number>> = {
  Pa: 0,
  kPa: 2,
  mbar: 1,
  inHg: 2,
  mmHg: 1,
  cmHg: 2,
  psi: 3,
};

/** A true minus sign, and never one before zero. */
export function fixed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** At most two digits after the point, and no zeros that say nothing: for limits and nominal values. */
export function short(value: number): string {
  return fixed(value, 2).replace(/\.?0+$/, "");
}

export function vacuumText(vacuumPa: number, unit: VacuumUnit): string {
  return `${fixed(vacuumFromPascals(vacuumPa, unit), VACUUM_DIGITS[unit])} ${unit}`;
}

export function vacuumNumber(vacuumPa: number, unit: VacuumUnit): string {
  return fixed(vacuumFromPascals(vacuumPa, unit), VACUUM_DIGITS[unit]);
}

/** An uncertainty is never nothing: at least one in the last digit. What stands behind the digits stays. */
export function notZero(text: string): string {
  return Number.parseFloat(text) === 0 ? text.replace(/0(?=\D*$)/, "1") : text;
}

export type MeasuredUnit = "deg" | "rpm" | "Pa";

/** A value in its unit's digits, the unit left out. */
export function measuredNumber(value: number, unit: MeasuredUnit, vacuumUnit: VacuumUnit): string {
  if (unit === "Pa") return vacuumNumber(value, vacuumUnit);
  return fixed(value, unit === "rpm" ? 0 : 2);
}

export function unitSign(unit: MeasuredUnit, vacuumUnit: VacuumUnit): string {
  if (unit === "Pa") return ` ${vacuumUnit}`;
  return unit === "rpm" ? " rpm" : "°";
}

export function limitsText(limits: Limits, unit: MeasuredUnit, vacuumUnit: VacuumUnit): string {
  const { min, max } = limits;
  const sign = unitSign(unit, vacuumUnit);
  const one = (value: number) =>
    short(unit === "Pa" ? vacuumFromPascals(value, vacuumUnit) : value);
  if (min !== null && max !== null) return `${one(min)} to ${one(max)}${sign}`;
  if (min !== null) return `at least ${one(min)}${sign}`;
  return max === null ? "none" : `at most ${one(max)}${sign}`;
}

/** `2031-03-14 09:26 UTC` from ISO 8601 in UTC; what has another form is printed as it is. */
export function timeText(utc: string): string {
  const match = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})/.exec(utc);
  return match === null ? utc : `${match[1]} ${match[2]} UTC`;
}

/** `2031-03-14`, likewise. */
export function dateText(utc: string): string {
  return /^\d{4}-\d{2}-\d{2}(?=T)/.exec(utc)?.[0] ?? utc;
}

export function rotationText(rotation: Direction): string {
  const word = rotation === "cw" ? "clockwise" : "anticlockwise";
  return `${word}, looking down on the rotor`;
}
