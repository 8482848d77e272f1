// Plans: the default one for a unit, and what a plan file changes in it.

import * as z from "zod";
import type { CapsulePlan, HoldPlan, Plan } from "./plan.ts";
import { type ChosenSweep, chosenSpeeds, chosenVacuums } from "./planFile/chosen.ts";
import { defaultPlan, type HoldHabits, NO_HABITS, withZero } from "./planFile/defaultPlan.ts";
import type { RigReach } from "./planFile/reach.ts";
import {
  type ChooseVacuumsFile,
  type HoldFile,
  type PlanFile,
  planFileSchema,
  type VacuumsFile,
} from "./planFile/schema.ts";
import { READING_MAX_S } from "./planFile/walk.ts";
import { said } from "./said.ts";
import type { Band, Unit } from "./unit.ts";
import { Place, parseShape } from "./unitFile/place.ts";
import { pascalsFrom } from "./units.ts";

export { defaultPlan } from "./planFile/defaultPlan.ts";
export type { RigReach } from "./planFile/reach.ts";
export { likelyPlaces, timeline, walkLimits } from "./planFile/walk.ts";

const STEPS_MAX = 100;
/** For a hold that the default plan lacks, since the rig has no sensor; `walkLimits` refuses it there. */
const NO_HOLD: HoldPlan = { vacuumPa: 50000, settleS: 5, seconds: 15, dropMaxPa: 2000 };

/**
 * The default plan with the changes of a plan file (parsed JSON; null for none). Call `walkLimits`
 * before anything moves: a plan file may ask for more than unit or rig allow.
 *
 * @throws FILE_INVALID naming the field
 */
export function planFor(
  unit: Unit,
  rig: RigReach,
  changes: unknown,
  name = "the plan",
  habits: HoldHabits = NO_HABITS,
): Plan {
  const plan = defaultPlan(unit, rig, habits);
  if (changes === null) return plan;
  const file = parseShape(planFileSchema, changes, name);
  const place = new Place(name);
  if ((file.capsules?.length ?? 0) > unit.capsules.length) {
    place.in("capsules").fail(said("the unit has {} capsules", unit.capsules.length));
  }
  const vacuumSweepRpm = file.vacuumSweepRpm ?? plan.vacuumSweepRpm;
  const chosen = speedsToChoose(file, plan, unit, place);
  return {
    referenceRpm: file.referenceRpm ?? plan.referenceRpm,
    speedsRpm: chosen?.places ?? speeds(file, place) ?? plan.speedsRpm,
    ...(chosen === null ? {} : { speedChoice: chosen.choice }),
    capsules: plan.capsules.map((one, i) => {
      const band = unit.capsules[i]?.band ?? null;
      const changed = changedCapsule(one, capsuleFile(file, i, place), band);
      return withZero(changed, unit, vacuumSweepRpm);
    }),
    vacuumSweepRpm,
    rampRpmPerS: file.rampRpmPerS ?? plan.rampRpmPerS,
    turnsPerReading: file.turnsPerReading ?? plan.turnsPerReading,
    secondsPerReading:
      file.secondsPerReading ??
      (file.turnsPerReading === undefined ? plan.secondsPerReading : READING_MAX_S),
    ...(file.repeatsWithinDeg === undefined ? {} : { repeatsWithinDeg: file.repeatsWithinDeg }),
  };
}

/** JSON Schema (2020-12) of a plan file, for editors. */
export function planFileJsonSchema(): object {
  return z.toJSONSchema(planFileSchema, { io: "input" });
}

function speeds(file: PlanFile, place: Place): readonly number[] | null {
  const { speedsRpm, speedSteps } = file;
  if (speedsRpm !== undefined) {
    if (speedSteps !== undefined) {
      place.in("speedSteps").fail(said("give either `speedsRpm` or `speedSteps`, not both"));
    }
    return rising(speedsRpm, 10);
  }
  if (speedSteps === undefined) return null;
  const { fromRpm, toRpm, stepRpm } = speedSteps;
  const here = place.in("speedSteps");
  if (fromRpm > toRpm)
    here.in("fromRpm").fail(said("{} is above `toRpm`, {}. Swap them", fromRpm, toRpm));
  const count = Math.ceil((toRpm - fromRpm) / stepRpm - 1e-9);
  if (count > STEPS_MAX)
    here.in("stepRpm").fail(said("{} steps are more than {}", count, STEPS_MAX));
  const steps = Array.from({ length: count }, (_, i) => fromRpm + i * stepRpm);
  return rising([...steps, toRpm], 10);
}

/** In order, each once, rounded to what the rig can be told. */
function rising(values: readonly number[], perUnit: number): readonly number[] {
  const rounded = values.map((value) => Math.round(value * perUnit) / perUnit);
  return [...new Set(rounded)].sort((a, b) => a - b);
}

function speedsToChoose(file: PlanFile, plan: Plan, unit: Unit, place: Place): ChosenSweep | null {
  if (file.chooseSpeeds === undefined) return null;
  const here = place.in("chooseSpeeds");
  if (file.speedsRpm !== undefined || file.speedSteps !== undefined) {
    here.fail(said("give either this or `speedsRpm` or `speedSteps`"));
  }
  return chosenSpeeds(file.chooseSpeeds, plan.speedsRpm, unit.speedBand, here);
}

/** What a plan file says of one capsule, with the place of its own entry or of the whole file. */
interface CapsuleFile {
  readonly vacuums: VacuumsFile | undefined;
  readonly chooseVacuums: ChooseVacuumsFile | undefined;
  readonly hold: HoldFile | undefined;
  readonly place: Place;
}

/** An entry of its own overrules what is said for every capsule. */
function capsuleFile(file: PlanFile, index: number, whole: Place): CapsuleFile {
  const own = file.capsules?.[index];
  const swept = own?.vacuums !== undefined || own?.chooseVacuums !== undefined;
  const { vacuums, chooseVacuums } = swept ? own : file;
  const place = swept ? whole.in("capsules").in(index) : whole;
  if (vacuums !== undefined && chooseVacuums !== undefined) {
    place.in("chooseVacuums").fail(said("give either this or `vacuums`"));
  }
  return { vacuums, chooseVacuums, hold: own?.hold ?? file.hold, place };
}

function changedCapsule(plan: CapsulePlan, file: CapsuleFile, band: Band | null): CapsulePlan {
  const { vacuums, chooseVacuums, place } = file;
  const hold = changedHold(plan.hold, file.hold);
  if (chooseVacuums !== undefined) {
    const here = place.in("chooseVacuums");
    const { places, choice } = chosenVacuums(chooseVacuums, plan.vacuumsPa, band, here);
    return { hold, vacuumsPa: places, vacuumChoice: choice };
  }
  if (vacuums === undefined) return { hold, vacuumsPa: plan.vacuumsPa };
  const values = vacuums.values.map((value) => pascalsFrom(value, vacuums.unit));
  return { hold, vacuumsPa: rising(values, 1) };
}

function changedHold(plan: HoldPlan | null, file: HoldFile | undefined): HoldPlan | null {
  if (file === undefined) return plan;
  if (file === false) return null;
  const base = plan ?? NO_HOLD;
  const pascals = (value: number | undefined) =>
    value === undefined || file.unit === undefined
      ? null
      : Math.round(pascalsFrom(value, file.unit));
  return {
    vacuumPa: pascals(file.vacuum) ?? base.vacuumPa,
    settleS: file.settleS ?? base.settleS,
    seconds: file.seconds ?? base.seconds,
    dropMaxPa: pascals(file.dropMax) ?? base.dropMaxPa,
  };
}
