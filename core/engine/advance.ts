// What a measured curve tells of the advance at any place, with its uncertainty there.
import { combined, part } from "../angles/budget.ts";
import type { CurvePoint, UncertaintyPart } from "../documents.ts";
import { curveAt, reduced, type SweepAxis } from "../sweep/curve.ts";

/** Distributor degrees; `budget` as in a curve point. */
export interface Advance {
  readonly advanceDeg: number;
  readonly budget: readonly UncertaintyPart[];
}

type Known = Pick<CurvePoint, "x" | "advanceDeg" | "budget" | "coverageFactor">;

/** At rest the weights are in and the plate is back: advance counts from there. */
const AT_REST: Known = { x: 0, advanceDeg: 0, budget: [], coverageFactor: 1 };

/**
 * Between two readings on the straight line of `curveAt`, as uncertain as the worse of the two and as
 * the curve may bend; past the last one only where the curve has levelled off. Null where the curve
 * does not tell.
 *
 * @param points one branch in rising order of x, which is distributor rpm or pascals
 */
export function advanceAt(axis: SweepAxis, points: readonly Known[], x: number): Advance | null {
  if (x <= 0) return AT_REST;
  const [first] = points;
  if (first === undefined) return null;
  const known = first.x > 0 ? [AT_REST, ...points] : points;
  const advanceDeg = curveAt(axis, known, x);
  if (advanceDeg === null) return beyond(axis, points, x);
  const above = known.findIndex((point) => point.x >= x);
  const to = known[above] as Known;
  if (to.x === x) return to;
  const from = known[above - 1] as Known;
  const worse = combined(from.budget) > combined(to.budget) ? from : to;
  const bendDeg = bendAt(axis, known, above, x, advanceDeg);
  return { advanceDeg, budget: [...worse.budget, between(bendDeg)] };
}

/**
 * u = a/√3 (JCGM 100 § 4.3.7, from memory). Next to a corner the curve lies on the limit itself, so that
 * the 95 % have to reach it: taken as normal, of which they do, and not as the rectangle.
 */
function between(limitDeg: number): UncertaintyPart {
  return part("between readings", Math.abs(limitDeg) / Math.sqrt(3));
}

/**
 * How far the curve may lie from the line between two readings. It grows without turning back, so it
 * stays between their angles; with a stretch on either side it stays nearer to that line than the lines
 * of these stretches drawn on. Rest is no reading: where advance begins above it is not known.
 */
function bendAt(
  axis: SweepAxis,
  known: readonly Known[],
  above: number,
  x: number,
  lineDeg: number,
): number {
  const [before, from, to, after] = [-2, -1, 0, 1].map((step) => known[above + step]);
  const ends = [from as Known, to as Known].map(({ advanceDeg }) => advanceDeg);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const drawnOn =
    before === AT_REST
      ? []
      : [lineOn(axis, before, from, x), lineOn(axis, after, to, x)].filter((deg) => deg !== null);
  const limits =
    drawnOn.length === 2 ? drawnOn.map((deg) => Math.min(Math.max(deg, low), high)) : ends;
  return Math.max(...limits.map((deg) => Math.abs(deg - lineDeg)));
}

/** The line through two readings at `x`; null without both. */
function lineOn(
  axis: SweepAxis,
  one: Known | undefined,
  other: Known | undefined,
  x: number,
): number | null {
  if (one === undefined || other === undefined || one.x === other.x) return null;
  const [u1, u2, u] = [one.x, other.x, x].map((place) => reduced(axis, place)) as [
    number,
    number,
    number,
  ];
  const slope = (other.advanceDeg - one.advanceDeg) / (u2 - u1);
  return one.advanceDeg + slope * (u - u1);
}

/** On its stop: what the last two readings still rise by, drawn on to `x`, is less than the uncertainty. */
function beyond(axis: SweepAxis, points: readonly Known[], x: number): Advance | null {
  const [before, last] = [points.at(-2), points.at(-1)];
  const drawnOn = lineOn(axis, before, last, x);
  if (last === undefined || drawnOn === null) return null;
  const riseDeg = drawnOn - last.advanceDeg;
  if (Math.abs(riseDeg) > last.coverageFactor * combined(last.budget)) return null;
  return { advanceDeg: last.advanceDeg, budget: [...last.budget, between(riseDeg)] };
}
