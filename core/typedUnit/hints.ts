// What looks odd in a unit's specification, though it can be read: questions, never refusals. Pure.
// The bounds are common practice and memory, no source.
import type { Band, BandRow, Unit } from "../unit.ts";

/** Over speed, or of the capsule by its place in the unit. */
export type HintPlace = "speed" | number;

export type Hint =
  | { readonly code: "much-advance"; readonly at: HintPlace; readonly advanceDeg: number }
  | { readonly code: "crankshaft-speeds"; readonly speedRpm: number }
  | { readonly code: "distributor-speeds"; readonly speedRpm: number }
  | { readonly code: "mixed-shafts"; readonly at: HintPlace }
  | { readonly code: "end-before-start"; readonly at: HintPlace }
  | { readonly code: "falls"; readonly at: HintPlace; readonly printed: string }
  | { readonly code: "deep-vacuum"; readonly at: HintPlace; readonly vacuumPa: number }
  | { readonly code: "shallow-vacuum"; readonly at: HintPlace; readonly vacuumPa: number }
  | { readonly code: "no-begin"; readonly at: HintPlace }
  | { readonly code: "no-end"; readonly at: HintPlace }
  | { readonly code: "tolerance-added"; readonly at: HintPlace; readonly toleranceDeg: number };

/** Weights and capsules seldom give more at the distributor. */
const MUCH_DEG = 20;
/** A distributor at this speed sits on an engine at seven thousand. */
const FAST_RPM = 3500;
/** Full advance by here would be at a thousand engine rpm or below twice that. */
const SLOW_RPM = 1000;
/** About what an engine draws on the overrun at most. */
const DEEP_PA = 85_000;
/** Less moves no capsule. */
const SHALLOW_PA = 6_000;

export function hintsOf(unit: Unit): readonly Hint[] {
  const bands: (readonly [HintPlace, Band | null])[] = [
    ["speed", unit.speedBand],
    ...unit.capsules.map(({ band }, i) => [i, band] as const),
  ];
  return bands.flatMap(([at, band]) => (band === null ? [] : bandHints(at, band)));
}

function bandHints(at: HintPlace, band: Band): Hint[] {
  const rows = band.rows;
  const most = Math.max(0, ...rows.flatMap(sizesOf));
  return [
    ...(most > MUCH_DEG ? [{ code: "much-advance", at, advanceDeg: most } as const] : []),
    ...(at === "speed" ? speedHints(band) : vacuumHints(at, band)),
    ...orderHints(at, rows),
    ...(rows.some(({ kind }) => kind === "noneBelow" || kind === "start") || hasZero(rows)
      ? []
      : [{ code: "no-begin", at } as const]),
    ...(rows.some(({ kind }) => kind === "end") ? [] : [{ code: "no-end", at } as const]),
    ...(band.workshopToleranceDeg === null
      ? []
      : [{ code: "tolerance-added", at, toleranceDeg: band.workshopToleranceDeg } as const]),
  ];
}

function speedHints({ rows, scales }: Band): Hint[] {
  const top = Math.max(0, ...rows.flatMap(placesOf));
  const hints: Hint[] = [];
  if (scales?.x === "distributor" && top > FAST_RPM) {
    hints.push({ code: "crankshaft-speeds", speedRpm: top });
  }
  if (scales?.x === "crankshaft" && top > 0 && top < SLOW_RPM) {
    hints.push({ code: "distributor-speeds", speedRpm: top });
  }
  if (scales !== null && scales.x !== scales.degrees)
    hints.push({ code: "mixed-shafts", at: "speed" });
  return hints;
}

function vacuumHints(at: HintPlace, { rows }: Band): Hint[] {
  const top = Math.max(0, ...rows.flatMap(placesOf));
  if (top > DEEP_PA) return [{ code: "deep-vacuum", at, vacuumPa: top }];
  return top > 0 && top < SHALLOW_PA ? [{ code: "shallow-vacuum", at, vacuumPa: top }] : [];
}

function orderHints(at: HintPlace, rows: readonly BandRow[]): Hint[] {
  const end = rows.find(({ kind }) => kind === "end");
  const start = rows.find(({ kind }) => kind === "start");
  const endX = end?.kind === "end" ? end.x : null;
  const hints: Hint[] = [];
  if (endX !== null && start?.kind === "start" && endX <= start.toX) {
    hints.push({ code: "end-before-start", at });
  }
  let most = 0;
  for (const row of rows) {
    if (row.kind === "start") continue;
    if (mostOf(row) < most) {
      hints.push({ code: "falls", at, printed: row.printed });
      break;
    }
    most = Math.max(most, leastOf(row));
  }
  return hints;
}

/** Advance or retard alike positive. */
function sizesOf(row: BandRow): number[] {
  if (row.kind === "start") return [];
  return [row.limitsDeg.min, row.limitsDeg.max].filter((limit) => limit !== null).map(Math.abs);
}

/** How far the row may go at most, advance or retard. */
function mostOf({ limitsDeg: { min, max } }: Exclude<BandRow, { kind: "start" }>): number {
  const isRetard = (max ?? min ?? 0) < 0;
  const most = isRetard ? min : max;
  return most === null ? Number.POSITIVE_INFINITY : Math.abs(most);
}

/** How far the row at least goes; 0 where it has no such limit, or takes in zero. */
function leastOf({ limitsDeg: { min, max } }: Exclude<BandRow, { kind: "start" }>): number {
  if (min !== null && min > 0) return min;
  return max !== null && max < 0 ? -max : 0;
}

function hasZero(rows: readonly BandRow[]): boolean {
  return rows.some((row) => {
    if (row.kind !== "at") return false;
    const { min, max } = row.limitsDeg;
    return (min ?? 0) <= 0 && (max ?? 0) >= 0;
  });
}

function placesOf(row: BandRow): number[] {
  if (row.kind === "start") return [row.fromX, row.toX];
  return row.x === null ? [] : [row.x];
}
