// Which further reading would tell two units apart that the readings so far do not.
import { type Nominal, nominalOf } from "../findings/nominal.ts";
import type { SweepAxis } from "../sweep/curve.ts";
import type { Band, Unit } from "../unit.ts";
import type { Measured } from "./measured.ts";
import { capsuleBandOf } from "./nearest.ts";

export interface FurtherReading {
  readonly axis: SweepAxis;
  /** Distributor rpm or pascals. */
  readonly x: number;
  /** What the one and the other should read there, distributor degrees, and how far each may be off. */
  readonly oneDeg: number;
  readonly otherDeg: number;
  readonly toleranceDeg: number;
}

/** Apart by less than this share of both tolerances together no reading tells. An assumption, no source. */
const TELLS_FROM = 0.5;
/** Nearer than this to a reading, as a share of x, the curve is known. */
const READ_WITHIN = 0.1;
const PLACES = 60;
const BEYOND = 1.1;

/** Where the two are farthest apart and nothing was read; null where no reading is likely to tell. */
export function furtherReading(measured: Measured, one: Unit, other: Unit): FurtherReading | null {
  const speed = farthestApart(
    "speed",
    measured.speed.rising,
    one.speedBand,
    other.speedBand,
    measured.referenceRpm,
  );
  const capsules = (["advance", "retard"] as const).map((acts) => {
    const read = measured.capsules.find((capsule) => capsule.acts === acts);
    const of = (unit: Unit) => capsuleBandOf(unit, { acts });
    return farthestApart("vacuum", read?.rising ?? [], of(one), of(other), 0);
  });
  return [speed, ...capsules].reduce<FurtherReading | null>(
    (best, next) => (next !== null && (best === null || apart(next) > apart(best)) ? next : best),
    null,
  );
}

/** As a share of both tolerances. */
function apart({ oneDeg, otherDeg, toleranceDeg }: FurtherReading): number {
  return Math.abs(oneDeg - otherDeg) / (2 * toleranceDeg);
}

function farthestApart(
  axis: SweepAxis,
  read: readonly { readonly x: number }[],
  one: Band | null,
  other: Band | null,
  referenceX: number,
): FurtherReading | null {
  const power = axis === "speed" ? 2 : 1;
  const [first, second] = [one, other].map((band) => band && nominalOf(band, power));
  if (!first || !second) return null;
  const endX = Math.max(
    ...[first, second].map(({ knots }) => (knots.at(-1)?.load ?? 0) ** (1 / power)),
  );
  const xs = Array.from({ length: PLACES }, (_, i) =>
    rounded(axis, ((i + 1) * BEYOND * endX) / PLACES),
  ).filter((x) => read.every((point) => Math.abs(point.x - x) > READ_WITHIN * x));
  const degreesAt = (nominal: Nominal, x: number) =>
    advanceAt(nominal, x) - advanceAt(nominal, referenceX);
  const toleranceDeg = (first.halfWidthDeg + second.halfWidthDeg) / 2;
  let best: FurtherReading | null = null;
  for (const x of xs) {
    const [oneDeg, otherDeg] = [degreesAt(first, x), degreesAt(second, x)];
    const next = { axis, x, oneDeg, otherDeg, toleranceDeg };
    if (apart(next) >= TELLS_FROM && (best === null || apart(next) > apart(best))) best = next;
  }
  return best;
}

/** As printed: straight in load from row to row, beyond the last as far as the largest advance, where one is known. */
function advanceAt({ knots, power, stopDeg }: Nominal, x: number): number {
  const load = x ** power;
  const found = knots.findIndex((knot) => knot.load > load);
  const above = found < 0 ? knots.length - 1 : Math.max(1, found);
  const [low, high] = [knots[above - 1], knots[above]];
  if (low === undefined || high === undefined) return 0;
  const share = (load - low.load) / (high.load - low.load);
  const deg = low.advanceDeg + share * (high.advanceDeg - low.advanceDeg);
  return Math.max(0, Math.min(stopDeg ?? 2 * high.advanceDeg, deg));
}

function rounded(axis: SweepAxis, x: number): number {
  const step = axis === "speed" ? 10 : 500;
  return step * Math.round(x / step);
}
