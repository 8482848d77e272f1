// Random units with weights, perhaps a capsule, and a specification as a manual might print it for them.
import type { Capsule } from "../../sim/capsule.ts";
import type { CentrifugalUnit } from "../../sim/mechanism.ts";
import type { Draw } from "../draw.ts";
import { capsuleAdvanceDeg, capsuleEndPa, capsuleStartPa, weightsAdvanceDeg } from "../truth.ts";
import { drawWeights, rangeRpm } from "./weights.ts";

const RAD_PER_DEG = Math.PI / 180;

export interface DrawnUnit {
  readonly lobes: number;
  readonly contacts: boolean;
  readonly dwellDeg: number;
  readonly weights: CentrifugalUnit;
  readonly capsule: Capsule | null;
  /** Content of the unit file. */
  readonly unitFile: Record<string, unknown>;
  /** The parts of the scenario file that are the unit's. */
  readonly scenario: Record<string, unknown>;
}

export function drawUnit(draw: Draw): DrawnUnit {
  const lobes = draw.oneOf([4, 4, 4, 4, 6, 6, 6, 8, 8, 8, 1, 2, 3, 5, 12]);
  const rotation = draw.oneOf(["cw", "ccw"]);
  const contacts = draw.chance(0.6);
  const kind = contacts ? "contacts" : draw.oneOf(["magnetic", "hall", "optical"]);
  const firingEdge = contacts ? "a" : draw.oneOf(["a", "b"]);
  const dwellDeg = (360 / lobes) * draw.uniform(0.45, 0.68);
  const weights = drawWeights(draw);
  const capsule = draw.chance(0.6) ? drawCapsule(draw) : null;
  const trigger = { kind, firingEdge };
  const shape = { lobes, rotation, trigger };
  return {
    lobes,
    contacts,
    dwellDeg,
    weights,
    capsule,
    unitFile: {
      description: "drawn unit",
      invented: true,
      ...shape,
      ...(contacts ? { dwell: { degrees: `${dwellDeg.toFixed(1)} ± 4` } } : {}),
      ...(lobes > 1 ? { scatterMaxDeg: 1 } : {}),
      speed: speedSpecification(draw, weights),
      ...(capsule === null ? {} : { capsules: [capsuleSpecification(draw, capsule)] }),
    },
    scenario: {
      unit: { ...shape, ...(contacts ? { dwellDeg } : {}) },
      mechanism: withoutFault(weights),
      capsules: capsule === null ? [] : [withoutFault(capsule)],
      faults: capsule?.leak ? [{ fault: "smallLeak", ...capsule.leak }] : [],
    },
  };
}

/** As scenario files have it: seizing and leaks are faults there, not lengths. */
function withoutFault(part: CentrifugalUnit | Capsule): Record<string, unknown> {
  const {
    seizedDeg: _,
    seizedMm: __,
    leak: ___,
    ...sound
  } = part as unknown as Record<string, unknown>;
  return sound;
}

function drawCapsule(draw: Draw): Capsule {
  const areaMm2 = draw.uniform(800, 2500);
  const startPa = draw.uniform(6000, 20_000);
  const endPa = startPa + draw.uniform(10_000, 28_000);
  const radiusMm = draw.uniform(15, 30);
  const travelMm = draw.uniform(4, 15) * RAD_PER_DEG * radiusMm;
  const spanN = areaMm2 * 1e-6 * (endPa - startPa);
  return {
    areaMm2,
    loadN: areaMm2 * 1e-6 * startPa,
    rateNPerMm: spanN / travelMm,
    frictionN: spanN * draw.uniform(0.003, 0.04),
    travelMm,
    radiusMm,
    acts: draw.chance(0.85) ? "advance" : "retard",
    seizedMm: null,
    leak: draw.chance(0.4)
      ? { form: draw.oneOf(["passage", "pinhole"]), flowMlPerS: draw.logUniform(0.01, 0.5) }
      : null,
  };
}

/** Manuals print round figures, and no unit follows its manual to the tenth. */
function speedSpecification(draw: Draw, weights: CentrifugalUnit): unknown {
  const { start, end } = rangeRpm(weights);
  const about = start * (1 + draw.normal(0.05));
  const from = Math.max(60, 10 * Math.round((about - 75) / 10));
  const to = 10 * Math.round((about + 75) / 10);
  const endBy = 50 * Math.ceil((1.03 * end) / 50);
  const rows = [0.3, 0.6].flatMap((share) => {
    const at = 10 * Math.round((to + share * (endBy - to)) / 10);
    const degrees = weightsAdvanceDeg(weights, at, "rising") + draw.normal(0.6);
    return [{ at, degrees: Math.max(0.5, Math.round(2 * degrees) / 2) }];
  });
  return {
    degrees: "distributor",
    rpm: "distributor",
    judgedOn: "both",
    source: "drawn",
    toleranceDeg: 1,
    rows: [
      { start: `${from} to ${to}` },
      ...rows,
      { endBy, degrees: Math.round(2 * weights.stopDeg) / 2 },
    ],
  };
}

function capsuleSpecification(draw: Draw, capsule: Capsule): unknown {
  const kPa = (pascals: number) => Math.round(pascals / 500) / 2;
  const about = capsuleStartPa(capsule, "rising") + draw.normal(700);
  const to = kPa(about + 2500);
  const endBy = kPa(1.03 * capsuleEndPa(capsule) + 500);
  const rows = [0.3, 0.6].map((share) => {
    const at = kPa(1000 * (to + share * (endBy - to)));
    const degrees = Math.abs(capsuleAdvanceDeg(capsule, 1000 * at, "rising")) + draw.normal(0.5);
    return { at, degrees: Math.max(0.5, Math.round(2 * degrees) / 2) };
  });
  const most = Math.abs(capsuleAdvanceDeg(capsule, 1e6, "rising"));
  return {
    name: "capsule",
    acts: capsule.acts,
    vacuum: "kPa",
    degrees: "distributor",
    judgedOn: "both",
    source: "drawn",
    toleranceDeg: 1,
    rows: [
      { start: `${kPa(Math.max(1000, about - 2500))} to ${to}` },
      ...rows,
      { endBy, degrees: Math.round(2 * most) / 2 },
    ],
  };
}
