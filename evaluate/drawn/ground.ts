// A good unit on its bench with its right specification, before anything is made wrong with it.
import type { DrawnRig } from "../../accuracy/drawn/rig.ts";
import type { Plan } from "../../core/plan.ts";
import { defaultPlan } from "../../core/planFile/defaultPlan.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import type { Bench } from "./figures.ts";
import { roundingDeg, type Wording } from "./specification.ts";
import { type DrawnUnit, scenarioOf } from "./unit.ts";

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
  const bench = {
    plan: planOf(unitFile, scenario),
    rowsExpandedDeg: roundingDeg(wording),
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
