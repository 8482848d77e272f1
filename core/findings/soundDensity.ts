// How well a sound unit of a specification agrees with readings.
import { Comparison, type Curve, pointsOf } from "./comparison.ts";
import type { Nominal } from "./nominal.ts";
import { soundUnits } from "./soundUnits.ts";
import { COUNTS_FOR, UNEXPLAINED_PRIOR } from "./weight.ts";

/**
 * How likely readings are for a sound unit of a specification, its printed rows known: the natural
 * logarithm of their density, to be compared between specifications. A unit that is none bounds how
 * unlikely they can be. Null without at least three readings.
 */
export function soundDensity(nominal: Nominal, curve: Curve, hasSecond: boolean): number | null {
  const points = pointsOf(curve);
  if (points.length < 3) return null;
  const units = soundUnits(nominal, hasSecond);
  const read = new Comparison(units, points, curve);
  const sound = read.explain([], units.starts).logEvidence;
  const otherwise = read.leaveUnexplained(units.starts).logEvidence + Math.log(UNEXPLAINED_PRIOR);
  const rowsAlone = new Comparison(units, [], curve).explain([], units.starts).logEvidence;
  const most = Math.max(sound, otherwise);
  const either = most + Math.log(Math.exp(sound - most) + Math.exp(otherwise - most));
  return COUNTS_FOR * (either - rowsAlone);
}
