// Bar: a fixed delay of the trigger input, found with a locked cam, is gone from what is measured after it.
import { unitFromFile } from "../../core/unitFile.ts";
import { checkDelay } from "../../server/calibration/checks.ts";
import { STAND_IN } from "../../server/rigFile.ts";
import { atMost, type Bar, beside } from "../bar.ts";
import { checkOnStandIn } from "../check.ts";
import { Draw } from "../draw.ts";
import { LOCKED } from "../lockedCam.ts";
import { measureReadings } from "../standIn.ts";
import { drawTableUnit } from "../tableUnit.ts";

const LIMIT_DEG = 0.02;
const DELAY_US = 20;
const FAST_RPM = 4000;

export interface DelayResult {
  /** What is left of the advance's error at the fast speed, with the check and without it. */
  readonly leftDeg: number;
  readonly uncheckedDeg: number;
  /** Whether the 95 % interval of the point at the fast speed holds the truth. */
  readonly holds: boolean;
}

async function job(index: number): Promise<DelayResult> {
  const draw = new Draw("delay", index);
  const lobes = draw.oneOf([4, 6, 8]);
  const rig = {
    pickupEdges: draw.oneOf([1, 36]),
    delayUs: DELAY_US,
    eventJitterUs: draw.logUniform(0.5, 3),
    indexJitterUs: 1,
  };
  const coupled = () => ({ ...rig, couplingDeg: draw.uniform(0, 359.9) });
  const locked = { description: "locked cam", lobes, rotation: "cw", speedMaxRpm: FAST_RPM };
  const lockedUnit = unitFromFile(locked, "locked cam");
  const delay = await checkOnStandIn(
    {
      unit: lockedUnit,
      scenario: { seed: draw.seed(), unit: { lobes }, mechanism: LOCKED, rig: coupled() },
      rig: STAND_IN,
    },
    (bench) => checkDelay(bench, lockedUnit, null),
  );
  const unit = drawTableUnit(draw, lobes);
  const scenario = { ...unit.scenario, seed: draw.seed(), rig: coupled() };
  const plan = { speedsRpm: [600, 1500, 2500, FAST_RPM], rampRpmPerS: 500 };
  const fast = { ...(unit.unitFile as object), speedMaxRpm: FAST_RPM };
  const errorOf = async (stated: object) => {
    const { end } = await measureReadings({ unit: fast, scenario, plan, rig: stated });
    const point = end.result.speed.rising.at(-1);
    if (point === undefined) throw new Error("the fast speed was not read");
    const errorDeg = point.advanceDeg - unit.advanceDeg(point.x);
    const expandedDeg = point.coverageFactor * point.standardUncertaintyDeg;
    return { errorDeg: Math.abs(errorDeg), holds: Math.abs(errorDeg) <= expandedDeg };
  };
  const checked = await errorOf({ calibration: { delay } });
  const unchecked = await errorOf({});
  return { leftDeg: checked.errorDeg, uncheckedDeg: unchecked.errorDeg, holds: checked.holds };
}

export const delay: Bar<DelayResult> = {
  name: "delay",
  counts: { short: 40, long: 200 },
  job,
  figures: (results) => {
    const worst = (value: (result: DelayResult) => number) => Math.max(...results.map(value));
    const held = results.filter(({ holds }) => holds).length;
    return [
      atMost(
        "largest error left at 4,000 rpm of a 20 µs delay, checked with a locked cam",
        worst((result) => result.leftDeg),
        LIMIT_DEG,
        results.length,
        "°",
      ),
      beside("… without the check", `${worst((r) => r.uncheckedDeg).toFixed(4)}°`, results.length),
      beside("… intervals that hold, with it", `${held} of ${results.length}`, results.length),
    ];
  },
};
