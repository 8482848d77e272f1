// Bar: the angle of a spark through the real image, with one index, over speed.
import { atMost, type Bar } from "../../../accuracy/bar.ts";
import { tickSpreadDeg } from "../../../accuracy/bars/quantisation.ts";
import { Draw } from "../../../accuracy/draw.ts";
import { deviation, lockedScenario, mean, sparkErrors } from "../../../accuracy/lockedCam.ts";
import { driveThrough } from "../../../accuracy/standIn.ts";
import { imageBoards, rigFor } from "../images.ts";

const TURNS = 150;
/** With one index a spark's angle is made of three stamps. */
const ONE_INDEX = 1.29;

export interface AngleResult {
  readonly biasDeg: number;
  /** Spread of one spark, root mean square of the lobes, against the quantisation limit. */
  readonly ratio: number;
}

async function job(index: number): Promise<AngleResult> {
  const draw = new Draw("firmware-angle", index);
  const lobes = index % 2 === 0 ? 4 : 8;
  const speedRpm = Math.round(10 * draw.logUniform(100, 4000)) / 10;
  const couplingDeg = draw.uniform(1, 44);
  const { hello, turns } = await driveThrough(
    lockedScenario(draw.seed(), lobes, { ...rigFor(1), couplingDeg }),
    [{ speedRpm, rampRpmPerS: 1000, waitS: speedRpm / 1000 + 8, seconds: (60 * TURNS) / speedRpm }],
    imageBoards(1),
  );
  const errors = sparkErrors(turns[0] ?? [], hello, couplingDeg, lobes);
  const squares = Array.from({ length: lobes }, (_, lobe) => {
    const own = errors.filter((spark) => spark.lobe === lobe);
    return deviation(own.map(({ errorDeg }) => errorDeg)) ** 2;
  });
  const limitDeg = ONE_INDEX * tickSpreadDeg(speedRpm, hello.tickHz);
  return {
    biasDeg: mean(errors.map(({ errorDeg }) => errorDeg)),
    ratio: Math.sqrt(mean(squares)) / limitDeg,
  };
}

export const angle: Bar<AngleResult> = {
  name: "angle",
  counts: { short: 4, long: 100 },
  job,
  figures: (results) => [
    atMost(
      "largest bias of the angle, 100–4,000 rpm, 4 and 8 lobes",
      Math.max(...results.map(({ biasDeg }) => Math.abs(biasDeg))),
      0.02,
      results.length,
      "°",
    ),
    atMost(
      "largest spread of a spark against the quantisation limit",
      Math.max(...results.map(({ ratio }) => ratio)),
      1.3,
      results.length,
      " ×",
      3,
    ),
  ],
};
