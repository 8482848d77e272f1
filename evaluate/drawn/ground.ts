// A good unit on its bench with its right specification, before anything is made wrong with it.
import { type DrawnRig, EDGES_TO_RESOLVE, LOW_DEG } from "../../accuracy/drawn/rig.ts";
import type { Plan } from "../../core/plan.ts";
import { defaultPlan } from "../../core/planFile/defaultPlan.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import type { Bench } from "./figures.ts";
import { roundingDeg, type Wording } from "./specification.ts";
import { type DrawnUnit, scenarioOf } from "./unit.ts";

/** Fewer turns a reading than by default, so that thousands of runs take minutes: findings are no better for it. */
export const SHORT_PLAN = { turnsPerReading: 40 } as const;

/** Content of a file. */
export type File = Readonly<Record<string, unknown>>;

export interface Ground {
  readonly unit: DrawnUnit;
  readonly wording: Wording;
  readonly unitFile: File;
  /** Of the scenario file. */
  readonly content: File;
  readonly scenario: Scenario;
  readonly bench: Bench;
}

export function groundOf(
  unit: DrawnUnit,
  wording: Wording,
  unitFile: File,
  rig: DrawnRig,
  seed: number,
): Ground {
  const content = { ...scenarioOf(unit), seed, rig: rig.settings };
  const scenario = parseScenario(content, "good unit");
  const plan = planOf(unitFile, scenario);
  // Ripple that a pickup of few edges cannot see shifts the reference, and all advance with it.
  const unseenDeg = 2 * LOW_DEG * (1000 / plan.referenceRpm) ** 2;
  const bench = {
    plan,
    turnsPerReading: SHORT_PLAN.turnsPerReading,
    rowsExpandedDeg: roundingDeg(wording),
    referenceExpandedDeg: rig.pickupEdges < EDGES_TO_RESOLVE ? unseenDeg : 0,
    sensorStandardUncertaintyPa: rig.stated.vacuumSensorStandardUncertaintyPa ?? 0,
  };
  return { unit, wording, unitFile, content, scenario, bench };
}

function planOf(unitFile: File, { rig }: Scenario): Plan {
  const { speedMinRpm, speedMaxRpm, vacuumMaxPa, ambientPa } = rig;
  return defaultPlan(unitFromFile(unitFile, "drawn unit"), {
    speedMinRpm,
    speedMaxRpm,
    vacuumMaxPa,
    ambientPa,
  });
}
