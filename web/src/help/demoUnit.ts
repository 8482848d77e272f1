// The invented unit that the Help place draws, sound and with faults: the same one as in the examples.
import { type Capsule, SOUND_CAPSULE } from "../../../sim/capsule.ts";
import { type Mechanism, type MechanismFault, withFaults } from "../../../sim/faultyMechanism.ts";
import { type CentrifugalUnit, SOUND_UNIT } from "../../../sim/mechanism.ts";

const CENTRIFUGAL: CentrifugalUnit = {
  weights: {
    count: 2,
    massG: 15,
    pivotMm: 22,
    centreMm: 12,
    gyrationMm: 6,
    restAngleDeg: 94,
    link: { form: "pin", pinMm: 11, restAngleDeg: 6 },
  },
  springs: [
    {
      rateNPerMm: 1.05,
      lengthMm: 20.2,
      tensionN: 0,
      slackMm: 0,
      basePost: { radiusMm: 27, angleDeg: 60 },
      movingPost: { radiusMm: 16, angleDeg: 110 },
    },
    {
      rateNPerMm: 19,
      lengthMm: 11.9,
      tensionN: 0,
      slackMm: 1.44,
      basePost: { radiusMm: 27, angleDeg: 240 },
      movingPost: { radiusMm: 16, angleDeg: 254 },
    },
  ],
  stopDeg: 14,
  friction: { torqueNmm: 0.5, addedAt1000RpmNmm: 0.5 },
  rubbingBlockNmm: 1,
  camInertiaGCm2: 50,
  dampingNmmS: 8,
  ...SOUND_UNIT,
};

const CAPSULE: Capsule = {
  areaMm2: 1500,
  loadN: 18,
  rateNPerMm: 7.8,
  frictionN: 0.2,
  travelMm: 4.22,
  radiusMm: 22,
  acts: "advance",
  ...SOUND_CAPSULE,
};

export const DEMO: Mechanism = { centrifugal: CENTRIFUGAL, capsules: [CAPSULE] };

/** The unit's printed rows: distributor rpm and degrees, each ± 1°. */
export const DEMO_ROWS: readonly (readonly [rpm: number, deg: number])[] = [
  [500, 3],
  [800, 7],
  [1200, 9.5],
  [1800, 12.5],
  [2400, 14],
];
export const DEMO_TOLERANCE_DEG = 1;

/** Large enough to be seen at a glance. */
export const WEIGHTS_FAULTS = {
  "weights-stuck": { fault: "weights-stuck", advanceDeg: 0 },
  "weights-dry": { fault: "weights-dry", frictionFactor: 9, stickRatio: 1.5 },
  "weights-not-returning": { fault: "weights-not-returning", heldDeg: 3 },
  "spring-stretched": { fault: "spring-stretched", spring: "first", lengthenedMm: 0.45 },
  "spring-light": { fault: "spring-light", spring: "first", rateRatio: 0.5 },
  "spring-heavy": { fault: "spring-heavy", spring: "first", rateRatio: 1.8 },
  "first-spring-missing": { fault: "first-spring-missing" },
  "second-spring-missing": { fault: "second-spring-missing" },
  "stop-worn": { fault: "stop-worn", beyondDeg: 3 },
  "second-spring-loop-worn": { fault: "second-spring-loop-worn", wornMm: 0.5 },
} as const satisfies Record<string, MechanismFault>;
export type WeightsFault = keyof typeof WEIGHTS_FAULTS;

export const CAPSULE_FAULTS = {
  "diaphragm-torn": { fault: "diaphragm-torn", capsule: 0, form: "passage", flowMlPerS: 1500 },
  "capsule-leak": { fault: "capsule-leak", capsule: 0, form: "pinhole", flowMlPerS: 3 },
  "plate-not-following": { fault: "plate-stuck", capsule: 0, travelMm: 0 },
  "plate-sticking": { fault: "plate-sticking", capsule: 0, frictionN: 12, stickRatio: 1.5 },
  "capsule-spring-wrong": {
    fault: "capsule-spring-wrong",
    capsule: 0,
    loadRatio: 0.5,
    rateRatio: 1,
  },
} as const satisfies Record<string, MechanismFault>;
export type CapsuleFault = keyof typeof CAPSULE_FAULTS;

export function demoWeights(fault: WeightsFault | null): CentrifugalUnit {
  return fault === null ? CENTRIFUGAL : withFaults(DEMO, [WEIGHTS_FAULTS[fault]]).centrifugal;
}

export function demoCapsule(fault: CapsuleFault | null): Capsule {
  if (fault === null) return CAPSULE;
  return withFaults(DEMO, [CAPSULE_FAULTS[fault]]).capsules[0] ?? CAPSULE;
}
