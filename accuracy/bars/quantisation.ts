// Bar: on a quiet rig one spark's angle spreads hardly more than its clock's ticks make it.
import { atMost, type Bar, beside } from "../bar.ts";
import { Draw } from "../draw.ts";
import { deviation, lockedScenario, sparkErrors } from "../lockedCam.ts";
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
  const squares = Array.from({ length: LOBES }, (_, lobe) => {
    const own = errors.filter((error) => error.lobe === lobe);
    return deviation(own.map(({ errorDeg }) => errorDeg)) ** 2;
  });
  const spreadDeg = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / LOBES);
  return { ratio: spreadDeg / (ONE_INDEX * tickSpreadDeg(speedRpm, tickHz)) };
}

export const quantisation: Bar<QuantisationResult> = {
  name: "quantisation",
  counts: { short: 60, long: 400 },
  job,
  figures: (results) => {
    const ratios = results.map(({ ratio }) => ratio);
    const square = ratios.reduce((sum, ratio) => sum + ratio ** 2, 0) / ratios.length;
    return [
      atMost(
        "spread of one spark on a quiet rig, as a multiple of 1.29·ω·q/√12",
        Math.sqrt(square),
        LIMIT,
        ratios.length,
        " ×",
        3,
      ),
      beside(
        "… the largest at any one speed",
        `${Math.max(...ratios).toFixed(3)} ×`,
        ratios.length,
      ),
    ];
  },
};
