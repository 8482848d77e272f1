// How readings and predictions of one curve err together, as covariances.
import { combined, ownOf, sharedOf } from "../angles/budget.ts";
import type { CurvePoint } from "../documents.ts";
import type { Place } from "./shape.ts";

export type Point = CurvePoint & Place;

/** What no budget has, of each reading by itself. */
const SHAPE_DEG = 0.03;

/** How well a fault's change of the curve is known, as a share of it. An assumption, no source. */
const CHANGE_SHARE = 0.07;
const CHANGE_REACH_DEG = 2.5;
/** Of that what one reading has for itself: springs change a curve smoothly. An assumption, no source. */
const CHANGE_OWN_SHARE = 0.02;

/** And of each reading by itself where the cam moves by fits and starts. An assumption, no source. */
const JERK_SHARE = 0.3;

/** What the likeliest size makes of the curve. */
export interface KnownChange {
  readonly predicted: Float64Array;
  readonly changes: Float64Array;
  readonly isJerky: boolean;
}

export function changeCovariance({ predicted, changes, isJerky }: KnownChange): number[][] {
  return Array.from(changes, (one, i) =>
    Array.from(changes, (other, j) => {
      const apart = (predicted[i] as number) - (predicted[j] as number);
      const alike = Math.exp(-((apart / CHANGE_REACH_DEG) ** 2) / 2);
      const apartOnly = i === j && isJerky ? (JERK_SHARE * one) ** 2 : 0;
      return (
        CHANGE_SHARE ** 2 * one * other * (i === j ? 1 : (1 - CHANGE_OWN_SHARE) * alike) + apartOnly
      );
    }),
  );
}

/** Of the readings: each by itself, and what stands in several alike. */
export function errorsOf(
  points: readonly Pick<CurvePoint, "budget">[],
  commonDeg: number,
): number[][] {
  const shared = points.map(({ budget }) => sharedOf(budget));
  return points.map(({ budget }, i) =>
    points.map((_, j) => {
      const together = (shared[i] ?? []).reduce((total, one) => {
        const other = shared[j]?.find(({ name }) => name === one.name);
        return total + one.standardUncertainty * (other?.standardUncertainty ?? 0);
      }, 0);
      return (
        commonDeg ** 2 + together + (i === j ? combined(ownOf(budget)) ** 2 + SHAPE_DEG ** 2 : 0)
      );
    }),
  );
}

/** What the form is off, of the speed or vacuum that an advance needs, as a share of it. */
const FORM_SHARE = 0.006;
/** Below this advance there is no room to differ. */
const FULL_FROM_DEG = 2;

/** Degrees for each unit of x, by the readings next to it on its branch. */
function slopeAt(points: readonly Point[], { x, branch }: Point): number {
  const own = points.filter((one) => one.branch === branch).sort((a, b) => a.x - b.x);
  const at = own.findIndex((one) => one.x === x);
  const [low, high] = [own[Math.max(0, at - 1)], own[Math.min(own.length - 1, at + 1)]];
  if (low === undefined || high === undefined || high.x <= low.x) return 0;
  return Math.max(0, high.advanceDeg - low.advanceDeg) / (high.x - low.x);
}

/** How far along the curve its form differs alike, as a share of the whole. */
const REACH_SHARE = 0.2;

/**
 * Smooth along the curve, alike on both branches: how far a cam stays behind on its way back is
 * nothing that a form could be off by.
 */
export function formCovariance(points: readonly Point[], formDeg: number): number[][] {
  const reachDeg = REACH_SHARE * Math.max(2, ...points.map(({ advanceDeg }) => advanceDeg));
  const rising = points.filter(({ branch }) => branch === "rising").sort((a, b) => a.x - b.x);
  const outDeg = ({ x, advanceDeg }: Point) => Math.min(advanceDeg, risenTo(rising, x));
  const doubts = points.map((point) => ({
    advanceDeg: point.advanceDeg,
    doubtDeg: Math.hypot(
      formDeg * Math.min(1, Math.max(0, outDeg(point)) / FULL_FROM_DEG),
      FORM_SHARE * point.x * slopeAt(points, point),
    ),
  }));
  return doubts.map((one) =>
    doubts.map((other) => {
      const apart = one.advanceDeg - other.advanceDeg;
      return one.doubtDeg * other.doubtDeg * Math.exp(-((apart / reachDeg) ** 2) / 2);
    }),
  );
}

/** Between two readings of the rising branch on the line through them; beyond them as the nearest. */
function risenTo(rising: readonly Point[], x: number): number {
  const next = rising.findIndex((one) => one.x >= x);
  const [low, high] = [rising[Math.max(0, next - 1)], rising[next] ?? rising.at(-1)];
  if (low === undefined || high === undefined) return Number.POSITIVE_INFINITY;
  if (high.x <= low.x || next === -1) return high.advanceDeg;
  const share = Math.max(0, (x - low.x) / (high.x - low.x));
  return low.advanceDeg + share * (high.advanceDeg - low.advanceDeg);
}

export function sum(one: readonly (readonly number[])[], other: readonly (readonly number[])[]) {
  return one.map((row, i) => row.map((value, j) => value + (other[i]?.[j] ?? 0)));
}
