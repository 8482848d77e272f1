// Bar: no bias of the angle at a steady speed, with one index and a clock of 1 µs.
import { atMost, type Bar } from "../bar.ts";
import { Draw } from "../draw.ts";
import { lockedScenario, mean, sparkErrors } from "../lockedCam.ts";
import { driveThrough } from "../standIn.ts";

const LIMIT_DEG = 0.02;
const TURNS = 300;
const LOBES = 4;

export interface SteadyResult {
  readonly speedRpm: number;
  readonly turns: number;
  readonly biasDeg: number;
}

/** Index jitter of 1 µs makes the period vary by more than a tick. */
async function job(index: number): Promise<SteadyResult> {
  const draw = new Draw("steady", index);
  const speedRpm = Math.round(10 * draw.logUniform(50, 4000)) / 10;
  const couplingDeg = draw.uniform(1, 89);
  const rig = { pickupEdges: 1, couplingDeg, indexJitterUs: 1, eventJitterUs: 1 };
  const { hello, turns } = await driveThrough(lockedScenario(draw.seed(), LOBES, rig), [
    { speedRpm, rampRpmPerS: 1000, waitS: speedRpm / 1000 + 4, seconds: (60 * TURNS) / speedRpm },
  ]);
  const errors = sparkErrors(turns[0] ?? [], hello, couplingDeg, LOBES);
  return {
    speedRpm,
    turns: turns[0]?.length ?? 0,
    biasDeg: mean(errors.map(({ errorDeg }) => errorDeg)),
  };
}

export const steady: Bar<SteadyResult> = {
  name: "steady",
  counts: { short: 60, long: 400 },
  job,
  figures: (results) => [
    atMost(
      "largest bias of the angle at 50–4,000 rpm, one index, 1 µs",
      Math.max(...results.map(({ biasDeg }) => Math.abs(biasDeg))),
      LIMIT_DEG,
      results.length,
      "°",
    ),
  ],
};
