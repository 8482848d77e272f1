// Bar: a program that is killed while it writes loses nothing that it had acknowledged.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { openStore } from "../../server/store/store.ts";
import { type Acknowledged, missingOf } from "../storage/acknowledged.ts";

const WRITER = fileURLToPath(new URL("../storage/writer.js", import.meta.url));
/** Every fifth is killed as it starts, while it makes its tables. */
const EARLY_EVERY = 5;

export interface KillResult {
  readonly acknowledged: number;
  /** A sentence each. */
  readonly lost: readonly string[];
  /** What is wrong with the file; null: nothing. */
  readonly damage: string | null;
}

async function job(index: number): Promise<KillResult> {
  const draw = new Draw("kills", index);
  const folder = mkdtempSync(join(tmpdir(), "bobweight-kill-"));
  try {
    const child = spawn(process.execPath, [WRITER, folder, String(index)], {
      stdio: ["ignore", "pipe", "inherit"],
    });
    let printed = "";
    const began = new Promise<void>((resolve) => {
      child.stdout.on("data", (part) => {
        printed += part;
        resolve();
      });
    });
    const gone = new Promise((resolve) => child.once("close", resolve));
    if (index % EARLY_EVERY === 0) {
      await pause(draw.uniform(50, 600));
    } else {
      await began;
      await pause(draw.uniform(0, 2000));
    }
    child.kill("SIGKILL");
    await gone;
    // The last line may be cut off: what it says was not heard.
    const lines = printed.split("\n").slice(0, -1);
    return await lookedInto(
      folder,
      lines.map((line) => JSON.parse(line)),
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function lookedInto(folder: string, all: readonly Acknowledged[]): Promise<KillResult> {
  const store = await openStore(folder);
  try {
    const lastMs = Math.max(0, ...all.map((one) => (one.what === "raw" ? one.ms : 0)));
    const lost = await missingOf(store, all, lastMs);
    return { acknowledged: all.length, lost, damage: await store.damage() };
  } finally {
    await store.close();
  }
}

export function lossFigures(what: string, results: readonly KillResult[]): readonly Figure[] {
  const lost = results.flatMap((result) => result.lost);
  const damaged = results.filter(({ damage }) => damage !== null);
  const acknowledged = results.reduce((sum, result) => sum + result.acknowledged, 0);
  const example = lost[0] ?? damaged[0]?.damage ?? null;
  return [
    {
      what: `acknowledged writes lost, ${what}`,
      measured: String(lost.length),
      limit: "0",
      count: acknowledged,
      met: acknowledged > 0 && lost.length === 0,
    },
    {
      what: `databases damaged, ${what}`,
      measured: String(damaged.length),
      limit: "0",
      count: results.length,
      met: results.length > 0 && damaged.length === 0,
    },
    ...(example === null ? [] : [beside("for example", example, 1)]),
  ];
}

export const kills: Bar<KillResult> = {
  name: "kills",
  counts: { short: 100, long: 500 },
  job,
  figures: (results) => lossFigures("killed", results),
};
