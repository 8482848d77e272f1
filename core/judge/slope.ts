// A reading stands on a curve: how steep it is there, and what an uncertain speed or vacuum adds to the angle.
import type { CurvePoint } from "../documents.ts";

/** A reading of one branch before the slope is known. `x` in rpm or pascals, angle uncertainty alone. */
export interface SweepPoint extends CurvePoint {
  readonly xStandardUncertainty: number;
}

/** Degrees per rpm or per pascal towards the neighbour on either side; null without one. */
export interface Slopes {
  readonly left: number | null;
  readonly right: number | null;
}

/** Neighbours closer than this many standard uncertainties of x tell nothing of the slope. */
const APART = 4;

/** Rising order of x; readings without a finite x or angle are left out. */
export function inOrder<T extends CurvePoint>(points: readonly T[]): readonly T[] {
  return points
    .filter(({ x, advanceDeg }) => Number.isFinite(x) && Number.isFinite(advanceDeg))
    .sort((a, b) => a.x - b.x);
}

/** Slopes at one of the points of a branch, which are in rising order of x. */
export function slopesAt(points: readonly SweepPoint[], index: number): Slopes {
  return { left: slopeTowards(points, index, -1), right: slopeTowards(points, index, 1) };
}

function slopeTowards(points: readonly SweepPoint[], index: number, step: number): number | null {
  const here = points[index];
  if (here === undefined) return null;
  for (let i = index + step; i >= 0 && i < points.length; i += step) {
    const other = points[i] as SweepPoint;
    const apart = Math.abs(other.x - here.x);
    if (apart > APART * Math.max(here.xStandardUncertainty, other.xStandardUncertainty)) {
      return (other.advanceDeg - here.advanceDeg) / (other.x - here.x);
    }
  }
  return null;
}

/**
 * Adds slope × u(x) in quadrature (JCGM 100 § 5.1, from memory). Where the curve bends at a reading,
 * half of the x that may be meant lie on either side: the mean square of both slopes.
 */
export function withSlopeUncertainty(points: readonly SweepPoint[]): readonly SweepPoint[] {
  const ordered = inOrder(points);
  return ordered.map((point, i) => {
    const { left, right } = slopesAt(ordered, i);
    const known = [left, right].filter((slope) => slope !== null);
    const square = known.reduce((sum, slope) => sum + slope ** 2, 0) / Math.max(1, known.length);
    const fromX = Math.sqrt(square) * point.xStandardUncertainty;
    return { ...point, standardUncertaintyDeg: Math.hypot(point.standardUncertaintyDeg, fromX) };
  });
}

/** What a curve point carries outside the judge. */
export function curvePoint({
  x,
  targetX,
  advanceDeg,
  standardUncertaintyDeg,
}: CurvePoint): CurvePoint {
  return { x, targetX, advanceDeg, standardUncertaintyDeg };
}
