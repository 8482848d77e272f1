// Figures as the sheet prints them: digits, signs and units in one place. Pure.
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
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
export function fixed(value: number, digits: number, say: Speech = ENGLISH): string {
  const size = Math.abs(value).toFixed(digits);
  return signed(value, size, say);
}

function signed(value: number, size: string, { decimalMark }: Speech): string {
  const text = size.replace(".", decimalMark);
  return value < 0 && Number(size) !== 0 ? `−${text}` : text;
}

/** At most two digits after the point, and no zeros that say nothing: for limits and nominal values. */
export function short(value: number, say: Speech = ENGLISH): string {
  const size = Math.abs(value)
    .toFixed(2)
    .replace(/\.?0+$/, "");
  return signed(value, size, say);
}

export function vacuumText(vacuumPa: number, unit: VacuumUnit, say: Speech = ENGLISH): string {
  return `${vacuumNumber(vacuumPa, unit, say)} ${unit}`;
}

export function vacuumNumber(vacuumPa: number, unit: VacuumUnit, say: Speech = ENGLISH): string {
  return fixed(vacuumFromPascals(vacuumPa, unit), VACUUM_DIGITS[unit], say);
}

export function rpmText(rpm: number, say: Speech = ENGLISH): string {
  return `${fixed(rpm, 0, say)} ${say.rpm}`;
}

/** An uncertainty is never nothing: at least one in the last digit. What stands behind the digits stays. */
export function notZero(text: string): string {
  return Number.parseFloat(text.replace(",", ".")) === 0 ? text.replace(/0(?=\D*$)/, "1") : text;
}

export type MeasuredUnit = "deg" | "rpm" | "Pa";

/** A value in its unit's digits, the unit left out. */
export function measuredNumber(
  value: number,
  unit: MeasuredUnit,
  vacuumUnit: VacuumUnit,
  say: Speech = ENGLISH,
): string {
  if (unit === "Pa") return vacuumNumber(value, vacuumUnit, say);
  return fixed(value, unit === "rpm" ? 0 : 2, say);
}

export function unitSign(
  unit: MeasuredUnit,
  vacuumUnit: VacuumUnit,
  say: Speech = ENGLISH,
): string {
  if (unit === "Pa") return ` ${vacuumUnit}`;
  return unit === "rpm" ? ` ${say.rpm}` : "°";
}

export function limitsText(
  limits: Limits,
  unit: MeasuredUnit,
  vacuumUnit: VacuumUnit,
  say: Speech = ENGLISH,
): string {
  const { min, max } = limits;
  const { papers } = say;
  const sign = unitSign(unit, vacuumUnit, say);
  const one = (value: number) =>
    short(unit === "Pa" ? vacuumFromPascals(value, vacuumUnit) : value, say);
  if (min !== null && max !== null) return papers.between(one(min), `${one(max)}${sign}`);
  if (min !== null) return papers.atLeast(`${one(min)}${sign}`);
  return max === null ? papers.noLimits : papers.atMost(`${one(max)}${sign}`);
}

/** `2031-03-14 09:26 UTC` from ISO 8601 in UTC; what has another form is printed as it is. */
export function timeText(utc: string, say: Speech = ENGLISH): string {
  const time = /^\d{4}-\d{2}-\d{2}T(\d{2}:\d{2})/.exec(utc)?.[1];
  return time === undefined ? utc : `${dateText(utc, say)} ${time} UTC`;
}

/** `2031-03-14`, likewise; also from a day alone. */
export function dateText(utc: string, say: Speech = ENGLISH): string {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})(?=T|$)/.exec(utc) ?? [];
  if (year === undefined || month === undefined || day === undefined) return utc;
  return say.papers.date(year, month, day);
}
