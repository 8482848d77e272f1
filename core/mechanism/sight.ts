// A measured curve as a fit sees it: which readings stand at rest, on the slope and at the end of the travel.
import type { CurvePoint } from "../documents.ts";
import type { Branch } from "../unit.ts";
import { type BranchReading, ownDeg, sharedDeg } from "./branchReading.ts";
import type { Untold } from "./fitted.ts";

/** A curve as a fit sees it, its parts told apart. */
export interface Sight {
  readonly readings: readonly BranchReading[];
  /** Largest advance read, and whether readings stand level there. */
  readonly topDeg: number;
  readonly stands: boolean;
  readonly comesBack: boolean;
  /** Advance that the falling branch ends with, where it clearly does. */
  readonly leftDeg: number;
}

/** Advance below this over a whole sweep is none. An assumption, no source. */
const MOVES_DEG = 0.3;
const BACKWARDS_DEG = -0.3;
const LEAST_ON_SLOPE = 3;
const LEAST_READINGS = 6;

export function refusal({ readings, topDeg }: Sight): Untold | null {
  if (readings.length < LEAST_READINGS) return "too few readings";
  const lowestDeg = Math.min(...readings.map(({ point }) => point.advanceDeg));
  if (lowestDeg < BACKWARDS_DEG) return "runs backwards";
  if (topDeg < MOVES_DEG) return "does not move";
  const onSlope = readings.filter(({ branch, isOnSlope }) => branch === "rising" && isOnSlope);
  return onSlope.length < LEAST_ON_SLOPE ? "too few on the slope" : null;
}

/**
 * @param rising in rising order of speed or vacuum
 * @param rest what a reading at rest shows in place of nothing
 */
export function sightOf(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
  rest: (point: CurvePoint) => number,
): Sight {
  const topDeg = Math.max(0, ...rising.map(({ advanceDeg }) => advanceDeg));
  const level = [...rising, ...falling].filter(
    (point) => point.advanceDeg > topDeg - LEVEL_DEG - 2 * ownDeg(point),
  );
  const stands = new Set(level.map(({ targetX }) => targetX)).size >= 2;
  const seen = (branch: Branch) => (point: CurvePoint) => ({
    point,
    branch,
    restDeg: rest(point),
    isOnSlope:
      point.advanceDeg - rest(point) > CLEAR_DEG &&
      (!stands || point.advanceDeg < topDeg - CLEAR_DEG),
  });
  const back = falling.map(seen("falling"));
  const [lowest] = falling;
  const [first] = rising;
  const isLeft =
    lowest !== undefined &&
    first !== undefined &&
    Math.abs(lowest.x - first.x) < 0.05 * first.x &&
    lowest.advanceDeg - first.advanceDeg > LEFT_DEG + 3 * ownDeg(lowest);
  return {
    readings: [...rising.map(seen("rising")), ...back],
    topDeg,
    stands,
    comesBack: back.some(({ isOnSlope }) => isOnSlope),
    leftDeg: isLeft ? lowest.advanceDeg : 0,
  };
}

/** Readings on the slope are clear of rest and stop by this. */
const CLEAR_DEG = 0.15;
const LEFT_DEG = 0.1;

/**
 * What the common error of all readings makes of no advance: where the lowest two agree on it they
 * stand at rest.
 */
export function commonRest([first, second]: readonly CurvePoint[]): (point: CurvePoint) => number {
  if (first === undefined || second === undefined) return () => 0;
  const multiple = first.advanceDeg / Math.max(sharedDeg(first), 1e-9);
  const rest = (point: CurvePoint) => multiple * sharedDeg(point);
  const isRest =
    Math.abs(multiple) < 4 && Math.abs(second.advanceDeg - rest(second)) < 2 * LEVEL_DEG;
  return isRest ? rest : () => 0;
}

/** Where the lowest two readings agree: whatever else had moved stood there. Null where they do not. */
export function levelRestDeg([first, second]: readonly CurvePoint[]): number | null {
  if (first === undefined || second === undefined) return null;
  const isLevel = Math.abs(second.advanceDeg - first.advanceDeg) < LEVEL_DEG;
  return isLevel ? first.advanceDeg : null;
}

/** Told from another reading beside it. */
const LEVEL_DEG = 0.06;
