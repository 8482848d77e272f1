// Bar: no bias while the speed climbs, and an honest interval where a ramp begins and ends.
import { atMost, type Bar, beside, type Figure } from "../bar.ts";
import { Draw } from "../draw.ts";
import { lockedScenario, mean, type SparkError, sparkErrors } from "../lockedCam.ts";
import { driveThrough } from "../standIn.ts";

const LIMIT_DEG = 0.05;
const RAMP_RPM_PER_S = 500;
const LOBES = 4;
const START_RPM = 200;
/** Where the bias is taken: bins of speed, so that a bias at one end cannot hide in the mean of all. */
const BINS_RPM = [300, 450, 700, 1100, 1700, 2600, 4000] as const;

export interface RampBin {
  readonly fromRpm: number;
  readonly count: number;
  readonly biasDeg: number;
  readonly constantSpeedBiasDeg: number;
}

async function job(index: number): Promise<readonly RampBin[]> {
  const draw = new Draw("ramp", index);
  const couplingDeg = draw.uniform(1, 89);
  const rig = { pickupEdges: 1, couplingDeg, indexJitterUs: 1, eventJitterUs: 1 };
  const { hello, turns } = await driveThrough(lockedScenario(draw.seed(), LOBES, rig), [
    { speedRpm: START_RPM, rampRpmPerS: 500, waitS: 5, seconds: 1 },
    { speedRpm: 4400, rampRpmPerS: RAMP_RPM_PER_S, waitS: 0, seconds: 4000 / RAMP_RPM_PER_S },
  ]);
  const errors = sparkErrors(turns[1] ?? [], hello, couplingDeg, LOBES);
  return BINS_RPM.slice(0, -1).map((fromRpm, i) => {
    const toRpm = BINS_RPM[i + 1] as number;
    const within = errors.filter(({ turn }) => {
      const rpm = (60 * hello.tickHz) / turn.duringTicks;
      return rpm >= fromRpm && rpm < toRpm;
    });
    return {
      fromRpm,
      count: within.length,
      biasDeg: mean(within.map(({ errorDeg }) => errorDeg)),
      constantSpeedBiasDeg: mean(within.map((error) => constantSpeedError(error, couplingDeg))),
    };
  });
}

/** Error of taking the speed as constant between two index pulses. */
function constantSpeedError({ turn, tick, lobe }: SparkError, couplingDeg: number): number {
  return (360 * tick) / turn.duringTicks - (couplingDeg + (360 / LOBES) * lobe);
}

function figures(results: readonly (readonly RampBin[])[]): readonly Figure[] {
  const pooled = BINS_RPM.slice(0, -1).map((fromRpm) => {
    const bins = results.flatMap((bins) => bins.filter((bin) => bin.fromRpm === fromRpm));
    const count = bins.reduce((sum, bin) => sum + bin.count, 0);
    const over = (value: (bin: RampBin) => number) =>
      bins.reduce((sum, bin) => sum + (bin.count / count) * value(bin), 0);
    return {
      count,
      biasDeg: Math.abs(over((bin) => bin.biasDeg)),
      constantDeg: Math.abs(over((bin) => bin.constantSpeedBiasDeg)),
    };
  });
  const count = pooled.reduce((sum, bin) => sum + bin.count, 0);
  const constantDeg = Math.max(...pooled.map((bin) => bin.constantDeg));
  return [
    atMost(
      "largest bias in six speed ranges of a 500 rpm/s ramp, one index",
      Math.max(...pooled.map(({ biasDeg }) => biasDeg)),
      LIMIT_DEG,
      count,
      "°",
    ),
    beside("… with constant speed between two indexes", `${constantDeg.toFixed(4)}°`, count),
  ];
}

export const ramp: Bar<readonly RampBin[]> = {
  name: "ramp",
  counts: { short: 40, long: 200 },
  job,
  figures,
};
