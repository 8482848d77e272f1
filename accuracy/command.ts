// Bars carried out over all cores, their figures printed as one table.
import { parseArgs } from "node:util";
import type { Bar } from "./bar.ts";
import { carryOut, type Job, type Outcome } from "./jobs.ts";
import { figuresOf, tableOf } from "./table.ts";

const PROGRESS_MS = 5000;

/**
 * Answers the command line `[--long] [--only BAR]... [--count N]`. Exit status 1 where a bar is missed.
 * `worker`: the module that does the jobs of these bars.
 */
export async function measureBars(
  name: string,
  all: readonly Bar<unknown>[],
  worker: URL,
): Promise<void> {
  const { values } = parseArgs({
    options: {
      long: { type: "boolean", default: false },
      only: { type: "string", multiple: true },
      count: { type: "string" },
    },
  });
  const countOf = ({ counts }: Bar<unknown>) => {
    if (values.count !== undefined) return Number(values.count);
    return values.long ? counts.long : counts.short;
  };
  const bars = values.only?.map((one) => barNamed(all, one)) ?? all;
  const jobsOf = (some: readonly Bar<unknown>[]) =>
    some.flatMap((bar) =>
      Array.from({ length: countOf(bar) }, (_, index): Job => ({ bar: bar.name, index })),
    );
  const done = [...new Set(bars.flatMap((bar) => [...(bar.also ?? []), bar]))];
  const together = jobsOf(done.filter(({ alone }) => !alone));
  const single = jobsOf(done.filter(({ alone }) => alone));
  const tell = progress(name, together.length + single.length);
  const outcomes = [
    ...(await carryOut(together, worker, tell)),
    ...(await carryOut(single, worker, tell, 1)),
  ];
  const lines = bars.flatMap((bar) =>
    figuresOf(bar, outcomes).map((figure) => ({ bar: bar.name, figure })),
  );
  process.stdout.write(`${tableOf(lines)}\n`);
  const missed = lines.filter(({ figure }) => figure.met === false).length;
  process.stdout.write(missed === 0 ? "Every bar is met.\n" : `${missed} figures missed.\n`);
  process.exitCode = missed === 0 ? 0 : 1;
}

/** @throws where there is none of that name */
export function barNamed(bars: readonly Bar<unknown>[], name: string): Bar<unknown> {
  const bar = bars.find((one) => one.name === name);
  if (bar !== undefined) return bar;
  throw new Error(`no bar "${name}": there are ${bars.map((one) => one.name).join(", ")}`);
}

function progress(name: string, total: number): (outcome: Outcome) => void {
  let done = 0;
  let toldMs = performance.now();
  return (outcome) => {
    done++;
    if ("failure" in outcome) {
      const { bar, index } = outcome.job;
      process.stderr.write(`${name}: ${bar} job ${index} failed: ${outcome.failure}\n`);
    }
    if (performance.now() - toldMs < PROGRESS_MS && done < total) return;
    toldMs = performance.now();
    process.stderr.write(`${name}: ${done} of ${total} jobs done, last ${outcome.job.bar}\n`);
  };
}
