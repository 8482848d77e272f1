// What is known between two neighbouring readings without knowing the mechanism.
import { bendByReadings } from "./bend.ts";
import { type CurveReading, fromReduced, type SweepAxis } from "./curve.ts";
import { type Knot, knotsOf } from "./knot.ts";
import { type Bend, bendShown, type Shown } from "./shown.ts";
import type { Piece } from "./trace.ts";

/** Between two neighbouring readings of one branch. */
export interface Gap {
  readonly fromX: number;
  readonly toX: number;
  /** How far the curve may lie from the straight line between the two. */
  readonly bendDeg: number;
  /** Expanded uncertainty (k = 2) of the line where it bends most, and of the curve there with the bend. */
  readonly noiseDeg: number;
  readonly expandedDeg: number;
  /** Where the next reading tells most. */
  readonly worstX: number;
  /** Whether a reading lies beyond its lower and beyond its upper end, so that the slope there is known. */
  readonly seenBelow: boolean;
  readonly seenAbove: boolean;
}

const COVERAGE = 2;
/** The line's own uncertainty halfway between two equal ones. */
const HALFWAY = Math.SQRT1_2;
/** A piece of fewer turns does not show its shape well. */
const TELLING_TURNS = 8;

/**
 * The gaps of one branch, readings in rising order of `x`. In a gap the curve is taken to be monotonic
 * and either smooth or with one corner, or with a jump where the slopes on both sides call for it.
 */
export function gapsOf(
  axis: SweepAxis,
  readings: readonly CurveReading[],
  pieces: readonly Piece[],
): Gap[] {
  const knots = knotsOf(axis, readings);
  return knots.slice(1).map((to, i) => gapBetween(axis, knots, i, to, pieces));
}

function gapBetween(
  axis: SweepAxis,
  knots: readonly Knot[],
  index: number,
  to: Knot,
  pieces: readonly Piece[],
): Gap {
  const from = knots[index] as Knot;
  const lower = knots.slice(0, index).reverse();
  const byReadings = bendByReadings(axis, from, to, lower, knots.slice(index + 2));
  const shown = bendShown(from, to, pieces);
  const seenBelow = index > 0;
  const seenAbove = index + 2 < knots.length;
  const { bendDeg, share } = together(byReadings, shown, seenBelow && seenAbove);
  const noiseDeg = COVERAGE * HALFWAY * Math.max(from.wholeSigma, to.wholeSigma);
  return {
    fromX: from.x,
    toX: to.x,
    bendDeg,
    noiseDeg,
    expandedDeg: noiseDeg + bendDeg,
    seenBelow,
    seenAbove,
    worstX: fromReduced(axis, from.u + share * (to.u - from.u)),
  };
}

/**
 * A trace of enough turns shows what the readings leave open, and is all there is where the slope on one
 * side is not known.
 */
function together(byReadings: Bend, shown: Shown | null, seenFromBoth: boolean): Bend {
  if (shown === null || shown.turns < TELLING_TURNS) return byReadings;
  return !seenFromBoth || shown.bendDeg < byReadings.bendDeg ? shown : byReadings;
}
