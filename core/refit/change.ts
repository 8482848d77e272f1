// A measured unit after a change of its springs or stop, and where its cam stands then.
import { Stand } from "./cam.ts";
import type { Load } from "./geometry.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";

/** What hangs on a pair of posts, as a load of the unit as it is thought to be. */
export type Hung = (unit: MeasuredUnit) => Load;

/** One state of the unit. */
export interface Change {
  readonly first: Hung;
  readonly second: Hung;
  /** Against the measured stop. */
  readonly stopDeg: number;
  /** Whether the second spring takes up elsewhere than it did. */
  readonly isKneeMoved: boolean;
}

export const AS_IT_IS: Change = {
  first: (unit) => unit.first,
  second: (unit) => unit.second,
  stopDeg: 0,
  isKneeMoved: false,
};

/** Load in rpm² at an advance, speed rising; friction and what else is no spring's stays what it was. */
export function loadAfter(unit: MeasuredUnit, change: Change): Load {
  const [first, second] = [change.first(unit), change.second(unit)];
  return (advanceDeg) => first(advanceDeg) + second(advanceDeg) + unit.rest(advanceDeg);
}

/** Where the cam stands after the change. */
export function standAfter(unit: MeasuredUnit, change: Change): Stand {
  const gap: MeasuredUnit["gap"] = (deg, load) => unit.gap(Math.min(deg, unit.stopDeg), load);
  return new Stand(unit.stopDeg + change.stopDeg, loadAfter(unit, change), gap);
}
