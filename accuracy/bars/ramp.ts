// Bar: no bias while the speed climbs, and an honest interval where a ramp begins and ends.
import type { Turn } from "../../core/turns.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { atMost, type Bar, beside, type Figure } from "../bar.ts";
import { Draw } from "../draw.ts";
import { lockedScenario, mean, type SparkError, sparkErrors } from "../lockedCam.ts";
import { readingsOf } from "../readings.ts";
import { type Drive, driveThrough } from "../standIn.ts";

const LIMIT_DEG = 0.05;
const RAMP_RPM_PER_S = 500;
const LOBES = 4;
const START_RPM = 200;
const UNIT = unitFromFile({ description: "locked cam", lobes: LOBES, rotation: "cw" }, "unit");
/** Turns of a reading that has the corner of a ramp in it. */
const CORNER_TURNS = 8;
const HOLD_MIN = 0.95;
/** Where the bias is taken: bins of speed, so that a bias at one end cannot hide in the mean of all. */
const BINS_RPM = [300, 450, 700, 1100, 1700, 2600, 4000] as const;

export interface RampBin {
  readonly fromRpm: number;
  readonly count: number;
  readonly biasDeg: number;
  readonly constantSpeedBiasDeg: number;
}

export interface RampResult {
  readonly bins: readonly RampBin[];
  /** Readings over a corner of the ramp, and those whose 95 % interval holds the truth. */
  readonly corners: number;
  readonly cornersHeld: number;
  readonly cornerWorstDeg: number;
}

async function job(index: number): Promise<RampResult> {
  const draw = new Draw("ramp", index);
  const couplingDeg = draw.uniform(1, 89);
  const rig = { pickupEdges: 1, couplingDeg, indexJitterUs: 1, eventJitterUs: 1 };
  const cornerRpm = draw.uniform(300, 1500);
  const ramp = { rampRpmPerS: RAMP_RPM_PER_S, waitS: 0 };
  const drive = await driveThrough(lockedScenario(draw.seed(), LOBES, rig), [
    { speedRpm: START_RPM, rampRpmPerS: 500, waitS: 5, seconds: 10 },
    { ...ramp, speedRpm: 4400, seconds: 4000 / RAMP_RPM_PER_S },
    { ...ramp, speedRpm: cornerRpm, seconds: (4400 - cornerRpm) / RAMP_RPM_PER_S + 3 },
    { ...ramp, speedRpm: cornerRpm + 800, seconds: 2 },
  ]);
  const { hello, turns } = drive;
  const errors = sparkErrors(turns[1] ?? [], hello, couplingDeg, LOBES);
  const bins = BINS_RPM.slice(0, -1).map((fromRpm, i) => {
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
  return { bins, ...cornersOf(drive) };
}

/** Readings over the turns at which a ramp begins, and over those at which it ends. */
function cornersOf(drive: Drive): Omit<RampResult, "bins"> {
  const [reference = [], up = [], down = [], upAgain = []] = drive.turns;
  const groups = [
    up.slice(0, CORNER_TURNS),
    cornerTurns(down),
    upAgain.slice(0, CORNER_TURNS),
    cornerTurns(upAgain),
  ];
  const readings = readingsOf(UNIT, drive, [reference, ...groups]).slice(1);
  if (readings.length !== groups.length) throw new Error("a corner could not be read");
  // The cam is locked: the true advance is 0.
  const held = readings.filter(
    ({ advanceDeg, standardUncertaintyDeg, coverageFactor }) =>
      Math.abs(advanceDeg) <= coverageFactor * standardUncertaintyDeg,
  );
  return {
    corners: readings.length,
    cornersHeld: held.length,
    cornerWorstDeg: Math.max(...readings.map(({ advanceDeg }) => Math.abs(advanceDeg))),
  };
}

/** Around the turn at which the speed ceases to change. */
function cornerTurns(turns: readonly Turn[]): readonly Turn[] {
  const last = turns.at(-1)?.duringTicks ?? 0;
  const there = turns.findIndex(({ duringTicks }) => Math.abs(duringTicks / last - 1) < 0.005);
  const from = Math.max(0, there - CORNER_TURNS / 2);
  return turns.slice(from, from + CORNER_TURNS);
}

/** Error of taking the speed as constant between two index pulses. */
function constantSpeedError({ turn, tick, lobe }: SparkError, couplingDeg: number): number {
  return (360 * tick) / turn.duringTicks - (couplingDeg + (360 / LOBES) * lobe);
}

function figures(results: readonly RampResult[]): readonly Figure[] {
  const pooled = BINS_RPM.slice(0, -1).map((fromRpm) => {
    const bins = results.flatMap(({ bins }) => bins.filter((bin) => bin.fromRpm === fromRpm));
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
    ...cornerFigures(results),
  ];
}

function cornerFigures(results: readonly RampResult[]): readonly Figure[] {
  const corners = results.reduce((sum, result) => sum + result.corners, 0);
  const held = results.reduce((sum, result) => sum + result.cornersHeld, 0) / corners;
  const worst = Math.max(...results.map(({ cornerWorstDeg }) => cornerWorstDeg));
  return [
    {
      what: "intervals over a corner of the ramp that hold the truth",
      measured: `${(100 * held).toFixed(1)} %`,
      limit: `≥ ${100 * HOLD_MIN} %`,
      count: corners,
      met: held >= HOLD_MIN,
    },
    beside("… largest error there", `${worst.toFixed(3)}°`, corners),
  ];
}

export const ramp: Bar<RampResult> = {
  name: "ramp",
  counts: { short: 40, long: 200 },
  job,
  figures,
};
