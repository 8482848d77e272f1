// Bar: whatever is put before a reader comes out read, or refused by an error of ours with code and remedy.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Reader, readersIn } from "../hostile/readers.ts";

const INPUTS_A_JOB = 1000;
/** Longer, and a run beside it would be without its sign of life. */
const READ_MS_MAX = 800;

export interface HostileResult {
  readonly inputs: number;
  readonly refused: number;
  /** What was neither read nor refused; a sentence each. */
  readonly crashes: readonly string[];
}

async function job(index: number): Promise<HostileResult> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-hostile-"));
  try {
    const readers = await readersIn(folder);
    const draw = new Draw("hostile", index);
    const crashes: string[] = [];
    let refused = 0;
    for (let input = 0; input < INPUTS_A_JOB; input++) {
      const reader = drawn(readers, draw);
      const outcome = await tried(reader, draw);
      if (outcome === "refused") refused++;
      else if (outcome !== "read") crashes.push(`${reader.name}, ${index}/${input}: ${outcome}`);
    }
    return { inputs: INPUTS_A_JOB, refused, crashes };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function drawn(readers: readonly Reader[], draw: Draw): Reader {
  const all = readers.reduce((sum, { share }) => sum + share, 0);
  let left = draw.uniform(0, all);
  for (const reader of readers) {
    left -= reader.share;
    if (left < 0) return reader;
  }
  return readers[0] as Reader;
}

/** What came of it, in a word or, where it must not be, a sentence. */
export async function tried(reader: Pick<Reader, "read">, draw: Draw): Promise<string> {
  const begunMs = performance.now();
  let outcome = "read";
  try {
    await reader.read(draw);
  } catch (error) {
    outcome = isToldWell(error) ? "refused" : String((error as Error)?.stack ?? error);
  }
  const tookMs = performance.now() - begunMs;
  return tookMs > READ_MS_MAX ? `took ${tookMs.toFixed(0)} ms, then ${outcome}` : outcome;
}

function isToldWell(error: unknown): boolean {
  return (
    error instanceof BobweightError &&
    error.kind !== "bug" &&
    error.kind !== "storage" &&
    error.what.length > 0 &&
    error.remedy.length > 0
  );
}

function figures(results: readonly HostileResult[]): readonly Figure[] {
  const inputs = results.reduce((sum, result) => sum + result.inputs, 0);
  const refused = results.reduce((sum, result) => sum + result.refused, 0);
  const crashes = results.flatMap((result) => result.crashes);
  return [
    {
      what: "hostile inputs neither read nor refused in words",
      measured: String(crashes.length),
      limit: "0",
      count: inputs,
      met: inputs > 0 && crashes.length === 0,
    },
    beside("refused in words", String(refused), inputs),
    ...crashes.slice(0, 20).map((crash) => beside("for example", crash.slice(0, 400), 1)),
  ];
}

export const hostile: Bar<HostileResult> = {
  name: "hostile",
  counts: { short: 100, long: 1000 },
  job,
  figures,
};
