// The plan that a unit's specification asks for, within what the rig can do.
import type { CapsulePlan, HoldPlan, Plan } from "../plan.ts";
import type { Capsule, Unit } from "../unit.ts";
import {
  beyondLastX,
  highestSpeedRpm,
  highestVacuumPa,
  lastX,
  onsetX,
  type RigReach,
} from "./reach.ts";
import { stations } from "./stations.ts";

const REFERENCE_RPM = 150;
const RAMP_RPM_PER_S = 300;
const SPEEDS = 14;
const VACUUMS = 11;
/** Turns of all readings together; with those on the way from one to the next, 5000 and more. */
const TURNS_WANTED = 4800;
const TURNS_PER_READING = 400;
/** Shorter ones average too little, longer ones tire the user. */
const SECONDS_PER_READING = { min: 4, max: 15 } as const;
/** No source gives one hold for all: settings, common practice. */
const HOLD = { vacuumPa: 50000, settleS: 5, seconds: 15, dropMaxPa: 2000 } as const;

/** How a workshop tests a hold of which the specification says nothing; null: as above. */
export interface HoldHabits {
  readonly holdSeconds: number | null;
  readonly holdDropMaxPa: number | null;
}

export const NO_HABITS: HoldHabits = { holdSeconds: null, holdDropMaxPa: null };

const SPEED_RESOLUTION_RPM = 0.1;
const VACUUM_RESOLUTION_PA = 1;

/**
 * Every printed row up and back down, more readings where advance begins, and one past the last row
 * so that the stop shows. Rows out of the rig's reach are left out; the result counts them.
 */
export function defaultPlan(unit: Unit, rig: RigReach, habits: HoldHabits = NO_HABITS): Plan {
  const onset = onsetX(unit.speedBand);
  const below = onset === null ? REFERENCE_RPM : Math.min(REFERENCE_RPM, 0.6 * onset);
  const vacuumSweepRpm = vacuumSweepSpeed(unit, rig);
  const plan = {
    referenceRpm: Math.max(rig.speedMinRpm, Math.floor(below)),
    speedsRpm: speeds(unit, rig, onset),
    capsules: unit.capsules.map((capsule) =>
      withZero(capsulePlan(capsule, rig, habits), unit, vacuumSweepRpm),
    ),
    vacuumSweepRpm,
    rampRpmPerS: RAMP_RPM_PER_S,
    turnsPerReading: TURNS_PER_READING,
  };
  return { ...plan, secondsPerReading: secondsPerReading(plan) };
}

/** As long at each reading as it takes for all of them to come to the turns wanted. */
function secondsPerReading(plan: Omit<Plan, "secondsPerReading">): number {
  // The hose is on one capsule in a run.
  const vacuums = plan.capsules[0]?.vacuumsPa.length ?? 0;
  const speedsSum = plan.speedsRpm.reduce((sum, rpm) => sum + rpm, 0);
  const turnsPerS = (2 * speedsSum + 2 * vacuums * plan.vacuumSweepRpm) / 60;
  const { min, max } = SECONDS_PER_READING;
  return Math.min(max, Math.max(min, Math.ceil((10 * TURNS_WANTED) / turnsPerS) / 10));
}

function speeds(unit: Unit, rig: RigReach, onset: number | null): readonly number[] {
  const cap = Math.min(highestSpeedRpm(unit), rig.speedMaxRpm);
  const past = beyondLastX(unit.speedBand) ?? cap;
  // Down to the tenth: a hair more would be beyond the limit.
  const high = Math.floor(Math.min(cap, past) * 10 + 1e-6) / 10;
  const wantedLow = onset === null ? 300 : 0.6 * onset;
  const low = Math.min(high, Math.max(rig.speedMinRpm, Math.ceil(wantedLow / 10) * 10));
  return stations({
    band: unit.speedBand,
    low,
    high,
    cap: high,
    onset,
    count: SPEEDS,
    resolution: SPEED_RESOLUTION_RPM,
    fillResolution: 10,
  });
}

/** Below the start of the weights, else beyond their stop, never on their slope. */
function vacuumSweepSpeed(unit: Unit, rig: RigReach): number {
  const onset = onsetX(unit.speedBand);
  const cap = Math.min(highestSpeedRpm(unit), rig.speedMaxRpm);
  if (onset === null) return Math.min(cap, Math.max(rig.speedMinRpm, REFERENCE_RPM));
  const below = Math.floor(Math.min(cap, 0.8 * onset));
  if (below >= rig.speedMinRpm) return below;
  const past = lastX(unit.speedBand) ?? onset;
  return Math.floor(Math.min(cap, 1.05 * past) * 10) / 10;
}

function capsulePlan(capsule: Capsule, rig: RigReach, habits: HoldHabits): CapsulePlan {
  const cap = Math.floor(highestVacuumPa(rig));
  if (cap === 0) return { hold: null, vacuumsPa: [] };
  const { band } = capsule;
  const past = beyondLastX(band) ?? HOLD.vacuumPa;
  const high = Math.min(cap, Math.round(past));
  const onset = onsetX(band);
  const low = Math.min(high, Math.round(onset === null || onset === 0 ? high / 10 : onset / 2));
  return {
    hold: holdPlan(capsule, past, cap, habits),
    vacuumsPa: stations({
      band,
      low,
      high,
      cap: high,
      onset,
      count: VACUUMS,
      resolution: VACUUM_RESOLUTION_PA,
      fillResolution: 100,
    }),
  };
}

function holdPlan({ hold }: Capsule, pastPa: number, capPa: number, habits: HoldHabits): HoldPlan {
  const vacuumPa = hold?.vacuumPa ?? Math.max(HOLD.vacuumPa, pastPa);
  return {
    vacuumPa: Math.min(capPa, Math.round(vacuumPa)),
    settleS: HOLD.settleS,
    seconds: hold?.seconds ?? habits.holdSeconds ?? HOLD.seconds,
    dropMaxPa: hold?.dropMaxPa ?? habits.holdDropMaxPa ?? HOLD.dropMaxPa,
  };
}

/**
 * Above the start of the weights, or where that is not known, they may have moved already when the vacuum sweep begins. A reading
 * without vacuum then tells how far, so that it can be taken off.
 */
export function withZero(plan: CapsulePlan, unit: Unit, vacuumSweepRpm: number): CapsulePlan {
  const onset = onsetX(unit.speedBand);
  const moved = onset === null || vacuumSweepRpm > onset;
  if (!moved || plan.vacuumsPa.length === 0 || plan.vacuumsPa[0] === 0) return plan;
  return { ...plan, vacuumsPa: [0, ...plan.vacuumsPa] };
}
