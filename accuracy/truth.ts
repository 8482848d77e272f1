// What the unit really does, from the equations of its geometry: equilibrium, no rig and no estimator.
import { type Capsule, restingTravelMm } from "../sim/capsule.ts";
import { balanceRpm, type CentrifugalUnit } from "../sim/mechanism.ts";

export type Branch = "rising" | "falling";

const HALVINGS = 50;
const DEG_PER_RAD = 180 / Math.PI;

/**
 * Advance in distributor degrees at which the weights stand after the speed rose from rest, or fell
 * after having risen to `highestRpm`. For units whose needed speed grows with advance.
 */
export function weightsAdvanceDeg(
  unit: CentrifugalUnit,
  rpm: number,
  branch: Branch,
  highestRpm = Number.POSITIVE_INFINITY,
): number {
  const topDeg = branch === "rising" ? unit.stopDeg : risenDeg(unit, highestRpm);
  return largestBelow(topDeg, (deg) => balanceRpm(unit, deg, branch) <= rpm);
}

function risenDeg(unit: CentrifugalUnit, rpm: number): number {
  return largestBelow(unit.stopDeg, (deg) => balanceRpm(unit, deg, "rising") <= rpm);
}

/** Where a condition that holds from 0 up to some place ends; 0 where it never holds. */
function largestBelow(top: number, holds: (deg: number) => boolean): number {
  if (holds(top)) return top;
  let low = 0;
  let high = top;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Distributor degrees, negative for retard, at a vacuum in pascals below ambient. */
export function capsuleAdvanceDeg(capsule: Capsule, vacuumPa: number, branch: Branch): number {
  const sign = capsule.acts === "advance" ? 1 : -1;
  return (sign * restingTravelMm(capsule, vacuumPa, branch) * DEG_PER_RAD) / capsule.radiusMm;
}

/** Vacuum in pascals at which the plate leaves its rest, or comes back to it. */
export function capsuleStartPa(capsule: Capsule, branch: Branch): number {
  const frictionN = branch === "rising" ? capsule.frictionN : -capsule.frictionN;
  return (capsule.loadN + frictionN) / (capsule.areaMm2 * 1e-6);
}

/** Vacuum in pascals at which the plate meets its end. */
export function capsuleEndPa(capsule: Capsule): number {
  const pullN = capsule.loadN + capsule.frictionN + capsule.rateNPerMm * capsule.travelMm;
  return pullN / (capsule.areaMm2 * 1e-6);
}
