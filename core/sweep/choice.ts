// Chooses the next reading of a sweep: the printed rows, then where the curve is least known.
import type { Branch } from "../unit.ts";
import { type CurveReading, fromReduced, reduced, type SweepAxis } from "./curve.ts";
import { type Gap, gapsOf } from "./gaps.ts";
import { settledTrace } from "./lag.ts";
import { bowDeg, type Piece, pieceSlope, type TraceTurn } from "./trace.ts";

/** What a sweep wants to know. */
export interface SweepGoal {
  readonly axis: SweepAxis;
  readonly lowX: number;
  readonly highX: number;
  /** Places that get a reading whatever is known there, within the range. */
  readonly rowsX: readonly number[];
  /** Expanded uncertainty (k = 2) wanted everywhere, in degrees. */
  readonly knownWithinDeg: number;
}

/** A reading at the place that was asked for. */
export interface PlacedReading extends CurveReading {
  readonly targetX: number;
}

/** `again`: it lies behind, so it has to be approached anew from where the branch comes from. */
export type Choice =
  | {
      readonly next: "read";
      readonly x: number;
      readonly again: boolean;
      /** How many readings seem to be needed yet, this one included. */
      readonly left: number;
    }
  | { readonly next: "done"; readonly unknown: readonly Gap[] };

const RESOLUTION = { speed: 1, vacuum: 10 } as const;
/** Closer than this nothing more is asked: a curve that jumps has no place there. */
export const FINEST = { speed: 1.5, vacuum: 40 } as const;
/** A ramp may lag so long: some pieces may be off by more than this share of what is wanted. */
const LAG_LIKELY_S = 0.03;
const LAG_SHARE = 0.3;
/** A place nearer than this share of the step after it is left out. */
const CROWDED = 0.25;
/** Bend that a first step may have, as a share of what is wanted. */
const BENT_SHARE = 0.5;
/** So much of what is wanted is left to the bend at least, however uncertain the readings are. */
const BEND_SHARE = 0.5;
/** Without a trace the first look is at so many even steps. */
const FIRST_STEPS = 4;
/** Share of a gap that a new reading keeps from its ends. */
const MARGIN = 0.04;

/**
 * Places in rising order to begin with: ends, rows, the corners that a trace showed and so many between
 * them as its curvature asks for, at least one; even steps where there is no trace.
 */
export function firstPlaces(goal: SweepGoal, pieces: readonly Piece[]): number[] {
  const { axis, lowX, highX } = goal;
  const inside = (x: number) => x > lowX && x < highX;
  const places = pieces.length === 0 ? evenly(lowX, highX) : placesBy(goal, pieces);
  const rows = goal.rowsX.filter((x) => x >= lowX && x <= highX);
  return inOrder(axis, [lowX, highX, ...places.filter(inside)], rows);
}

function placesBy(
  { axis, lowX, highX, knownWithinDeg }: SweepGoal,
  pieces: readonly Piece[],
): number[] {
  const [lowU, highU] = [reduced(axis, lowX), reduced(axis, highX)];
  return pieces.flatMap((piece, i) => {
    // A trace ends a little before the range does, which is no corner.
    const from = i === 0 ? lowU : Math.max(piece.fromU, lowU);
    const to = i === pieces.length - 1 ? highU : Math.min(piece.toU, highU);
    const width = to - from;
    if (width <= 0) return [];
    const bentDeg = bowDeg(piece, from, from + width);
    const byBow = Math.ceil(Math.sqrt(bentDeg / (BENT_SHARE * knownWithinDeg)));
    // Only a reading inside tells how far the ramp lagged, and so where the corner truly is.
    const lagDeg = pieceSlope(piece, from + width / 2) * piece.uPerS * LAG_LIKELY_S;
    const steps = Math.max(Math.abs(lagDeg) < LAG_SHARE * knownWithinDeg ? 1 : 2, byBow);
    return Array.from({ length: steps + 1 }, (_, i) =>
      fromReduced(axis, from + (i / steps) * width),
    );
  });
}

/** One branch as far as it is known. */
export interface BranchSoFar {
  readonly branch: Branch;
  /** What the trace showed; empty without one. */
  readonly trace: readonly TraceTurn[];
  readonly readings: readonly PlacedReading[];
  /** Places that were asked for and gave nothing. */
  readonly barren: readonly number[];
  /** Where the rig is now. */
  readonly atX: number;
  /** How many more may be taken; rows and ends are taken even so. */
  readonly readingsLeft: number;
}

/**
 * The next reading of a branch: a row or what the trace asks for further on, or, when it lies nearer to
 * where the branch comes from, where the curve between the readings so far is not known yet.
 */
