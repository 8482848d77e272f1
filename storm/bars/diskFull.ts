// Bar: the disk takes no more in the middle of a run: motor off, a named ending, and all that was acknowledged is there.
import { spawnSync } from "node:child_process";
import { once } from "node:events";
import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import type { RunDocument } from "../../core/documents.ts";
import type { ServerMessage } from "../../core/messages.ts";
import { openStore } from "../../server/store/store.ts";
import { digestOf } from "../storage/acknowledged.ts";
import { listening, START } from "../wire/listened.ts";

const ALIVE_EVERY_MS = 250;
const WAIT_MS_MAX = 20_000;

export interface DiskFullResult {
  /** What is missing to limit the files of another process; null: nothing. */
  readonly lacks: string | null;
  /** Told to the page before the disk was full. */
  readonly acknowledged: number;
  /** What must not be; a sentence each. */
  readonly faults: readonly string[];
}

async function job(index: number): Promise<DiskFullResult> {
  const draw = new Draw("full", index);
  if (spawnSync("prlimit", ["--version"]).status !== 0) {
    return { lacks: "prlimit", acknowledged: 0, faults: [] };
  }
  return listening(async (bench) => {
    const page = await bench.connect();
    const told: RunDocument[] = [];
    page.on("message", (data) => {
      const message = JSON.parse(String(data)) as ServerMessage;
      if (message.type === "document" && message.document.type !== "live")
        told.push(message.document);
    });
    const alive = setInterval(() => page.send('{"type":"alive"}'), ALIVE_EVERY_MS);
    try {
      const turning = bench.next(({ rpm }) => rpm !== null && rpm > 0);
      page.send(JSON.stringify(START));
      await turning;
      await pause(draw.uniform(500, 6000));
      const acknowledged = [...told];
      const stopped = bench.next(({ type }) => type === "stop");
      const disarmed = bench.disarmed();
      fill(bench.child.pid ?? 0, bench.folder);
      const faults: string[] = [];
      await stopped.catch(() => faults.push("no stop was sent"));
      await disarmed.catch(() => faults.push("the rig did not come to rest"));
      await ended(told);
      const end = told.at(-1);
      if (end?.type !== "end" || end.ending !== "stopped" || end.reason?.code !== "STORE_FAILED") {
        faults.push(`no ending for want of room: ${JSON.stringify(end)?.slice(0, 200)}`);
      }
      if (bench.child.exitCode !== null) faults.push("the program died");
      bench.child.kill("SIGKILL");
      await once(bench.child, "exit");
      return {
        ...{ lacks: null, acknowledged: acknowledged.length },
        faults: [...faults, ...(await missing(bench.folder, acknowledged))],
      };
    } finally {
      clearInterval(alive);
      page.terminate();
    }
  });
}

/** From now on no file of the process grows beyond what the database's log has, as on a full disk. */
function fill(pid: number, folder: string): void {
  const log = readdirSync(folder).find((name) => name.endsWith("-wal"));
  const bytes = log === undefined ? 1 : statSync(join(folder, log)).size;
  const { status, stderr } = spawnSync("prlimit", ["--pid", String(pid), `--fsize=${bytes}`]);
  if (status !== 0) throw new Error(`prlimit: ${stderr}`);
}

async function ended(told: readonly RunDocument[]): Promise<void> {
  const untilMs = performance.now() + WAIT_MS_MAX;
  while (told.at(-1)?.type !== "end" && performance.now() < untilMs) await pause(20);
}

/** What was acknowledged and is not on file, or is damaged. */
async function missing(folder: string, acknowledged: readonly RunDocument[]): Promise<string[]> {
  const store = await openStore(folder);
  try {
    await store.checkWhole();
    const start = acknowledged.find(({ type }) => type === "start");
    if (start?.type !== "start") return ["no start was acknowledged"];
    const kept = new Set((await store.documentsOnFile(start.recordId)).map(digestOf));
    return acknowledged
      .filter((document) => !kept.has(digestOf(document)))
      .map(({ type }) => `a ${type} document that was acknowledged is lost`);
  } finally {
    await store.close();
  }
}

function figures(results: readonly DiskFullResult[]): readonly Figure[] {
  const measured = results.filter(({ lacks }) => lacks === null);
  const [first] = results.flatMap(({ lacks }) => (lacks === null ? [] : [lacks]));
  if (first !== undefined) {
    return [beside("not measured", `${first} is missing`, results.length)];
  }
  const faults = measured.flatMap((result) => result.faults);
  return [
    {
      what: "disk full in a run: lost, unsafe or without its ending",
      measured: String(faults.length),
      limit: "0",
      count: measured.length,
      met: measured.length > 0 && faults.length === 0,
    },
    beside(
      "documents acknowledged before",
      String(measured.reduce((sum, { acknowledged }) => sum + acknowledged, 0)),
      measured.length,
    ),
    ...faults.slice(0, 5).map((fault) => beside("for example", fault, 1)),
  ];
}

export const diskFull: Bar<DiskFullResult> = {
  name: "full",
  counts: { short: 4, long: 40 },
  alone: true,
  job,
  figures,
};
