// Speed and vacuum for a sweep that chooses: how to look at the range, how to come back for a reading.

import { combined, ownOf } from "../../core/angles/budget.ts";
import type { Reading } from "../../core/documents.ts";
import type { Plan } from "../../core/plan.ts";
import { said } from "../../core/said.ts";
import type { PlacedReading } from "../../core/sweep/choice.ts";
import { scoutRate } from "../../core/sweep/scout.ts";
import type { Branch } from "../../core/unit.ts";
import type { ChosenAxis, ChosenReading, Traces } from "./choosing.ts";
import { goToSpeed, goToVacuum, vent } from "./moves.ts";
import type { Rig } from "./rig.ts";
import { rampUntilAdvance, rampWatching } from "./watchedRamps.ts";

/** So much beyond a reading the part has surely left it on the other branch. */
const BEYOND_DEG = 0.15;

/** A controlled vacuum wanders slowly: the mean of a short reading is no better, whatever its lines say. */
const VACUUM_WANDERS_PA = 15;

export function chosenSpeeds(
  rig: Rig,
  plan: Plan,
  read: (branch: Branch, speedRpm: number) => Promise<Reading | null>,
  beginWay: () => void,
): ChosenAxis {
  const highRpm = plan.speedsRpm.at(-1) ?? plan.referenceRpm;
  return {
    axis: "speed",
    traces: async () => {
      const traces = await scout(rig, plan.speedsRpm[0] ?? plan.referenceRpm, highRpm);
      await goToSpeed(rig, plan.referenceRpm);
      beginWay();
      return traces;
    },
    read: async (branch, x) => ({ reading: await read(branch, x), reached: true }),
    goBack: (branch, x, readings) => {
      const before = lastBefore(branch, x, readings);
      return branch === "rising"
        ? rampUntilAdvance(rig, plan.referenceRpm, (before ?? 0) - BEYOND_DEG, -1)
        : rampUntilAdvance(rig, highRpm, (before ?? Number.POSITIVE_INFINITY) + BEYOND_DEG, 1);
    },
    placed: (reading, targetX) => ({
      x: reading.speedRpm,
      targetX,
      ...degrees(reading),
      xStandardUncertainty: reading.speedStandardUncertaintyRpm,
    }),
    told: (x) => said("{.0} rpm", x),
  };
}

/** Up and down once, slowly where the advance moves fast. */
async function scout(rig: Rig, lowRpm: number, highRpm: number): Promise<Traces> {
  await goToSpeed(rig, lowRpm);
  const rising = await rampWatching(rig, highRpm, scoutRate);
  const falling = await rampWatching(rig, lowRpm, scoutRate);
  return { rising, falling };
}

export function chosenVacuums(
  rig: Rig,
  highPa: number,
  read: (branch: Branch, vacuumPa: number) => Promise<ChosenReading>,
): ChosenAxis {
  return {
    axis: "vacuum",
    // The line is at its target within few turns: they show too little.
    traces: async () => ({ rising: [], falling: [] }),
    read,
    goBack: async (branch) => {
      if (branch === "rising") await vent(rig);
      else await goToVacuum(rig, highPa);
    },
    placed: (reading, targetX) => {
      const { vacuumPa, vacuumStandardUncertaintyPa: uPa } = reading;
      // What the sensor is off by is alike at all readings: it moves the curve and hides no bend.
      const xStandardUncertainty = Math.sqrt(
        Math.max(VACUUM_WANDERS_PA ** 2, uPa ** 2 - rig.knowledge.vacuumStandardUncertaintyPa ** 2),
      );
      return { x: vacuumPa ?? targetX, targetX, ...degrees(reading), xStandardUncertainty };
    },
    told: (x) => said("{.1} kPa", x / 1000),
  };
}

function degrees({ advanceDeg, standardUncertaintyDeg, budget }: Reading) {
  return { advanceDeg, standardUncertaintyDeg, repeatabilityDeg: combined(ownOf(budget)) };
}

/** Advance of the reading that the branch meets last before x. */
function lastBefore(branch: Branch, x: number, readings: readonly PlacedReading[]): number | null {
  const sign = branch === "rising" ? 1 : -1;
  const before = readings
    .filter(({ targetX }) => sign * (targetX - x) < 0)
    .sort((a, b) => sign * (b.targetX - a.targetX));
  return before[0]?.advanceDeg ?? null;
}
