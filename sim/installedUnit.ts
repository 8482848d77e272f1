// The unit's mechanism as it stands on the rig: faults worked in, at its temperature, with all its contacts.
import { type Capsule, SOUND_CAPSULE } from "./capsule.ts";
import { type Mechanism, withFaults } from "./faultyMechanism.ts";
import { type CentrifugalUnit, SOUND_UNIT } from "./mechanism.ts";
import { isMechanismFault } from "./mechanismFaults.ts";
import type { Scenario } from "./scenario.ts";

const REFERENCE_C = 20;
/** Music wire's shear modulus, and with it rate and load at a stretch, falls by about this (from memory). */
const SPRING_LOSS_PER_K = 0.0003;
/** Dry friction in a film of oil falls a little with warmth; an assumption without a source. */
const FRICTION_LOSS_PER_K = 0.005;
/** Mineral oil's viscosity about halves in every 15 K near room temperature (from memory). */
const DAMPING_HALVES_K = 15;

/** Null where the scenario gives tables instead of geometry. */
export function installedMechanism(scenario: Scenario): Mechanism | null {
  const { mechanism, capsules, faults, temperatureC, pulses } = scenario;
  if (!("weights" in mechanism)) return null;
  // Each set has a rubbing block of its own.
  const blocks = pulses.secondSet === undefined ? 1 : 2;
  const sound = {
    centrifugal: {
      ...mechanism,
      ...SOUND_UNIT,
      rubbingBlockNmm: blocks * mechanism.rubbingBlockNmm,
    },
    capsules: capsules.map((capsule) => ({ ...capsule, ...SOUND_CAPSULE })),
  };
  const faulty = withFaults(sound, faults.filter(isMechanismFault));
  const warmerK = temperatureC - REFERENCE_C;
  return {
    centrifugal: warmUnit(faulty.centrifugal, warmerK),
    capsules: faulty.capsules.map((capsule) => warmCapsule(capsule, warmerK)),
  };
}

function springShare(warmerK: number): number {
  return 1 - SPRING_LOSS_PER_K * warmerK;
}

function warmUnit(unit: CentrifugalUnit, warmerK: number): CentrifugalUnit {
  const springs = springShare(warmerK);
  const friction = 1 - FRICTION_LOSS_PER_K * warmerK;
  return {
    ...unit,
    springs: unit.springs.map((spring) => ({
      ...spring,
      rateNPerMm: springs * spring.rateNPerMm,
      tensionN: springs * spring.tensionN,
    })),
    friction: {
      torqueNmm: friction * unit.friction.torqueNmm,
      addedAt1000RpmNmm: friction * unit.friction.addedAt1000RpmNmm,
    },
    dampingNmmS: unit.dampingNmmS * 2 ** (-warmerK / DAMPING_HALVES_K),
  };
}

function warmCapsule(capsule: Capsule, warmerK: number): Capsule {
  const springs = springShare(warmerK);
  return {
    ...capsule,
    loadN: springs * capsule.loadN,
    rateNPerMm: springs * capsule.rateNPerMm,
  };
}
