// What a unit carries after a change of its springs or stop, and where its cam stands then.
import type { Load } from "./geometry.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";

/** One state of the unit. */
export interface Change {
  readonly first: Load;
  readonly second: Load;
  /** Against the measured stop. */
  readonly stopDeg: number;
  /** Whether the second spring takes up elsewhere than it did. */
  readonly isKneeMoved: boolean;
}

export function asItIs({ first, second }: MeasuredUnit): Change {
  return { first, second, stopDeg: 0, isKneeMoved: false };
}

/** Load in rpm² at an advance, speed rising; friction and what else is no spring's stays what it was. */
export function loadAfter(unit: MeasuredUnit, { first, second }: Change, advanceDeg: number) {
  return first(advanceDeg) + second(advanceDeg) + unit.rest(advanceDeg);
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
