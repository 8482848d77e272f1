// What to do to a capsule that misses its band: less or more load on its spring, or another capsule.
import type { CurvePoint } from "../documents.ts";
import type { Band, BandRow, Limits } from "../unit.ts";

/** `load` where washers, a screw or turns can shift the curve into its band; `exchange` where no shift will. */
export interface CapsuleAdvice {
  readonly action: "leave" | "load" | "exchange";
  /** By how much more vacuum everything is to happen; negative: less. 0 unless `load`. */
  readonly shiftPa: number;
  /** Least distance to an edge of the band after it, degrees; negative outside. */
  readonly marginDeg: number;
}

/** A spring is seldom made to take more than this share of what it takes at the end. An assumption, no source. */
const MOST_SHIFT_SHARE = 0.4;
const STEPS = 80;
/** Advance that has not begun, and that has. */
const NOT_BEGUN_DEG = 0.15;
const BEGUN_DEG = 0.02;
/** Closer to an edge a capsule that is within is better set a little. */
const ENOUGH_DEG = 0.1;

/**
 * Load on the spring shifts the whole curve along the vacuum; slope and end stay what they are.
 * Null with fewer than two readings. Points in any order, retard negative as in the band.
 */
export function adviseCapsule(rising: readonly CurvePoint[], band: Band): CapsuleAdvice | null {
  const curve = [...rising].sort((a, b) => a.x - b.x);
  const last = curve.at(-1);
  if (curve.length < 2 || last === undefined) return null;
  const marginAt = (shiftPa: number) =>
    Math.min(...band.rows.map((row) => marginOf(row, (x) => advanceAt(curve, x - shiftPa))));
  const asItIs = marginAt(0);
  if (asItIs >= ENOUGH_DEG) return { action: "leave", shiftPa: 0, marginDeg: asItIs };
  let best = { shiftPa: 0, marginDeg: asItIs };
  for (let i = -STEPS; i <= STEPS; i++) {
    const shiftPa = (i / STEPS) * MOST_SHIFT_SHARE * last.x;
    const marginDeg = marginAt(shiftPa);
    if (marginDeg > best.marginDeg) best = { shiftPa, marginDeg };
  }
  if (best.marginDeg < 0) return { action: "exchange", shiftPa: 0, marginDeg: asItIs };
  return best.shiftPa === 0 ? { action: "leave", ...best } : { action: "load", ...best };
}

function marginOf(row: BandRow, advanceDeg: (x: number) => number): number {
  if (row.kind === "start") {
    const [before, after] = [row.fromX, row.toX].map((x) => Math.abs(advanceDeg(x)));
    return Math.min(NOT_BEGUN_DEG - (before ?? 0), (after ?? 0) - BEGUN_DEG);
  }
  return within(advanceDeg(row.x ?? Number.POSITIVE_INFINITY), row.limitsDeg);
}

function within(deg: number, { min, max }: Limits): number {
  return Math.min(
    max === null ? Number.POSITIVE_INFINITY : max - deg,
    min === null ? Number.POSITIVE_INFINITY : deg - min,
  );
}

/** Straight between readings, level beyond them. */
function advanceAt(curve: readonly CurvePoint[], x: number): number {
  const above = curve.findIndex((point) => point.x > x);
  const [low, high] = [curve[above - 1], curve[above]];
  if (above < 0) return curve.at(-1)?.advanceDeg ?? 0;
  if (low === undefined || high === undefined) return curve[0]?.advanceDeg ?? 0;
  return low.advanceDeg + ((x - low.x) / (high.x - low.x)) * (high.advanceDeg - low.advanceDeg);
}
