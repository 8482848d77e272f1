// The angle pickup against a known angle: a reference disc, or a cam whose angle was measured. Pure.
import { meanAndSpread } from "../angles/statistics.ts";
import { BobweightError } from "../errors.ts";
import { combined } from "./weightedFit.ts";

export interface KnownAngle {
  readonly knownDeg: number;
  readonly standardUncertaintyDeg: number;
}

export interface PickupEstimate {
  readonly knownDeg: number;
  readonly measuredDeg: number;
  /** Of measured minus known: scatter of the readings, what they hide, and the known angle's own. */
  readonly standardUncertaintyDeg: number;
  readonly degreesOfFreedom: number | null;
}

const READINGS_MIN = 3;

/**
 * Mean of the readings of the same angle, each taken anew, with the scatter of their mean
 * (JCGM 100, 4.2.3). `hiddenStandardUncertaintyDeg` is what repeating does not show: tick and ripple.
 * Coupling and seat of the disc are in it as they are in any unit's angle. @throws CHECK_TOO_LITTLE
 */
export function estimatePickup(
  anglesDeg: readonly number[],
  { knownDeg, standardUncertaintyDeg }: KnownAngle,
  hiddenStandardUncertaintyDeg: number,
): PickupEstimate {
  if (anglesDeg.length < READINGS_MIN) {
    throw new BobweightError(
      "CHECK_TOO_LITTLE",
      `The angle was read ${anglesDeg.length} times; it needs ${READINGS_MIN} or more.`,
    );
  }
  const { mean, spread } = meanAndSpread(anglesDeg);
  const both = combined([
    {
      standardUncertainty: spread / Math.sqrt(anglesDeg.length),
      degreesOfFreedom: anglesDeg.length - 1,
    },
    { standardUncertainty: standardUncertaintyDeg, degreesOfFreedom: null },
    { standardUncertainty: hiddenStandardUncertaintyDeg, degreesOfFreedom: null },
  ]);
  return {
    knownDeg,
    measuredDeg: mean,
    standardUncertaintyDeg: both.standardUncertainty,
    degreesOfFreedom: both.degreesOfFreedom,
  };
}
