// What of a capsule's truth sim/truth.ts does not tell: the vacuums at which it leaves its rest and meets its end.
import type { Capsule } from "../sim/capsule.ts";
import { installedMechanism } from "../sim/installedUnit.ts";
import type { Scenario } from "../sim/scenario.ts";
import type { Branch } from "../sim/truth.ts";

/** As it stands on the rig, faults and warmth worked in; null without one. */
export function installedCapsule(scenario: Scenario): Capsule | null {
  return installedMechanism(scenario)?.capsules[0] ?? null;
}

/** Vacuum in pascals at which the plate leaves its rest, or comes back to it. */
export function capsuleStartPa(capsule: Capsule, branch: Branch): number {
  const { frictionN, stickRatio } = capsule;
  const heldN = branch === "rising" ? stickRatio * frictionN : -frictionN;
  return (capsule.loadN + heldN) / (capsule.areaMm2 * 1e-6);
}

/** Vacuum in pascals at which the plate meets its end, vacuum rising. */
export function capsuleEndPa(capsule: Capsule): number {
  const pullN = capsule.loadN + capsule.frictionN + capsule.rateNPerMm * capsule.travelMm;
  return pullN / (capsule.areaMm2 * 1e-6);
}
