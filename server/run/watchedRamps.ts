// Ramps that end or change by what the turns show on the way.

import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { meanSpeedRpm } from "../../core/angles/window.ts";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { TraceTurn } from "../../core/sweep/trace.ts";
import { SPEED_LIMIT_MS, speedToleranceRpm } from "./moves.ts";
import { RATE_CHANGE, rampTowards } from "./ramps.ts";
import type { Rig } from "./rig.ts";

/**
 * Ramps to a speed at rates by what the turns show, and tells the turns. @throws
 * RIG_SPEED_NOT_REACHED, and what a command or the run's interruption throws
 */
export async function rampWatching(
  rig: Rig,
  targetRpm: number,
  rateFor: (trace: readonly TraceTurn[], nowRpm: number, rampRpmPerS: number) => number,
): Promise<TraceTurn[]> {
  const trace: TraceTurn[] = [];
  let nowRpm = rig.watch.state?.nowRpm ?? targetRpm;
  for (;;) {
    const rpmPerS = Math.round(10 * rateFor(trace, nowRpm, rig.rampRpmPerS)) / 10;
    const end = await rampUntil(rig, targetRpm, rpmPerS, ({ turn, advanceDeg }) => {
      nowRpm = meanSpeedRpm([turn], rig.tickHz);
      if (advanceDeg !== null) trace.push({ x: nowRpm, advanceDeg, xPerS: rpmPerS });
      const wanted = rateFor(trace, nowRpm, rig.rampRpmPerS);
      return wanted > RATE_CHANGE * rpmPerS || RATE_CHANGE * wanted < rpmPerS;
    });
    if (end === "there") return trace;
    if (end === "late") {
      throw new BobweightError(
        "RIG_SPEED_NOT_REACHED",
        said("The spindle should come to {} rpm and turns at {.0} rpm.", targetRpm, nowRpm),
      );
    }
  }
}

/**
 * Ramps towards a speed until the advance of two turns in a row lies beyond `advanceDeg` in the
 * direction of `sign`, or the speed is reached.
 */
export async function rampUntilAdvance(
  rig: Rig,
  targetRpm: number,
  advanceDeg: number,
  sign: 1 | -1,
): Promise<void> {
  let beyond = 0;
  await rampUntil(rig, targetRpm, rig.rampRpmPerS, (turn) => {
    const there = turn.advanceDeg !== null && sign * (turn.advanceDeg - advanceDeg) > 0;
    beyond = there ? beyond + 1 : 0;
    return beyond >= TURNS_BEYOND;
  });
}

const TURNS_BEYOND = 2;

/** `there`: the speed came within its tolerance; `enough`: by a turn; `late`: neither in time. */
async function rampUntil(
  rig: Rig,
  targetRpm: number,
  rpmPerS: number,
  isEnough: (turn: TrackedTurn) => boolean,
): Promise<"there" | "enough" | "late"> {
  const { watch, tickHz } = rig;
  let seen = 0;
  const toleranceRpm = speedToleranceRpm(targetRpm);
  const end = await rampTowards(
    rig,
    targetRpm,
    rpmPerS,
    () => {
      for (const turn of watch.turns.slice(seen)) {
        seen++;
        const speedRpm = meanSpeedRpm([turn.turn], tickHz);
        if (Math.abs(speedRpm - targetRpm) <= toleranceRpm) return "there" as const;
        if (isEnough(turn)) return "enough" as const;
      }
      return undefined;
    },
    SPEED_LIMIT_MS,
  );
  return end ?? "late";
}
