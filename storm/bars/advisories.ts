// Bar: no package of the lock file has a known advisory of high severity or above.
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { z } from "zod";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";

/** As built, in `dist/node/storm/bars`. */
const ROOT = fileURLToPath(new URL("../../../../", import.meta.url));

const AUDIT = z.object({
  metadata: z.object({
    vulnerabilities: z.object({ moderate: z.number(), high: z.number(), critical: z.number() }),
    dependencies: z.object({ total: z.number() }),
  }),
});

/** `high` includes critical ones. Null: the registry could not be asked. */
export type AdvisoriesResult = {
  readonly packages: number;
  readonly moderate: number;
  readonly high: number;
} | null;

async function job(): Promise<AdvisoriesResult> {
  // npm ends with a status of 1 where it found something; what it printed is the answer either way.
  const printed = await new Promise<string>((resolve) => {
    execFile("npm", ["audit", "--json"], { cwd: ROOT }, (_error, stdout) => resolve(stdout));
  });
  return advisoriesIn(printed);
}

/** What `npm audit --json` printed, read. */
export function advisoriesIn(printed: string): AdvisoriesResult {
  try {
    const { vulnerabilities, dependencies } = AUDIT.parse(JSON.parse(printed)).metadata;
    const { moderate, high, critical } = vulnerabilities;
    return { packages: dependencies.total, moderate, high: high + critical };
  } catch {
    return null;
  }
}

function figures(results: readonly AdvisoriesResult[]): readonly Figure[] {
  return results.flatMap((result) => {
    const what = "known advisories, high or critical";
    // Neither met nor missed: nobody answered.
    if (result === null) return [beside(what, "not known: the registry did not answer", 0)];
    const { packages, moderate, high } = result;
    return [
      { what, measured: String(high), limit: "0", count: packages, met: high === 0 },
      beside("known advisories, moderate", String(moderate), packages),
    ];
  });
}

export const advisories: Bar<AdvisoriesResult> = {
  name: "advisories",
  counts: { short: 1, long: 1 },
  job,
  figures,
};
