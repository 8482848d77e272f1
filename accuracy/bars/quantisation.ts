// Bar: on a quiet rig one spark's angle spreads hardly more than its clock's ticks make it.
import { atMost, type Bar, beside } from "../bar.ts";
import { Draw } from "../draw.ts";
import { deviation, lockedScenario, type SparkError, sparkErrors } from "../lockedCam.ts";
import { driveThrough } from "../standIn.ts";

const LIMIT = 1.15;
const TURNS = 400;
const LOBES = 4;
/**
 * √(1 + 2/3): the spark's own tick, and linear interpolation between two index ticks, whose share
 * (1 − p)² + p² comes to 2/3 over the turn.
 */
const ONE_INDEX = Math.sqrt(1 + 2 / 3);

export interface QuantisationResult {
  /** Spread of one spark's angle as a multiple of the limit, root mean square of the lobes. */
  readonly ratio: number;
  /** The same of straight lines between the same ticks, which the limit is made for. */
  readonly straightRatio: number;
}

/** ω·q/√12 in degrees. */
export function tickSpreadDeg(speedRpm: number, tickHz: number): number {
  return (6 * speedRpm) / tickHz / Math.sqrt(12);
}

async function job(index: number): Promise<QuantisationResult> {
  const draw = new Draw("quantisation", index);
  const speedRpm = Math.round(10 * draw.logUniform(300, 4000)) / 10;
  const tickHz = draw.oneOf([250_000, 500_000, 1_000_000, 2_000_000]);
  const couplingDeg = draw.uniform(1, 89);
  const rig = { pickupEdges: 1, couplingDeg, tickHz };
  const { hello, turns } = await driveThrough(lockedScenario(draw.seed(), LOBES, rig), [
    { speedRpm, rampRpmPerS: 1000, waitS: speedRpm / 1000 + 8, seconds: (60 * TURNS) / speedRpm },
  ]);
  const errors = sparkErrors(turns[0] ?? [], hello, couplingDeg, LOBES);
  const limitDeg = ONE_INDEX * tickSpreadDeg(speedRpm, tickHz);
  return {
    ratio: spreadDeg(errors, ({ errorDeg }) => errorDeg) / limitDeg,
    straightRatio:
      spreadDeg(errors, ({ tick, turn }) => (360 * tick) / turn.duringTicks) / limitDeg,
  };
}

/** Of one spark, root mean square of the lobes. */
function spreadDeg(sparks: readonly SparkError[], angleDeg: (spark: SparkError) => number): number {
  const squares = Array.from({ length: LOBES }, (_, lobe) => {
    const own = sparks.filter((spark) => spark.lobe === lobe);
    return deviation(own.map(angleDeg)) ** 2;
  });
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / LOBES);
}

export const quantisation: Bar<QuantisationResult> = {
  name: "quantisation",
  counts: { short: 60, long: 400 },
  job,
  figures: (results) => {
    const ratios = results.map(({ ratio }) => ratio);
    const square = ratios.reduce((sum, ratio) => sum + ratio ** 2, 0) / ratios.length;
    const worst = ratios.indexOf(Math.max(...ratios));
    const { ratio, straightRatio } = results[worst] as QuantisationResult;
    return [
      atMost(
        "spread of one spark on a quiet rig, as a multiple of 1.29·ω·q/√12",
        Math.sqrt(square),
        LIMIT,
        ratios.length,
        " ×",
        3,
      ),
      // Where the ticks of a turn come near a simple fraction, roundings repeat from turn to turn, and
      // whatever is laid through them spreads more, or less, than by chance.
      beside(
        "… the largest at any one speed, and of straight lines there",
        `${ratio.toFixed(3)} and ${straightRatio.toFixed(3)} ×`,
        ratios.length,
      ),
    ];
  },
};