export function nextReading(goal: SweepGoal, soFar: BranchSoFar): Choice {
  const { axis } = goal;
  const { branch, atX, barren } = soFar;
  const sign = branch === "rising" ? 1 : -1;
  const readings = [...soFar.readings].sort((a, b) => a.x - b.x);
  const { pieces, parts } = settledTrace(axis, branch, soFar.trace, readings);
  const missing = missingPlaces(goal, branch, pieces, readings).filter((x) => !barren.includes(x));
  const unknown = gapsOf(axis, readings, parts).filter(
    ({ expandedDeg }) => expandedDeg > goal.knownWithinDeg,
  );
  // With places still to come, only what needs no readings beyond can be judged.
  const judged = unknown.filter(
    ({ fromX, toX, seenBelow, seenAbove }) =>
      missing.length === 0 ||
      ((sign > 0 ? seenAbove : seenBelow) && !missing.some((x) => x > fromX && x < toX)),
  );
  const wanted = judged
    .filter((gap) => gap.bendDeg > bendAllowedDeg(gap, goal.knownWithinDeg))
    .flatMap((gap) => placeIn(axis, gap) ?? [])
    .filter((x) => !barren.includes(x) && !readings.some(({ targetX }) => targetX === x));
  const fixed = missing.filter((x) => fixedPlaces(goal).includes(x));
  const taken = fixed.length < soFar.readingsLeft ? [...missing, ...wanted] : fixed;
  const ordered = taken.sort((a, b) => sign * (a - b));
  const first = ordered[0];
  if (first === undefined) return { next: "done", unknown };
  return { next: "read", x: first, again: sign * (first - atX) <= 0, left: ordered.length };
}

/** Where the readings' own uncertainty is larger than what is wanted, no reading between them can cure it. */
function bendAllowedDeg({ noiseDeg }: Gap, knownWithinDeg: number): number {
  return Math.max(knownWithinDeg - noiseDeg, BEND_SHARE * knownWithinDeg, noiseDeg);
}

function fixedPlaces({ lowX, highX, rowsX }: SweepGoal): readonly number[] {
  return [lowX, highX, ...rowsX.filter((x) => x > lowX && x < highX)];
}

/** Rows and ends without a reading, and what the trace asks for beyond the furthest reading. */
function missingPlaces(
  goal: SweepGoal,
  branch: Branch,
  pieces: readonly Piece[],
  readings: readonly PlacedReading[],
): number[] {
  const sign = branch === "rising" ? 1 : -1;
  const furthest = Math.max(...readings.map(({ targetX }) => sign * targetX));
  const fixed = fixedPlaces(goal);
  const places = firstPlaces(goal, pieces).filter((x) =>
    fixed.includes(x) ? !readings.some(({ targetX }) => targetX === x) : sign * x > furthest,
  );
  const ahead = places.filter((x) => sign * x > furthest).sort((a, b) => sign * (a - b));
  // A corner that has moved to just before us tells nothing more.
  const [next, afterNext] = ahead;
  const crowded =
    next !== undefined &&
    afterNext !== undefined &&
    !fixed.includes(next) &&
    sign * next - furthest < CROWDED * sign * (afterNext - next);
  return crowded ? places.filter((x) => x !== next) : places;
}

/** Null where the gap is as narrow as makes sense. */
function placeIn(axis: SweepAxis, { fromX, toX, worstX }: Gap): number | null {
  if (toX - fromX < FINEST[axis]) return null;
  const margin = Math.max(MARGIN * (toX - fromX), RESOLUTION[axis] / 2);
  const x = Math.min(Math.max(worstX, fromX + margin), toX - margin);
  // Readings stand a little beside what was asked for: the next place is not to be one of theirs.
  const [lowest, highest] = [rounded(axis, fromX), rounded(axis, toX)];
  const step = RESOLUTION[axis];
  return Math.min(Math.max(rounded(axis, x), lowest + step), highest - step);
}

function evenly(lowX: number, highX: number): number[] {
  return Array.from(
    { length: FIRST_STEPS - 1 },
    (_, i) => lowX + ((i + 1) / FIRST_STEPS) * (highX - lowX),
  );
}

function rounded(axis: SweepAxis, x: number): number {
  return Math.round(x / RESOLUTION[axis]) * RESOLUTION[axis];
}

/** Each once, `exact` ones as they are, others rounded and dropped where they crowd. */
function inOrder(axis: SweepAxis, places: readonly number[], exact: readonly number[]): number[] {
  const kept = [...exact];
  for (const place of places) {
    const x = rounded(axis, place);
    if (!kept.some((other) => Math.abs(other - x) < 2 * FINEST[axis])) kept.push(x);
  }
  return kept.sort((a, b) => a - b);
}
