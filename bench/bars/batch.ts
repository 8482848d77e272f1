// Bar: a batch of a thousand simulated units on two workers beside one.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import { carryOutBatch } from "../../server/batch/batch.ts";
import { measuredLines } from "../../server/batch/measured.ts";
import { projectFolder } from "../../server/measurement.ts";
import { variedScenario } from "../../server/standInScenario.ts";

const LIMIT = 1.8;
/** A thousand take many minutes, so the short count has fewer; starting up weighs the more in it. */
const UNITS = [100, 1000] as const;
const SPREADS = { springRateShare: 0.05, frictionShare: 0.3, loopWearMm: 0.05, stopWearDeg: 0.2 };

export interface BatchResult {
  readonly units: number;
  /** By the clock, whole batches: check, threads' start and writing of results included. */
  readonly oneS: number;
  readonly twoS: number;
  /** Whether both wrote the same bytes. */
  readonly same: boolean;
}

async function job(index: number): Promise<BatchResult> {
  const units = UNITS[index] as number;
  const folder = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  try {
    const cases = join(folder, "cases.jsonl");
    writeFileSync(cases, linesOf(units).join("\n"));
    const outOf = (workers: number) => join(folder, `${workers}.jsonl`);
    const timed = async (workers: number): Promise<number> => {
      const fromMs = performance.now();
      await carryOutBatch(
        { cases, out: outOf(workers), resume: false, junit: null, json: null },
        {
          measured: (texts, onLine) => measuredLines(texts, workers, onLine),
          put: async () => {},
          say: () => {},
          isStopped: () => false,
        },
      );
      return (performance.now() - fromMs) / 1000;
    };
    const [oneS, twoS] = [await timed(1), await timed(2)];
    const same = readFileSync(outOf(1)).equals(readFileSync(outOf(2)));
    return { units, oneS, twoS, same };
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

function figures(results: readonly BatchResult[]): readonly Figure[] {
  return results.flatMap(({ units, oneS, twoS, same }) => {
    const ratio = oneS / twoS;
    return [
      {
        what: `batch of ${units} units, two workers beside one`,
        measured: `${ratio.toFixed(2)} ×`,
        limit: `≥ ${LIMIT} ×`,
        count: units,
        met: ratio >= LIMIT,
      },
      {
        what: "… results that differ",
        measured: same ? "none" : "some",
        limit: "none",
        count: units,
        met: same,
      },
      beside("… units in a minute, two workers", ((60 * units) / twoS).toFixed(0), units),
    ];
  });
}

export const batch: Bar<BatchResult> = {
  name: "batch",
  counts: { short: 1, long: UNITS.length },
  alone: true,
  job,
  figures,
};
