// What can be changed on the weights' springs and stop, and what load it leaves.
import type { MeasuredUnit } from "./measuredUnit.ts";

/** One state of the unit against the measured one. All ratios 1 and all shifts 0: as it is. */
export interface Change {
  /** Rate of the first spring over that of the one that is in. */
  readonly firstRate: number;
  /** By how much more load it carries at rest, in rpm². */
  readonly firstLoad: number;
  /** Rate and load of the second spring over those of the one that is in. */
  readonly secondRate: number;
  /** By how much later the second spring takes up, degrees. */
  readonly kneeDeg: number;
  readonly stopDeg: number;
}

export const AS_IT_IS: Change = {
  firstRate: 1,
  firstLoad: 0,
  secondRate: 1,
  kneeDeg: 0,
  stopDeg: 0,
};

/** Load in rpm² at an advance, speed rising; friction stays what it was. */
export function loadAfter(unit: MeasuredUnit, change: Change, advanceDeg: number): number {
  const atRest = unit.first(0);
  const first = atRest + change.firstLoad + change.firstRate * (unit.first(advanceDeg) - atRest);
  return first + change.secondRate * unit.second(Math.max(0, advanceDeg - change.kneeDeg));
}

const PLACES = 120;

/** Advance at a speed after the change. */
export function advanceAfter(
  unit: MeasuredUnit,
  change: Change,
  speedRpm: number,
  branch: "rising" | "falling",
): number {
  const stopDeg = unit.stopDeg + change.stopDeg;
  const carried = (deg: number) =>
    loadAfter(unit, change, deg) -
    (branch === "falling" ? unit.gap(Math.min(deg, unit.stopDeg)) : 0);
  let reached = 0;
  for (let i = 0; i <= PLACES; i++) {
    const deg = (i * stopDeg) / PLACES;
    const load = carried(deg);
    if (load <= speedRpm ** 2) reached = deg;
    else if (branch === "rising") {
      const before = carried(Math.max(0, deg - stopDeg / PLACES));
      if (i === 0 || load <= before) return reached;
      return reached + ((speedRpm ** 2 - before) / (load - before)) * (stopDeg / PLACES);
    }
  }
  return reached;
}
