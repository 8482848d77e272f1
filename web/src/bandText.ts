// A printed row in figures of either shaft, as people read them. Pure.
import type { BandRow, Limits } from "../../core/unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../../core/units.ts";
import { fixed, limitsText } from "./formats.ts";
import { words } from "./words.ts";

export interface ReadScales {
  readonly kind: "speed" | "vacuum";
  /** Degrees and speeds are so much larger than the distributor's. */
  readonly ratio: number;
  readonly vacuumUnit: VacuumUnit;
}

/** Digits after the point that a vacuum is read to. */
const VACUUM_DIGITS: Readonly<Record<VacuumUnit, number>> = {
  Pa: 0,
  kPa: 1,
  mbar: 0,
  inHg: 1,
  mmHg: 0,
  cmHg: 1,
  psi: 2,
};

export function rowText(row: BandRow, scales: ReadScales): string {
  const text = words.desk.bandRow;
  const x = (value: number) => placeText(value, scales);
  if (row.kind === "start") return text.start(x(row.fromX), x(row.toX));
  const limits = limitsText(scaled(row.limitsDeg, scales.ratio), "deg");
  if (row.kind === "at") return text.at(limits, x(row.x));
  if (row.kind === "noneBelow") return text.noneBelow(limits, x(row.x));
  return row.x === null ? text.most(limits) : text.mostBy(limits, x(row.x));
}

export function placeText(value: number, { kind, ratio, vacuumUnit }: ReadScales): string {
  if (kind === "speed") return `${fixed(value * ratio, 0)} ${words.rpm}`;
  return `${fixed(vacuumFromPascals(value, vacuumUnit), VACUUM_DIGITS[vacuumUnit])} ${vacuumUnit}`;
}

function scaled({ min, max }: Limits, ratio: number): Limits {
  return { min: min === null ? null : min * ratio, max: max === null ? null : max * ratio };
}
