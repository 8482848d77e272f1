// What a fit of the mechanism looks for, by the scenario's physics: start, knee, stop, friction, capsule.
import { installedMechanism } from "../sim/installedUnit.ts";
import { type CentrifugalUnit, placesAt } from "../sim/mechanism.ts";
import type { Scenario } from "../sim/scenario.ts";
import { centrifugalAdvanceDeg, centrifugalStartRpm } from "../sim/truth.ts";

/** Distributor rpm and degrees, these from where the reference reading stands; null where there is none. */
export interface WeightsTruth {
  readonly startRpm: number | null;
  readonly kneeDeg: number | null;
  readonly stopDeg: number;
  /** Null of a unit that sticks and slips: where it stands is no matter of friction alone. */
  readonly gapRpm: number | null;
}

/** Beyond every stop. */
const MOST_RPM = 10_000;
const HALVINGS = 40;

/** @param gapAtDeg where friction is asked for; `topRpm`: from where the speed comes down */
export function weightsTruth(
  scenario: Scenario,
  referenceRpm: number,
  gapAtDeg: number,
  topRpm: number,
): WeightsTruth {
  const unit = installedMechanism(scenario)?.centrifugal ?? null;
  if (unit === null) throw new Error("the unit has no weights");
  const hiddenDeg = centrifugalAdvanceDeg(scenario, referenceRpm, "rising");
  const speedOf = (branch: "rising" | "falling") =>
    leastWhere(
      (rpm) => centrifugalAdvanceDeg(scenario, rpm, branch, topRpm) >= gapAtDeg + hiddenDeg,
      topRpm,
    );
  const kneeDeg = kneeOf(unit);
  return {
    startRpm: centrifugalStartRpm(scenario, "rising"),
    kneeDeg: kneeDeg === null ? null : kneeDeg - hiddenDeg,
    stopDeg: centrifugalAdvanceDeg(scenario, MOST_RPM, "rising") - hiddenDeg,
    gapRpm: unit.stickRatio === 1 ? speedOf("rising") - speedOf("falling") : null,
  };
}

/** Where the second spring's slack is taken up; null where it never is or there is none. */
function kneeOf(unit: CentrifugalUnit): number | null {
  const [, spring] = unit.springs;
  if (spring === undefined) return null;
  const isTaut = (deg: number) => {
    const place = placesAt(unit, deg).springs[1];
    if (place === undefined) return false;
    const { base, moving } = place;
    const lengthMm = Math.hypot(base.x - moving.x, base.y - moving.y);
    return lengthMm > spring.lengthMm + spring.slackMm;
  };
  if (isTaut(0) || !isTaut(unit.stopDeg)) return null;
  return leastWhere(isTaut, unit.stopDeg);
}

/** The least value that is so, of what is so from there up to `most`. */
function leastWhere(isSo: (value: number) => boolean, most: number): number {
  let [low, high] = [0, most];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (isSo(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Pascals and distributor degrees. */
export interface CapsuleTruth {
  readonly startPa: number;
  readonly endDeg: number;
  readonly gapPa: number;
}

/** Null of a unit without, and of one whose plate sticks and slips. */
export function capsuleTruth(scenario: Scenario): CapsuleTruth | null {
  const capsule = installedMechanism(scenario)?.capsules[0];
  if (capsule === undefined || capsule.stickRatio !== 1) return null;
  const { areaMm2, loadN, frictionN, travelMm, radiusMm, acts } = capsule;
  const areaM2 = areaMm2 * 1e-6;
  const endDeg = ((travelMm / radiusMm) * 180) / Math.PI;
  return {
    startPa: (loadN + frictionN) / areaM2,
    endDeg: acts === "advance" ? endDeg : -endDeg,
    gapPa: (2 * frictionN) / areaM2,
  };
}
