// A reading stands on a curve: how steep it is there, and what an uncertain speed or vacuum adds to the angle.
import { combined, coverageOf, part } from "../angles/budget.ts";
import type { CurvePoint, UncertaintyPart } from "../documents.ts";

/** A reading of one branch. `x` in rpm or pascals. */
export interface SweepPoint extends CurvePoint {
  readonly xStandardUncertainty: number;
}

/** The same before the slope is known: `budget` is that of the angle alone. */
export interface RawPoint extends Omit<SweepPoint, "standardUncertaintyDeg" | "coverageFactor"> {
  /** Farthest x on the way to the reading and in it; null where it is not known. */
  readonly farthestX: number | null;
}

type Sloping = Pick<SweepPoint, "x" | "advanceDeg" | "xStandardUncertainty">;

/** Degrees per rpm or per pascal towards the neighbour on either side; null without one. */
export interface Slopes {
  readonly left: number | null;
  readonly right: number | null;
}

/** Neighbours closer than this many standard uncertainties of x tell nothing of the slope. */
const APART = 4;

/** Rising order of x; readings without a finite x or angle are left out. */
export function inOrder<T extends Pick<CurvePoint, "x" | "advanceDeg">>(
  points: readonly T[],
): readonly T[] {
  return points
    .filter(({ x, advanceDeg }) => Number.isFinite(x) && Number.isFinite(advanceDeg))
    .sort((a, b) => a.x - b.x);
}

/** Slopes at one of the points of a branch, which are in rising order of x. */
export function slopesAt(points: readonly Sloping[], index: number): Slopes {
  return { left: slopeTowards(points, index, -1), right: slopeTowards(points, index, 1) };
}

function slopeTowards(points: readonly Sloping[], index: number, step: number): number | null {
  const here = points[index];
  if (here === undefined) return null;
  for (let i = index + step; i >= 0 && i < points.length; i += step) {
    const other = points[i] as Sloping;
    const apart = Math.abs(other.x - here.x);
    if (apart > APART * Math.max(here.xStandardUncertainty, other.xStandardUncertainty)) {
      return (other.advanceDeg - here.advanceDeg) / (other.x - here.x);
    }
  }
  return null;
}

/**
 * Adds slope × u(x) (JCGM 100 § 5.1, from memory). Where the curve bends at a reading, half of the x
 * that may be meant lie on either side: the mean square of both slopes. A clock's tolerance is a
 * limit and so a rectangle; a sensor's is normal.
 */
export function withSlopeUncertainty(
  points: readonly RawPoint[],
  by: "speed" | "vacuum",
): readonly SweepPoint[] {
  const ordered = inOrder(points);
  return ordered.map((point, i) => {
    const { left, right } = slopesAt(ordered, i);
    const slopes = [left, right].filter((slope) => slope !== null);
    const square = slopes.reduce((sum, slope) => sum + slope ** 2, 0) / Math.max(1, slopes.length);
    const fromX = Math.sqrt(square) * point.xStandardUncertainty;
    const shape = by === "speed" ? "rectangular" : "normal";
    return stated(point, [...point.budget, part(by, fromX, { shape, shared: true })]);
  });
}

function stated(point: RawPoint, parts: readonly UncertaintyPart[]): SweepPoint {
  const budget = parts.filter(({ standardUncertainty }) => standardUncertainty > 0);
  return {
    ...point,
    budget,
    standardUncertaintyDeg: combined(budget),
    coverageFactor: coverageOf(budget),
  };
}

/** What a curve point carries outside the judge. */
export function curvePoint(point: CurvePoint): CurvePoint {
  const { x, targetX, advanceDeg, standardUncertaintyDeg, coverageFactor, budget } = point;
  return { x, targetX, advanceDeg, standardUncertaintyDeg, coverageFactor, budget };
}
