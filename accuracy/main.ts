// `npm run accuracy`: measures every bar on the stand-in rig and prints one table. Exit 1 where one is missed.
import { parseArgs } from "node:util";
import type { Bar } from "./bar.ts";
import { BARS, barNamed } from "./bars.ts";
import { carryOut, type Job, type Outcome } from "./jobs.ts";
import { figuresOf, tableOf } from "./table.ts";

const PROGRESS_MS = 5000;
const { values } = parseArgs({
  options: {
    long: { type: "boolean", default: false },
    only: { type: "string", multiple: true },
    count: { type: "string" },
  },
});

const bars = values.only?.map(barNamed) ?? BARS;
const jobs = bars.flatMap((bar) =>
  Array.from({ length: countOf(bar) }, (_, index): Job => ({ bar: bar.name, index })),
);
const outcomes = await carryOut(jobs, new URL("worker.js", import.meta.url), progress(jobs.length));
const lines = bars.flatMap((bar) =>
  figuresOf(bar, outcomes).map((figure) => ({ bar: bar.name, figure })),
);
process.stdout.write(`${tableOf(lines)}\n`);
const missed = lines.filter(({ figure }) => figure.met === false).length;
process.stdout.write(missed === 0 ? "Every bar is met.\n" : `${missed} figures missed.\n`);
process.exitCode = missed === 0 ? 0 : 1;

function countOf({ counts }: Bar<unknown>): number {
  if (values.count !== undefined) return Number(values.count);
  return values.long ? counts.long : counts.short;
}

function progress(total: number): (outcome: Outcome) => void {
  let done = 0;
  let toldMs = performance.now();
  return (outcome) => {
    done++;
    if ("failure" in outcome) {
      const { bar, index } = outcome.job;
      process.stderr.write(`accuracy: ${bar} job ${index} failed: ${outcome.failure}\n`);
    }
    if (performance.now() - toldMs < PROGRESS_MS && done < total) return;
    toldMs = performance.now();
    process.stderr.write(`accuracy: ${done} of ${total} jobs done, last ${outcome.job.bar}\n`);
  };
}
