// Walks a plan before anything moves: is every step within what unit and rig allow, and how long does it take?

import { BobweightError } from "../errors.ts";
import { type HoldPlan, type Plan, STEADY_WINDOW, type SweepChoice, turnsAt } from "../plan.ts";
import { type Said, said } from "../said.ts";
import { scoutSeconds } from "../sweep/scout.ts";
import type { Unit } from "../unit.ts";
import { highestSpeedRpm, highestVacuumPa, type RigReach } from "./reach.ts";

const REFERENCE_MAX_RPM = 200;
const RAMP_MIN_RPM_PER_S = 10;
const RAMP_MAX_RPM_PER_S = 1000;
const READINGS_MAX = 200;
const TURNS_MIN = 2;
const TURNS_MAX = 2000;
const HOLD_MAX_S = 600;
const KNOWN_MIN_DEG = 0.02;
const KNOWN_MAX_DEG = 5;
const CHOICE_MAX_S = 7200;
/** Also what a plan gets that states turns alone: no reading takes longer. */
export const READING_MAX_S = 600;
/** Speeds go to the rig in tenths of an rpm (protocol clause 1.7), so a limit may be met by rounding. */
const SPEED_SLACK_RPM = 0.05;
const VACUUM_SLACK_PA = 0.5;

/** @throws PLAN_BEYOND_LIMITS naming the first step that goes too far */
export function walkLimits(plan: Plan, unit: Unit, rig: RigReach): void {
  const speedStep = (step: Said, rpm: number) => checkSpeed(step, rpm, unit, rig);
  speedStep(said("reference"), plan.referenceRpm);
  if (plan.referenceRpm > REFERENCE_MAX_RPM) {
    beyond(said("reference"), said("{} rpm is above {} rpm", plan.referenceRpm, REFERENCE_MAX_RPM));
  }
  checkWithin(
    said("ramp"),
    plan.rampRpmPerS,
    RAMP_MIN_RPM_PER_S,
    RAMP_MAX_RPM_PER_S,
    said("rpm per second"),
  );
  checkWithin(said("reading"), plan.turnsPerReading, TURNS_MIN, TURNS_MAX, said("turns"));
  checkWithin(said("reading"), plan.secondsPerReading, 0.1, READING_MAX_S, said("seconds"));
  if (plan.capsules.length !== unit.capsules.length) {
    beyond(
      said("capsules"),
      said("{} in the plan, {} in the unit", plan.capsules.length, unit.capsules.length),
    );
  }
  for (const [i, { hold, vacuumsPa, vacuumChoice }] of plan.capsules.entries()) {
    const name = unit.capsules[i]?.name ?? said("capsule {}", i + 1);
    if (hold !== null) {
      speedStep(said("speed of vacuum sweeps"), plan.vacuumSweepRpm);
      checkHold(said("hold test of the {}", name), hold, rig);
    }
    if (vacuumsPa.length > 0) speedStep(said("speed of vacuum sweeps"), plan.vacuumSweepRpm);
    for (const vacuumPa of vacuumsPa)
      checkVacuum(said("vacuum sweep of the {}", name), vacuumPa, rig);
    checkRising(said("vacuum sweep of the {}", name), vacuumsPa);
    checkChoice(said("vacuum sweep of the {}", name), vacuumChoice, vacuumsPa);
  }
  for (const rpm of plan.speedsRpm) speedStep(said("speed sweep"), rpm);
  checkRising(said("speed sweep"), plan.speedsRpm);
  checkChoice(said("speed sweep"), plan.speedChoice, plan.speedsRpm);
  const readings = readingsOf(plan);
  if (readings > READINGS_MAX)
    beyond(said("plan"), said("{} readings are more than {}", readings, READINGS_MAX));
}

/** Readings of a whole run at most, reference and return included. */
function readingsOf(plan: Plan): number {
  const most = (places: readonly number[], choice: SweepChoice | undefined) =>
    choice?.readingsMax ?? 2 * places.length;
  return plan.capsules.reduce(
    (sum, one) => sum + most(one.vacuumsPa, one.vacuumChoice),
    2 + most(plan.speedsRpm, plan.speedChoice),
  );
}

/** What is chosen lies between the first and the last place, so that these two bound it. */
function checkChoice(step: Said, choice: SweepChoice | undefined, places: readonly number[]): void {
  if (choice === undefined) return;
  if (places.length < 2) beyond(step, said("there is no range to choose from"));
  checkWithin(step, choice.knownWithinDeg, KNOWN_MIN_DEG, KNOWN_MAX_DEG, said("degrees"));
  checkWithin(step, choice.readingsMax, 2 * places.length, READINGS_MAX, said("readings"));
  checkWithin(step, choice.secondsMax, 1, CHOICE_MAX_S, said("seconds"));
}

function checkSpeed(step: Said, rpm: number, unit: Unit, rig: RigReach): void {
  if (!Number.isFinite(rpm) || rpm <= 0) beyond(step, said("{} rpm is no speed", rpm));
  if (rpm < rig.speedMinRpm - SPEED_SLACK_RPM) {
    beyond(step, said("{} rpm is below the rig's lowest, {} rpm", rpm, rig.speedMinRpm));
  }
  if (rpm > rig.speedMaxRpm + SPEED_SLACK_RPM) {
    beyond(step, said("{} rpm is above the rig's highest, {} rpm", rpm, rig.speedMaxRpm));
  }
  const highest = highestSpeedRpm(unit);
  if (rpm > highest + SPEED_SLACK_RPM) {
    const shown = Math.round(highest * 10) / 10;
    const why =
      unit.speedMaxRpm !== null ? said("its speedMaxRpm") : said("no speedMaxRpm allows more");
    beyond(
      step,
      said("{} rpm is above the unit's highest, {} distributor rpm ({})", rpm, shown, why),
    );
  }
}

