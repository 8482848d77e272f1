// Bar: of the 95 % intervals that the product reports, so many hold the truth, each quantity apart.
import { parseScenario } from "../../sim/scenario.ts";
import type { Bar, Figure } from "../bar.ts";
import { coverageFigures } from "../coverage/figures.ts";
import { type Interval, intervalsOf } from "../coverage/intervals.ts";
import { Truths } from "../coverage/truths.ts";
import { Draw } from "../draw.ts";
import { drawRig } from "../drawn/rig.ts";
import { drawUnit } from "../drawn/unit.ts";
import { measureReadings } from "../standIn.ts";

async function job(index: number): Promise<readonly Interval[]> {
  const draw = new Draw("coverage", index);
  const unit = drawUnit(draw);
  const rig = drawRig(draw, unit.lobes);
  const scenario = { ...unit.scenario, seed: draw.seed(), rig: rig.settings };
  const run = await measureReadings({ unit: unit.unitFile, scenario, rig: rig.stated });
  return intervalsOf(new Truths(parseScenario(scenario, "scenario"), run), rig);
}

export const coverage: Bar<readonly Interval[]> = {
  name: "coverage",
  counts: { short: 1000, long: 4000 },
  job,
  figures: (results): readonly Figure[] => coverageFigures(results.flat()),
};
