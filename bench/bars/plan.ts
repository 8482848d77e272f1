// Bar: time that the default plan takes on the virtual clock, bytes, findings and all, once the program is loaded.
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { z } from "zod";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { middle } from "../timing.ts";

const LIMIT_S = 1;
const SCRIPT = fileURLToPath(new URL("../planOnce.js", import.meta.url));

/** Seconds by the clock of the runs of one process, in their order. */
export type PlanResult = readonly number[];

async function job(): Promise<PlanResult> {
  const { stdout } = await promisify(execFile)(process.execPath, [SCRIPT]);
  return z.array(z.number()).parse(JSON.parse(stdout));
}

function figures(results: readonly PlanResult[]): readonly Figure[] {
  const firstS = middle(results.map(([first = Number.NaN]) => first));
  const laterS = middle(results.map((runs) => middle(runs.slice(runs.length >> 1))));
  return [
    {
      what: "default plan on the virtual clock, the first of a process",
      measured: `${firstS.toFixed(2)} s`,
      limit: `≤ ${LIMIT_S} s`,
      count: results.length,
      met: firstS <= LIMIT_S,
    },
    beside("… the program warm", `${laterS.toFixed(2)} s`, results.length),
  ];
}

export const plan: Bar<PlanResult> = {
  name: "plan",
  counts: { short: 5, long: 15 },
  alone: true,
  job,
  figures,
};
