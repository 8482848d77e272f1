// Bar: the database is away while an hour's records come in, then back; bench and database server are killed in the
// hand-over, and nothing is lost and nothing is there twice.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { Outbox } from "../../server/store/outbox.ts";
import { PostgresDatabase } from "../../server/store/postgres.ts";
import { digestOfRows, readRows } from "../../server/store/wholeRecord.ts";
import { Cluster } from "../cluster.ts";

const ROOT = fileURLToPath(new URL("../../../../", import.meta.url));
const PROGRAM = join(ROOT, "bin", "bobweight.js");
/** An hour of runs one after another: each takes 8.6 minutes at the pace of life. */
const RECORDS = 7;
const HANDED_MS_MAX = 60_000;
const ASK_EVERY_MS = 5;

export interface HandOverResult {
  /** Records that waited. */
  readonly waited: number;
  /** How many of them were in the database when the bench's program was killed. */
  readonly overAtKill: number;
  /** Not in the database at last, or there otherwise than they were written. */
  readonly lost: number;
  readonly twice: number;
  /** On the bench's computer, at last. */
  readonly stillWaits: number;
  /** By the clock, from the last return of the database until all were there. */
  readonly handedS: number;
}

async function job(index: number): Promise<HandOverResult> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  const cluster = await Cluster.start(true);
  try {
    const url = await cluster.newDatabase();
    const count = async (table: string) =>
      Number((await cluster.query(url, `SELECT count(*) AS n FROM ${table}`))[0]?.n);
    // The workshop's settings have to have been seen once; its record is in the database at once.
    await measured(folder, url);
    await cluster.kill();
    for (let i = 0; i < RECORDS; i++) await measured(folder, url);
    const written = await waitingIn(folder);
    await cluster.comeBack();
    // Somewhere in the middle, another place for each job.
    const bench = start(["serve", "--port", "0"], folder, url);
    const killAt = 1 + new Draw("hand-over", index).whole(1, RECORDS - 1);
    await until(async () => (await count("endings")) >= killAt);
    await killed(bench);
    const overAtKill = (await count("endings")) - 1;
    await cluster.kill();
    await cluster.comeBack();
    const fromMs = performance.now();
    const again = start(["serve", "--port", "0"], folder, url);
    await until(async () => (await count("endings")) > RECORDS);
    const handedS = (performance.now() - fromMs) / 1000;
    // Whatever were brought twice would come now.
    await pause(1000);
    await killed(again);
    return {
      waited: written.size,
      overAtKill,
      lost: await missing(url, written),
      twice: (await count("records")) - 1 - written.size,
      stillWaits: (await waitingIn(folder)).size,
      handedS,
    };
  } finally {
    await cluster.end();
    rmSync(folder, { recursive: true });
  }
}

function start(args: readonly string[], folder: string, url: string): ChildProcess {
  return spawn(process.execPath, [PROGRAM, ...args, "--data", folder], {
    env: { ...process.env, BOBWEIGHT_DATABASE: url },
    stdio: "ignore",
  });
}

async function measured(folder: string, url: string): Promise<void> {
  const unit = join(ROOT, "examples", "everyday.unit.json");
  const child = start(["measure", "--rig", "stand-in", "--unit", unit, "--fast"], folder, url);
  const status = await new Promise((resolve) => child.once("close", resolve));
  if (status !== 0) throw new Error(`a run ended with ${status}`);
}

async function killed(child: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => child.once("close", resolve));
  child.kill("SIGKILL");
  await gone;
}

/** Whether it came to be in time. */
async function until(isSo: () => Promise<boolean>): Promise<boolean> {
  const fromMs = performance.now();
  while (!(await isSo())) {
    if (performance.now() - fromMs > HANDED_MS_MAX) return false;
    await pause(ASK_EVERY_MS);
  }
  return true;
}

/** Digests of the records that wait in a data folder, by their ids. */
async function waitingIn(folder: string): Promise<ReadonlyMap<string, string>> {
  const outbox = await Outbox.open(folder);
  const digests = new Map<string, string>();
  for (const id of await outbox.waiting()) {
    const rows = await outbox.rowsOf(id);
    if (rows !== null) digests.set(id, digestOfRows(rows));
  }
  await outbox.database.close();
  return digests;
}

async function missing(url: string, written: ReadonlyMap<string, string>): Promise<number> {
  const database = new PostgresDatabase(url);
  let count = 0;
  for (const [id, digest] of written) {
    const rows = await readRows(database.db, id);
    if (rows === null || digestOfRows(rows) !== digest) count++;
  }
  await database.close();
  return count;
}

function figures(results: readonly HandOverResult[]): readonly Figure[] {
  const all = (of: (result: HandOverResult) => number) =>
    results.reduce((sum, one) => sum + of(one), 0);
  const waited = all((one) => one.waited);
  const isHour = results.every((one) => one.waited === RECORDS);
  const none = (what: string, measured: number): Figure => ({
    what,
    measured: String(measured),
    limit: "0",
    count: waited,
    met: measured === 0 && isHour,
  });
  return [
    none(
      "records lost that came in while the database was away",
      all((one) => one.lost),
    ),
    none(
      "… there twice",
      all((one) => one.twice),
    ),
    none(
      "… still waiting",
      all((one) => one.stillWaits),
    ),
    beside(
      "… handed over when the program was killed",
      results.map((one) => `${one.overAtKill} of ${one.waited}`).join(", "),
      results.length,
    ),
    beside(
      "… the rest handed over, start of the program and all",
      `${Math.max(...results.map((one) => one.handedS)).toFixed(1)} s`,
      results.length,
    ),
  ];
}

export const handOver: Bar<HandOverResult> = {
  name: "handOver",
  counts: { short: 3, long: 20 },
  alone: true,
  job,
  figures,
};
