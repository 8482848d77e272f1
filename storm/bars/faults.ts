// Bar: whatever befalls the line, no reading is wrong, no run ends with a motor on, and every run ends.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { none } from "../figures.ts";
import { drawIncidents, drawRun } from "../link/drawnRun.ts";
import { drawFaults, type FaultKind } from "../link/faults.ts";
import { type PlayedRun, type Storm, storm } from "../link/stormRun.ts";

const NAME = "faults";
/** Runs that the user stops in the middle of it all. */
const STOP_CHANCE = 0.1;

export interface FaultsResult {
  readonly index: number;
  readonly kinds: readonly FaultKind[];
  /** The same run without faults, which has to go through and be right. */
  readonly undisturbed: Storm;
  readonly disturbed: Storm;
}

async function job(index: number): Promise<FaultsResult> {
  const draw = new Draw(NAME, index);
  const drawn = drawRun(draw);
  const seed = draw.seed();
  const undisturbed = await storm({ drawn, seed, faults: [], undisturbedMs: 600_000 });
  const { rigMs } = undisturbed;
  const faults = drawFaults(draw, rigMs);
  const incidents = drawIncidents(draw, rigMs / 1000);
  const stopMs = draw.chance(STOP_CHANCE) ? draw.uniform(0, rigMs) : null;
  const disturbed = await storm({
    drawn,
    seed,
    faults,
    incidents,
    undisturbedMs: rigMs,
    during: ({ scheduler, stop }) => {
      if (stopMs !== null) scheduler.after(stopMs, () => stop("STOPPED_BY_USER"));
    },
  });
  return { index, kinds: faults.map(({ kind }) => kind), undisturbed, disturbed };
}

function figures(results: readonly FaultsResult[]): readonly Figure[] {
  const storms = results.map(({ disturbed }) => disturbed);
  const runs = storms.flatMap((one) => one.runs);
  const calm = results.flatMap(({ undisturbed }) => undisturbed.runs);
  const troubled = storms.filter((one) => one.troubled > 0 || one.runs.length > 1).length;
  const ended = (ending: PlayedRun["ending"]) => runs.filter((one) => one.ending === ending).length;
  const others = ["stopped", "rig fault", "link lost", "not begun"] as const;
  return [
    none("without faults: wrong readings, or not completed", calm, (one) => [
      ...one.wrong,
      ...(one.ending === "completed" ? [] : [`${one.ending} ${one.code}`]),
    ]),
    none("wrong readings", runs, (one) => one.wrong, count(runs)),
    none("unsafe moments or ends", storms, (one) => one.unsafe),
    none("runs without an end in their time", storms, (one) =>
      one.hang === null ? [] : [one.hang],
    ),
    none("lost turns that the record hides", runs, (one) => (one.gapHidden ? ["hidden"] : [])),
    none("records that their raw bytes tell otherwise", runs, (one) =>
      one.replayed === null ? [] : [one.replayed],
    ),
    worst("largest error of an advance", runs),
    worst("the same without faults", calm),
    beside("runs on a line with faults that showed", String(troubled), storms.length),
    beside("ended completed", String(ended("completed")), runs.length),
    ...others.map((ending) => beside(`ended ${ending}`, String(ended(ending)), runs.length)),
  ];
}

function worst(what: string, runs: readonly PlayedRun[]): Figure {
  const worstDeg = Math.max(0, ...runs.map((one) => one.worstDeg));
  return beside(what, `${worstDeg.toFixed(3)}°`, count(runs));
}

function count(runs: readonly PlayedRun[]): number {
  return runs.reduce((sum, { readings }) => sum + readings, 0);
}

export const faults: Bar<FaultsResult> = {
  name: NAME,
  counts: { short: 1000, long: 10_000 },
  job,
  figures,
};
