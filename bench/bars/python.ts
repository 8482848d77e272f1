// Bar: the chain beside a script in Python with numpy that does the same with the same bytes, or less.
import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { z } from "zod";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { readingsOf } from "../readings.ts";
import { record, TURNS_PER_READING } from "../recording.ts";
import { secondsOfEach } from "../timing.ts";

const LIMIT = 3;
const PICKUP_EDGES = [36, 1] as const;
/** From where it is built, `dist/node/bench/bars`. */
const SCRIPT = fileURLToPath(new URL("../../../../bench/chain.py", import.meta.url));
const PRINTED = z.object({ seconds: z.number(), turns: z.number(), dwellDeg: z.number() });

export interface PythonResult {
  readonly pickupEdges: number;
  readonly turns: number;
  readonly chainS: number;
  /** Null where there is no Python with numpy. */
  readonly scriptS: number | null;
}

async function job(index: number): Promise<PythonResult> {
  const pickupEdges = PICKUP_EDGES[index % PICKUP_EDGES.length] as number;
  const recording = await record(pickupEdges);
  const turns = readingsOf(recording);
  const printed = await scripted(recording, pickupEdges);
  if (printed !== null && printed.turns !== turns) {
    throw new Error(`the script found ${printed.turns} turns, the chain ${turns}`);
  }
  const { chain: chainS } = await secondsOfEach({ chain: () => readingsOf(recording) });
  return { pickupEdges, turns, chainS, scriptS: printed?.seconds ?? null };
}

async function scripted(
  { chunks, hello }: Awaited<ReturnType<typeof record>>,
  pickupEdges: number,
): Promise<z.infer<typeof PRINTED> | null> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  try {
    await promisify(execFile)("python3", ["-c", "import numpy"]);
  } catch {
    return null;
  }
  try {
    const file = join(folder, "recording");
    writeFileSync(file, Buffer.concat(chunks));
    const args = [file, hello.tickHz, pickupEdges, TURNS_PER_READING].map(String);
    const { stdout } = await promisify(execFile)("python3", [SCRIPT, ...args]);
    return PRINTED.parse(JSON.parse(stdout));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function figures(results: readonly PythonResult[]): readonly Figure[] {
  return results.map(({ pickupEdges, turns, chainS, scriptS }) => {
    const what = `a script with numpy beside the chain, ${pickupEdges === 1 ? "one index" : `${pickupEdges} edges`}`;
    if (scriptS === null) return beside(what, "not measured: no Python with numpy here", 0);
    const ratio = scriptS / chainS;
    const met = ratio >= LIMIT;
    return { what, measured: `${ratio.toFixed(2)} ×`, limit: `≥ ${LIMIT} ×`, count: turns, met };
  });
}

export const python: Bar<PythonResult> = {
  name: "python",
  counts: { short: PICKUP_EDGES.length, long: PICKUP_EDGES.length },
  alone: true,
  job,
  figures,
};
