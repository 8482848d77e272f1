// How much faster a batch is on two workers than on one: `node dist/node/accuracy/batchBench.js [units]`.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { unitFromFile } from "../core/unitFile.ts";
import { carryOutBatch } from "../server/batch/batch.ts";
import { measuredLines } from "../server/batch/measured.ts";
import { projectFolder } from "../server/measurement.ts";
import { variedScenario } from "../server/standInScenario.ts";

const LIMIT = 1.8;
const UNITS = 1000;
const SPREADS = { springRateShare: 0.05, frictionShare: 0.3, loopWearMm: 0.05, stopWearDeg: 0.2 };

interface Timed {
  readonly wallS: number;
  /** Of the whole process: threads of the collector and the compiler included. */
  readonly processorS: number;
}

export interface BatchBench {
  readonly units: number;
  readonly one: Timed;
  readonly two: Timed;
  /** Time by the clock on one worker over that on two. */
  readonly ratio: number;
  readonly limit: number;
  /** Whether both wrote the same bytes. */
  readonly same: boolean;
  readonly cores: number;
  /** Mean number of threads that wanted a core in the minute before and at the end, others' too. */
  readonly load: readonly [before: number, after: number];
}

/** Whole batches of drawn units by the default plan: check, threads' start and writing of results included. */
export async function batchBench(units: number): Promise<BatchBench> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-batch-"));
  try {
    const cases = join(folder, "cases.jsonl");
    writeFileSync(cases, linesOf(units).join("\n"));
    const before = loadavg()[0] as number;
    const timed = async (workers: number): Promise<Timed> => {
      const out = join(folder, `${workers}.jsonl`);
      const from = performance.now();
      const used = process.cpuUsage();
      await carryOutBatch(
        { cases, out, resume: false, junit: null, json: null },
        {
          measured: (texts, onLine) => measuredLines(texts, workers, onLine),
          put: async () => {},
          say: () => {},
          isStopped: () => false,
        },
      );
      const { user, system } = process.cpuUsage(used);
      return { wallS: (performance.now() - from) / 1000, processorS: (user + system) / 1e6 };
    };
    const [one, two] = [await timed(1), await timed(2)];
    const texts = [1, 2].map((workers) => readFileSync(join(folder, `${workers}.jsonl`)));
    return {
      ...{ units, one, two, limit: LIMIT },
      ratio: one.wallS / two.wallS,
      same: Buffer.compare(...(texts as [Buffer, Buffer])) === 0,
      cores: availableParallelism(),
      load: [before, loadavg()[0] as number],
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function linesOf(units: number): string[] {
  const example = (name: string): unknown =>
    JSON.parse(readFileSync(join(projectFolder(), "examples", name), "utf8"));
  const unit = example("everyday.unit.json");
  const given = { name: "healthy", content: example("healthy.scenario.json") };
  const known = unitFromFile(unit, "everyday");
  return Array.from({ length: units }, (_, number) => {
    const scenario = variedScenario(given, known, SPREADS, { seed: 1, number });
    return JSON.stringify({ unit, scenario });
  });
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) {
  const bench = await batchBench(Number(process.argv[2] ?? UNITS));
  process.stdout.write(`${JSON.stringify(bench, null, 2)}\n`);
  process.exitCode = bench.same && bench.ratio >= bench.limit ? 0 : 1;
}
