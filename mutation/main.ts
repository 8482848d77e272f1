// `npm run mutation`: changes the program in one place at a time and asks whether its tests notice. Exit 1 below the bar.
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import type { MutantResult, PartialStrykerOptions } from "@stryker-mutator/api/core";
import { Stryker } from "@stryker-mutator/core";
import { AREAS, type Area } from "./areas.ts";
import { CHECKER_NAME } from "./compileChecker.ts";
import { drawnOf, equivalentsIn, SCORE_MIN, scoreOf, survivorsOf, tableOf } from "./report.ts";

const HELP = `Changes the program in one place at a time and asks whether its tests notice.

Usage: npm run mutation -- [--long] [--only AREA]... [--file FILE]... [--seed N]

  --long       every mutant, and not a share of them
  --only AREA  one area, as often as wanted: ${AREAS.map(({ name }) => name).join(", ")}
  --file FILE  every mutant of this file alone, as often as wanted
  --seed N     another draw (1)

Exit status: 0 every area reaches ${SCORE_MIN} %, 1 one does not, 64 wrong usage.
`;
const USAGE = 64;
const WORKERS = 2;

async function resultsOf(area: Area, drawnPercent: number, seed: number): Promise<MutantResult[]> {
  process.env.MUTATION_TESTS = JSON.stringify(area.tests);
  const options: PartialStrykerOptions = {
    mutate: [...area.files],
    testRunner: "vitest",
    vitest: { configFile: "mutation/vitest.config.ts", related: false },
    coverageAnalysis: "perTest",
    checkers: [CHECKER_NAME],
    plugins: [
      "@stryker-mutator/vitest-runner",
      fileURLToPath(new URL("compileChecker.js", import.meta.url)),
    ],
    concurrency: WORKERS,
    reporters: ["progress-append-only"],
    // Copies of the project, in which mutants live.
    tempDirName: "dist/mutation",
    ignorePatterns: ["dist", "docs", "firmware/build"],
    allowConsoleColors: false,
    warnings: false,
    drawnPercent,
    seed,
  };
  return new Stryker(options).runMutationTest();
}

function asked() {
  try {
    const { values } = parseArgs({
      options: {
        long: { type: "boolean", default: false },
        only: { type: "string", multiple: true },
        file: { type: "string", multiple: true },
        seed: { type: "string", default: "1" },
        help: { type: "boolean", default: false },
      },
    });
    const names = AREAS.map(({ name }) => name);
    const wrong =
      values.only?.find((name) => !names.includes(name)) ??
      (/^\d+$/.test(values.seed) ? null : values.seed);
    return wrong === null ? values : { wrong };
  } catch (error) {
    return { wrong: (error as Error).message };
  }
}

async function main(): Promise<void> {
  const values = asked();
  if (!("seed" in values)) {
    process.stderr.write(`${values.wrong}: not known here.\n\n${HELP}`);
    process.exitCode = USAGE;
    return;
  }
  if (values.help) {
    process.stdout.write(HELP);
    return;
  }
  const { only, file, long, seed } = values;
  const isMet: boolean[] = [];
  for (const area of AREAS) {
    if (only !== undefined && !only.includes(area.name)) continue;
    const files = file === undefined ? area.files : file.filter((one) => isIn(area, one));
    if (files.length === 0) continue;
    const drawnPercent = long || file !== undefined ? 100 : area.drawnPercent;
    const all = await resultsOf({ ...area, files }, drawnPercent, Number(seed));
    const drawn = drawnOf(all);
    const equivalent = equivalentsIn(drawn);
    process.stdout.write(
      `${tableOf(area.name, drawn)}\n\n${all.length - drawn.length} of ${all.length} mutants not drawn (seed ${seed}); said to be equivalent: ${equivalent}, with reasons in mutation/equivalent/.\n\n${survivorsOf(drawn)}\n\n`,
    );
    isMet.push(scoreOf(drawn) >= SCORE_MIN);
  }
  process.exitCode = isMet.length > 0 && isMet.every((met) => met) ? 0 : 1;
}

function isIn(area: Area, file: string): boolean {
  return area.files.some((one) => one === file || one === `${file.replace(/[^/]*$/, "")}*.ts`);
}

await main();
