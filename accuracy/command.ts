// Bars carried out over all cores, their figures printed as one table.
import { parseArgs } from "node:util";
import type { Bar } from "./bar.ts";
import { carryOut, type Job, type Outcome } from "./jobs.ts";
import { figuresOf, tableOf } from "./table.ts";

const PROGRESS_MS = 5000;

const HELP = (all: readonly Bar<unknown>[]) => `Measures bars and prints them as one table.

Usage: npm run … -- [--long] [--only BAR]... [--count N]

  --long      the larger counts
  --only BAR  one bar, as often as wanted: ${all.map((bar) => bar.name).join(", ")}
  --count N   so many jobs of each bar

Exit status: 0 every bar is met, 1 one is missed, 64 wrong usage.
`;
const USAGE = 64;

/**
 * Answers the command line `[--long] [--only BAR]... [--count N]`. Exit status 1 where a bar is missed.
 * `worker`: the module that does the jobs of these bars.
 */
export async function measureBars(
  name: string,
  all: readonly Bar<unknown>[],
  worker: URL,
): Promise<void> {
  const values = asked();
  const unknown = values.only?.find((only) => all.every((bar) => bar.name !== only));
  const isCount = values.count === undefined || /^\d+$/.test(values.count);
  if (values.help || values.wrong !== undefined || unknown !== undefined || !isCount) {
    const isAsked = values.help && values.wrong === undefined;
    const out = isAsked ? process.stdout : process.stderr;
    if (!isAsked) out.write(`${values.wrong ?? unknown ?? values.count}: not known here.\n\n`);
    out.write(HELP(all));
    process.exitCode = isAsked ? 0 : USAGE;
    return;
  }
  const countOf = ({ counts }: Bar<unknown>) => {
    if (values.count !== undefined) return Number(values.count);
    if (values.long) return counts.long;
    // One that is asked for by name is measured, also where the short counts do without it.
    return Math.max(counts.short, values.only === undefined ? 0 : 1);
  };
  const bars = (values.only?.map((one) => barNamed(all, one)) ?? all).filter(
    (bar) => countOf(bar) > 0,
  );
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

interface Asked {
  readonly long?: boolean;
  readonly help?: boolean;
  readonly only?: readonly string[];
  readonly count?: string;
  /** What of the command line is none of these. */
  readonly wrong?: string;
}

function asked(): Asked {
  try {
    return parseArgs({
      options: {
        long: { type: "boolean", default: false },
        help: { type: "boolean", default: false },
        only: { type: "string", multiple: true },
        count: { type: "string" },
      },
    }).values;
  } catch (error) {
    return { wrong: error instanceof Error ? error.message : String(error) };
  }
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