function checkVacuum(step: Said, vacuumPa: number, rig: RigReach): void {
  const text = said("{} kPa", vacuumPa / 1000);
  if (!Number.isFinite(vacuumPa) || vacuumPa < 0) beyond(step, said("{} is no vacuum", text));
  if (rig.vacuumMaxPa === 0) beyond(step, said("the rig has no vacuum sensor"));
  if (vacuumPa > rig.vacuumMaxPa + VACUUM_SLACK_PA) {
    beyond(step, said("{} is above the sensor's range, {} kPa", text, rig.vacuumMaxPa / 1000));
  }
  const highest = highestVacuumPa(rig);
  if (vacuumPa > highest + VACUUM_SLACK_PA) {
    beyond(step, said("{} is more than a pump reaches here, {} kPa", text, highest / 1000));
  }
}

function checkHold(step: Said, hold: HoldPlan, rig: RigReach): void {
  checkVacuum(step, hold.vacuumPa, rig);
  checkWithin(step, hold.seconds, 1, HOLD_MAX_S, said("seconds"));
  checkWithin(step, hold.settleS, 0, HOLD_MAX_S, said("seconds of settling"));
  if (!(hold.dropMaxPa > 0 && hold.dropMaxPa < hold.vacuumPa)) {
    beyond(
      step,
      said("a drop of {} kPa is not between 0 and the vacuum itself", hold.dropMaxPa / 1000),
    );
  }
}

function checkWithin(step: Said, value: number, min: number, max: number, unit: Said): void {
  if (!(value >= min && value <= max)) {
    beyond(step, said("{} {} is not within {} to {}", value, unit, min, max));
  }
}

function checkRising(step: Said, values: readonly number[]): void {
  for (const [i, value] of values.entries()) {
    const previous = values[i - 1];
    if (previous !== undefined && value <= previous) beyond(step, said("the steps do not rise"));
  }
}

function beyond(step: Said, what: Said): never {
  throw new BobweightError("PLAN_BEYOND_LIMITS", said("{}: {}.", step, what));
}

const VACUUM_STEP_S = 1.5;
/** Readings that a sweep mostly chooses on each branch; only for telling how long it will take. */
const CHOSEN_READINGS = { speed: 14, vacuum: 9 } as const;

/** Places that a sweep has or, where it chooses them, is likely to have: as many, evenly spread. */
export function likelyPlaces(
  axis: "speed" | "vacuum",
  places: readonly number[],
  choice: SweepChoice | undefined,
): readonly number[] {
  const [low, high] = [places[0], places.at(-1)];
  if (choice === undefined || low === undefined || high === undefined) return places;
  const most = Math.floor(choice.readingsMax / 2);
  const count = Math.min(most, Math.max(places.length, CHOSEN_READINGS[axis]));
  return Array.from({ length: count }, (_, i) => low + ((high - low) * i) / (count - 1));
}

/**
 * Seconds of rig time after which each reading or hold test should be done, in their order; the last
 * one ends the run. An estimate for people, good to some tenths for listed places.
 */
export function timeline(plan: Plan): number[] {
  const windowS = (rpm: number) => Math.max((STEADY_WINDOW.turns * 60) / rpm, STEADY_WINDOW.leastS);
  const done: number[] = [];
  let atRpm = 0;
  let seconds = 0;
  const go = (rpm: number) => {
    seconds += Math.abs(rpm - atRpm) / plan.rampRpmPerS + windowS(rpm);
    atRpm = rpm;
  };
  const read = (rpm: number, windows: number) => {
    seconds += windows * windowS(rpm) + (turnsAt(plan, rpm) * 60) / rpm;
    done.push(seconds);
  };
  const { referenceRpm, vacuumSweepRpm } = plan;
  go(referenceRpm);
  read(referenceRpm, 1);
  for (const { hold, vacuumsPa, vacuumChoice } of plan.capsules) {
    if (hold === null && vacuumsPa.length === 0) continue;
    go(vacuumSweepRpm);
    if (hold !== null) {
      seconds += VACUUM_STEP_S + hold.settleS + hold.seconds;
      done.push(seconds);
    }
    const vacuums = likelyPlaces("vacuum", vacuumsPa, vacuumChoice).length;
    for (let i = 0; i < 2 * vacuums; i++) {
      seconds += VACUUM_STEP_S;
      read(vacuumSweepRpm, 2);
    }
  }
  const speedsRpm = likelyPlaces("speed", plan.speedsRpm, plan.speedChoice);
  // The first speed is approached from below, and a sweep that chooses looks at the whole range first.
  if (speedsRpm.length > 0) go(referenceRpm);
  if (plan.speedChoice !== undefined) {
    seconds += scoutSeconds(referenceRpm, plan.speedsRpm.at(-1) ?? referenceRpm, plan.rampRpmPerS);
  }
  for (const rpm of [...speedsRpm, ...[...speedsRpm].reverse(), referenceRpm]) {
    go(rpm);
    read(rpm, 1);
  }
  return done;
}
