// Random units as a careful rebuilder passes them on: good, and a little used.

import type { Draw } from "../../accuracy/draw.ts";
import { drawCapsule, mechanismOf } from "../../accuracy/drawn/unit.ts";
import { drawWeights, rangeRpm } from "../../accuracy/drawn/weights.ts";
import { type CentrifugalUnit, forcesAt } from "../../sim/mechanism.ts";

/** Distributor rpm; distributor degrees (common practice, no source). */
const START_RPM_MIN = 250;
const CAPSULE_DEG = [3, 15] as const;

/**
 * What a careful rebuilder passes (common practice, no source). Friction as a share of the springs'
 * torque at rest, or of the capsule spring's range; angles in distributor degrees.
 */
const USED = {
  weightsFrictionShare: [0.005, 0.03],
  capsuleFrictionShare: [0.003, 0.02],
  lobeErrorDeg: 0.3,
  bushPlayDeg: [0.003, 0.03],
  dwellErrorDeg: 0.5,
  leakMlPerS: [0.002, 0.02],
} as const;

/** Parts of a scenario file. */
export interface DrawnUnit {
  readonly lobeAnglesDeg: readonly number[];
  readonly rotation: "cw" | "ccw";
  readonly trigger: {
    readonly kind: "contacts" | "magnetic" | "hall" | "optical";
    readonly firingEdge: "a" | "b";
  };
  /** Contacts only. */
  readonly dwellDeg: number | null;
  readonly mechanism: ReturnType<typeof mechanismOf>;
  readonly capsule: ReturnType<typeof drawCapsule> | null;
  readonly pulses: { readonly lobeErrorsDeg: readonly number[]; readonly bushPlayDeg: number };
  /** A good one's, which is no finding. */
  readonly leak: object | null;
  readonly temperatureC: number;
}

/** One of these needs contacts, a capsule, a second spring or more than one lobe. */
export interface UnitNeeds {
  readonly contacts: boolean;
  readonly capsule: boolean;
  readonly secondSpring: boolean;
}

export function drawGoodUnit(draw: Draw, needs: UnitNeeds): DrawnUnit {
  const lobeAnglesDeg = drawLobes(draw);
  const lobes = lobeAnglesDeg.length;
  const contacts = needs.contacts || draw.chance(0.65);
  const kind = contacts ? "contacts" : draw.oneOf(["magnetic", "hall", "optical"] as const);
  const capsule = needs.capsule || draw.chance(0.6) ? drawUsedCapsule(draw) : null;
  const within = (limit: number) => draw.uniform(-limit, limit);
  const { lobeErrorDeg, dwellErrorDeg, bushPlayDeg, leakMlPerS } = USED;
  return {
    lobeAnglesDeg,
    rotation: draw.oneOf(["cw", "ccw"]),
    trigger: { kind, firingEdge: contacts ? "a" : draw.oneOf(["a", "b"]) },
    dwellDeg: contacts ? (360 / lobes) * draw.uniform(0.5, 0.66) : null,
    mechanism: drawUsedWeights(draw, needs.secondSpring),
    capsule,
    pulses: {
      lobeErrorsDeg: lobeAnglesDeg.map(() => within(lobeErrorDeg)),
      bushPlayDeg: draw.logUniform(...bushPlayDeg),
      ...(contacts ? { dwellErrorsDeg: lobeAnglesDeg.map(() => within(dwellErrorDeg)) } : {}),
    },
    leak:
      capsule === null || draw.chance(0.5)
        ? null
        : {
            fault: "capsule-leak",
            form: draw.oneOf(["passage", "pinhole"]),
            flowMlPerS: draw.logUniform(...leakMlPerS),
          },
    temperatureC: draw.uniform(15, 35),
  };
}

/** Content of a scenario file without a rig. */
export function scenarioOf(unit: DrawnUnit): Readonly<Record<string, unknown>> {
  const { lobeAnglesDeg, rotation, trigger, dwellDeg } = unit;
  return {
    invented: true,
    unit: { lobeAnglesDeg, rotation, trigger, ...(dwellDeg === null ? {} : { dwellDeg }) },
    mechanism: unit.mechanism,
    capsules: unit.capsule === null ? [] : [unit.capsule],
    faults: unit.leak === null ? [] : [unit.leak],
    pulses: unit.pulses,
    temperatureC: unit.temperatureC,
  };
}

/** Two to eight; a V6 of 90° in some of the sixes (45/75°, from memory). */
function drawLobes(draw: Draw): readonly number[] {
  const lobes = draw.oneOf([2, 3, 4, 4, 4, 4, 5, 6, 6, 6, 7, 8, 8, 8]);
  if (lobes === 6 && draw.chance(0.15)) return [0, 45, 120, 165, 240, 285];
  return Array.from({ length: lobes }, (_, i) => (i * 360) / lobes);
}

function drawUsedWeights(draw: Draw, secondSpring: boolean): DrawnUnit["mechanism"] {
  for (;;) {
    const unit = withUsedFriction(draw, drawWeights(draw));
    if (rangeRpm(unit).start < START_RPM_MIN) continue;
    if (!secondSpring || unit.springs.length > 1) return mechanismOf(unit);
  }
}

function withUsedFriction(draw: Draw, unit: CentrifugalUnit): CentrifugalUnit {
  const restNmm = 1000 * forcesAt(unit, 0).restoringNm;
  const torqueNmm = restNmm * draw.logUniform(...USED.weightsFrictionShare);
  return {
    ...unit,
    friction: { torqueNmm, addedAt1000RpmNmm: torqueNmm * draw.uniform(0.3, 1) },
  };
}

function drawUsedCapsule(draw: Draw): DrawnUnit["capsule"] {
  const capsule = drawCapsule(draw, CAPSULE_DEG);
  const rangeN = capsule.rateNPerMm * capsule.travelMm;
  return { ...capsule, frictionN: rangeN * draw.logUniform(...USED.capsuleFrictionShare) };
}
