// Numbers as people read them: pure, one place for digits, signs and units.
import type { RowVerdict } from "../../core/documents.ts";
import type { ShownVacuumUnit } from "../../core/settings/settings.ts";
import type { Limits } from "../../core/unit.ts";
import { vacuumFromPascals } from "../../core/units.ts";
import { words } from "./words.ts";

/** Fixed digits, a true minus sign, and never a minus before zero. */
export function fixed(value: number, digits: number): string {
  return asRead(value, Math.abs(value).toFixed(digits));
}

/** The digits of a size with the value's sign, as the language writes them. */
function asRead(value: number, size: string): string {
  const text = size.replace(".", words.decimalMark);
  return value < 0 && Number(size) !== 0 ? `−${text}` : text;
}

/** At most two digits, trailing zeros dropped: how limits were printed. */
function short(value: number): string {
  const size = Math.abs(value)
    .toFixed(2)
    .replace(/\.?0+$/, "");
  return asRead(value, size);
}

export function degrees(value: number, digits = 1): string {
  return `${fixed(value, digits)}°`;
}

export function rpm(value: number): string {
  return `${fixed(value, 0)} ${words.rpm}`;
}

/** The unit that vacuum is shown in; read when something is shown, never at a module's top. */
export let vacuumUnit: ShownVacuumUnit = "kPa";

/** To be called before the page is made. */
export function showVacuumIn(unit: ShownVacuumUnit): void {
  vacuumUnit = unit;
}

/** Digits after the point for a figure that moves: about 100 Pa. */
const VACUUM_DIGITS: Readonly<Record<ShownVacuumUnit, number>> = {
  kPa: 1,
  mbar: 0,
  inHg: 1,
  mmHg: 0,
};

/** From pascals, the unit left out; `finer` digits more than a figure that moves has. */
export function vacuumNumber(valuePa: number, finer = 0): string {
  return fixed(vacuumFromPascals(valuePa, vacuumUnit), VACUUM_DIGITS[vacuumUnit] + finer);
}

/** From pascals. */
export function vacuum(valuePa: number, finer = 0): string {
  return `${vacuumNumber(valuePa, finer)} ${vacuumUnit}`;
}

/** Whole seconds, minutes from 60 s on. */
export function duration(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  const minutes = Math.floor(whole / 60);
  return minutes === 0 ? `${whole} s` : `${minutes} min ${whole % 60} s`;
}

type MeasuredUnit = RowVerdict["unit"];

/** The number in the unit people read it in. */
function inReadUnit(value: number, unit: MeasuredUnit): number {
  return unit === "Pa" ? vacuumFromPascals(value, vacuumUnit) : value;
}

function suffixOf(unit: MeasuredUnit): string {
  if (unit === "deg") return "°";
  return unit === "rpm" ? ` ${words.rpm}` : ` ${vacuumUnit}`;
}

function measuredDigits(unit: MeasuredUnit): number {
  if (unit === "deg") return 2;
  return unit === "rpm" ? 0 : VACUUM_DIGITS[vacuumUnit] + 1;
}

export function limitsText(limits: Limits, unit: MeasuredUnit): string {
  const bound = (value: number): string => short(inReadUnit(value, unit));
  const suffix = suffixOf(unit);
  if (limits.min !== null && limits.max !== null) {
    return words.result.between(bound(limits.min), `${bound(limits.max)}${suffix}`);
  }
  if (limits.max !== null) return words.result.atMost(`${bound(limits.max)}${suffix}`);
  if (limits.min !== null) return words.result.atLeast(`${bound(limits.min)}${suffix}`);
  return words.result.noLimit;
}

export function measuredText(
  row: Pick<RowVerdict, "measured" | "expandedUncertainty" | "unit">,
): string {
  if (row.measured === null) return words.result.notMeasured;
  const digits = measuredDigits(row.unit);
  const value = fixed(inReadUnit(row.measured, row.unit), digits);
  const suffix = suffixOf(row.unit);
  if (row.expandedUncertainty === null) return `${value}${suffix}`;
  // Rounded up: no reading is shown as surer than it is.
  const scale = 10 ** digits;
  const half = Math.ceil(inReadUnit(row.expandedUncertainty, row.unit) * scale - 1e-9) / scale;
  return `${value} ± ${fixed(half, digits)}${suffix}`;
}

/** The day in the reader's own time zone. */
export function localDate(utc: string): string {
  return inLocale(utc, { dateStyle: "medium" });
}

/** The moment in the reader's own time zone. */
export function localTime(utc: string): string {
  return inLocale(utc, { dateStyle: "medium", timeStyle: "short" });
}

function inLocale(utc: string, form: Intl.DateTimeFormatOptions): string {
  const moment = new Date(utc);
  if (Number.isNaN(moment.getTime())) return utc;
  return new Intl.DateTimeFormat(words.locale, form).format(moment);
}
