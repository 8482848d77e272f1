// Random units with weights, perhaps a capsule, worn cams and bushes, and a specification as a manual might print it.
import type { Capsule, SOUND_CAPSULE } from "../../sim/capsule.ts";
import { type CentrifugalUnit, SOUND_UNIT } from "../../sim/mechanism.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import {
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  centrifugalStopRpm,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import type { Draw } from "../draw.ts";
import { capsuleEndPa, capsuleStartPa, installedCapsule } from "../truth.ts";
import { drawWeights } from "./weights.ts";

const RAD_PER_DEG = Math.PI / 180;

export interface DrawnUnit {
  readonly lobes: number;
  /** Content of the unit file. */
  readonly unitFile: unknown;
  /** The parts of the scenario file that are the unit's. */
  readonly scenario: Readonly<Record<string, unknown>>;
}

export function drawUnit(draw: Draw): DrawnUnit {
  const lobes = draw.oneOf([4, 4, 4, 4, 6, 6, 6, 8, 8, 8, 1, 2, 3, 5, 12]);
  const rotation = draw.oneOf(["cw", "ccw"]);
  const contacts = draw.chance(0.6);
  const kind = contacts ? "contacts" : draw.oneOf(["magnetic", "hall", "optical"]);
  const trigger = { kind, firingEdge: contacts ? "a" : draw.oneOf(["a", "b"]) };
  const shape = { lobes, rotation, trigger };
  const dwellDeg = (360 / lobes) * draw.uniform(0.45, 0.68);
  const capsule = draw.chance(0.6) ? drawCapsule(draw) : null;
  const leak = capsule !== null && draw.chance(0.4) ? drawLeak(draw) : null;
  const content = {
    unit: { ...shape, ...(contacts ? { dwellDeg } : {}) },
    mechanism: mechanismOf(drawWeights(draw)),
    capsules: capsule === null ? [] : [capsule],
    faults: leak === null ? [] : [leak],
    pulses: drawPulses(draw, lobes, contacts),
    temperatureC: draw.uniform(10, 45),
  };
  const scenario = parseScenario(content, "drawn unit");
  return {
    lobes,
    scenario: content,
    unitFile: {
      description: "drawn unit",
      invented: true,
      ...shape,
      ...(contacts ? { dwell: { degrees: `${dwellDeg.toFixed(1)} ± 4` } } : {}),
      ...(lobes > 1 ? { scatterMaxDeg: 1 } : {}),
      speed: speedSpecification(draw, scenario),
      ...(capsule === null ? {} : { capsules: [capsuleSpecification(draw, scenario)] }),
    },
  };
}

/** As scenario files have it: what faults change is not a length there. */
export function mechanismOf(unit: CentrifugalUnit): Omit<CentrifugalUnit, keyof typeof SOUND_UNIT> {
  const faultless = Object.entries(unit).filter(([name]) => !(name in SOUND_UNIT));
  return Object.fromEntries(faultless) as Omit<CentrifugalUnit, keyof typeof SOUND_UNIT>;
}

/** As scenario files have it, with a travel in degrees between the two. */
export function drawCapsule(
  draw: Draw,
  [leastDeg, mostDeg]: readonly [number, number] = [4, 15],
): Omit<Capsule, keyof typeof SOUND_CAPSULE> {
  const areaMm2 = draw.uniform(800, 2500);
  const startPa = draw.uniform(6000, 20_000);
  const endPa = startPa + draw.uniform(10_000, 28_000);
  const radiusMm = draw.uniform(15, 30);
  const travelMm = draw.uniform(leastDeg, mostDeg) * RAD_PER_DEG * radiusMm;
  const spanN = areaMm2 * 1e-6 * (endPa - startPa);
  return {
    areaMm2,
    loadN: areaMm2 * 1e-6 * startPa,
    rateNPerMm: spanN / travelMm,
    frictionN: spanN * draw.uniform(0.003, 0.04),
    travelMm,
    radiusMm,
    acts: draw.chance(0.85) ? "advance" : "retard",
  };
}

function drawLeak(draw: Draw): unknown {
  const form = draw.oneOf(["passage", "pinhole"]);
  return { fault: "capsule-leak", form, flowMlPerS: draw.logUniform(0.01, 0.5) };
}

/** Cams, bushes and contacts that are a little worn, in most units. */
function drawPulses(draw: Draw, lobes: number, contacts: boolean): unknown {
  if (draw.chance(0.3)) return {};
  const each = (standardDeviation: number) =>
    Array.from({ length: lobes }, () => draw.normal(standardDeviation));
  return {
    lobeErrorsDeg: each(draw.uniform(0.05, 0.4)),
    bushPlayDeg: draw.logUniform(0.003, 0.1),
    ...(contacts ? { dwellErrorsDeg: each(0.3) } : {}),
  };
}

/** Manuals print round figures, and no unit follows its manual to the tenth. */
function speedSpecification(draw: Draw, scenario: Scenario): unknown {
  const about = (centrifugalStartRpm(scenario, "rising") ?? 0) * (1 + draw.normal(0.05));
  const from = Math.max(60, 10 * Math.round((about - 75) / 10));
  const to = 10 * Math.round((about + 75) / 10);
  const endBy = 50 * Math.ceil((1.03 * (centrifugalStopRpm(scenario, "rising") ?? 0)) / 50);
  const rows = [0.3, 0.6].map((share) => {
    const at = 10 * Math.round((to + share * (endBy - to)) / 10);
    const degrees = centrifugalAdvanceDeg(scenario, at, "rising") + draw.normal(0.6);
    return { at, degrees: roundedDeg(degrees) };
  });
  const degrees = roundedDeg(centrifugalAdvanceDeg(scenario, 1e4, "rising"));
  return {
    ...specification,
    rpm: "distributor",
    rows: [{ start: `${from} to ${to}` }, ...rows, { endBy, degrees }],
  };
}

function capsuleSpecification(draw: Draw, scenario: Scenario): unknown {
  const capsule = installedCapsule(scenario) as Capsule;
  const kPa = (pascals: number) => Math.round(pascals / 500) / 2;
  const about = capsuleStartPa(capsule, "rising") + draw.normal(700);
  const to = kPa(about + 2500);
  const endBy = kPa(1.03 * capsuleEndPa(capsule) + 500);
  const advanceDeg = (pascals: number) => Math.abs(vacuumAdvanceDeg(scenario, pascals, "rising"));
  const rows = [0.3, 0.6].map((share) => {
    const at = kPa(1000 * (to + share * (endBy - to)));
    return { at, degrees: roundedDeg(advanceDeg(1000 * at) + draw.normal(0.5)) };
  });
  return {
    ...specification,
    name: "capsule",
    acts: capsule.acts,
    vacuum: "kPa",
    rows: [
      { start: `${kPa(Math.max(1000, about - 2500))} to ${to}` },
      ...rows,
      { endBy, degrees: roundedDeg(advanceDeg(1e6)) },
    ],
  };
}

const specification = {
  degrees: "distributor",
  judgedOn: "both",
  source: "drawn",
  toleranceDeg: 1,
} as const;

function roundedDeg(deg: number): number {
  return Math.max(0.5, Math.round(2 * deg) / 2);
}
