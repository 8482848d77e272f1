// Bar: misplaced pickup edges and ripple, told apart by the run itself, leave the advance right.
import { atMost, type Bar, beside } from "../bar.ts";
import { Draw } from "../draw.ts";
import { measureReadings } from "../standIn.ts";
import { drawTableUnit } from "../tableUnit.ts";

const LIMIT_DEG = 0.05;
const FROM_RPM = 300;
const SPACING_DEG = 0.3;
/** 2 % at 300 rpm; the share falls with the square of speed as the angle does. */
const RIPPLE = { perTurn: 8, percentAt1000Rpm: 2 * (300 / 1000) ** 2 } as const;

export interface EdgesResult {
  readonly points: number;
  readonly worstDeg: number;
}

async function job(index: number): Promise<EdgesResult> {
  const draw = new Draw("edges", index);
  const unit = drawTableUnit(draw, draw.oneOf([4, 6, 8]));
  const rig = {
    pickupEdges: 36,
    spacingErrorPeakDeg: SPACING_DEG,
    ripple: [{ ...RIPPLE, phaseDeg: draw.uniform(0, 360) }],
    couplingDeg: draw.uniform(0, 359.9),
    eventJitterUs: 1,
    indexJitterUs: 1,
  };
  const scenario = { ...unit.scenario, seed: draw.seed(), rig };
  const { end } = await measureReadings({ unit: unit.unitFile, scenario });
  const { rising, falling } = end.result.speed;
  const errors = [...rising, ...falling]
    .filter(({ x }) => x > FROM_RPM - 1)
    .map(({ x, advanceDeg }) => Math.abs(advanceDeg - unit.advanceDeg(x)));
  return { points: errors.length, worstDeg: Math.max(...errors) };
}

export const edges: Bar<EdgesResult> = {
  name: "edges",
  counts: { short: 60, long: 300 },
  job,
  figures: (results) => {
    const worst = results.map(({ worstDeg }) => worstDeg).sort((a, b) => a - b);
    const points = results.reduce((sum, result) => sum + result.points, 0);
    return [
      atMost(
        "largest error from 300 rpm up, 36 edges out by ± 0.3°, ripple 8 a turn of 2 % at 300 rpm",
        worst.at(-1) ?? Number.NaN,
        LIMIT_DEG,
        points,
        "°",
      ),
      beside(
        "… the median unit's",
        `${(worst[worst.length >> 1] ?? Number.NaN).toFixed(4)}°`,
        points,
      ),
    ];
  },
};
