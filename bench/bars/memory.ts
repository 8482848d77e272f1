// Bar: what the server holds after a day of rig time, run after run with a page watching, beside its first hour.

import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import { WebSocket } from "ws";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import type { ClientMessage, ServerMessage } from "../../core/messages.ts";
import { enteredBy } from "../../storm/wire/entered.ts";

const PROGRAM = fileURLToPath(new URL("../../../../bin/bobweight.js", import.meta.url));
const HOURS = 24;
const GROWN_MAX = 1.05;
const PACE = 50;
const ALIVE_EVERY_MS = 250;
const HOUR_S = 3600;
const MB = 2 ** 20;
const START: ClientMessage = {
  ...{ type: "start", rigId: "stand-in", unitId: "everyday", scenarioId: "healthy", pace: PACE },
  ...{ plan: null, contacts: null, afterRecordId: null, jobId: null, cautionsRead: true },
};

/** After a run, once all that can be freed was. */
export interface Sample {
  /** Of rig time since the first run began. */
  readonly hours: number;
  readonly heapMb: number;
  /** Of the whole process, as the system counts it. */
  readonly residentMb: number;
}

export type MemoryResult = readonly Sample[];

async function job(): Promise<MemoryResult> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  const args = ["--inspect=127.0.0.1:0", PROGRAM, "serve", "--port", "0", "--data", folder];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "pipe"] });
  const gone = once(child, "exit");
  try {
    const [[served], [told]] = (await Promise.all([
      once(createInterface(child.stdout), "line"),
      once(createInterface(child.stderr), "line"),
    ])) as [[string], [string]];
    const inspector = await opened(new WebSocket(told.slice(told.indexOf("ws://"))));
    const page = await pageOf(served);
    const alive = setInterval(() => page.send('{"type":"alive"}'), ALIVE_EVERY_MS);
    const samples: Sample[] = [];
    let rigS = 0;
    while (rigS < HOURS * HOUR_S) {
      rigS += await oneRun(page);
      samples.push({ hours: rigS / HOUR_S, ...(await held(inspector, child.pid)) });
    }
    clearInterval(alive);
    inspector.close();
    return samples;
  } finally {
    child.kill("SIGKILL");
    await gone;
    rmSync(folder, { recursive: true, force: true });
  }
}

async function opened(socket: WebSocket): Promise<WebSocket> {
  await once(socket, "open");
  return socket;
}

async function pageOf(served: string): Promise<WebSocket> {
  const { origin, host, cookie } = await enteredBy(served);
  return opened(new WebSocket(`ws://${host}/live`, { origin, headers: { cookie } }));
}

/** Seconds that it takes at the pace of life. @throws where it is refused or does not get to its end */
function oneRun(page: WebSocket): Promise<number> {
  return new Promise((resolve, reject) => {
    let expectedS = 0;
    const closed = () => reject(new Error("the server closed the page"));
    const told = (data: unknown) => {
      const message = JSON.parse(String(data)) as ServerMessage;
      if (message.type === "refused") reject(new Error(message.text));
      if (message.type !== "document") return;
      const { document } = message;
      if (document.type === "start") ({ expectedS } = document);
      if (document.type !== "end") return;
      page.off("message", told);
      page.off("close", closed);
      if (document.ending === "completed") resolve(expectedS);
      else reject(new Error(`a run ended ${document.ending}`));
    };
    page.on("message", told);
    page.once("close", closed);
    page.send(JSON.stringify(START));
  });
}

let asked = 0;

async function ask(inspector: WebSocket, method: string): Promise<Record<string, unknown>> {
  const id = ++asked;
  inspector.send(JSON.stringify({ id, method }));
  for (;;) {
    const [data] = (await once(inspector, "message")) as [unknown];
    const answer = JSON.parse(String(data));
    if (answer.id === id) return answer.result;
  }
}

async function held(
  inspector: WebSocket,
  pid: number | undefined,
): Promise<Pick<Sample, "heapMb" | "residentMb">> {
  await ask(inspector, "HeapProfiler.collectGarbage");
  const { usedSize } = await ask(inspector, "Runtime.getHeapUsage");
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  const residentKb = /^VmRSS:\s+(\d+) kB$/m.exec(status)?.[1];
  return { heapMb: Number(usedSize) / MB, residentMb: Number(residentKb) / 1024 };
}

function figures(results: readonly MemoryResult[]): readonly Figure[] {
  return results.flatMap((samples) => {
    const lastHours = samples.at(-1)?.hours ?? 0;
    const mean = (some: MemoryResult, of: (sample: Sample) => number) =>
      some.reduce((sum, one) => sum + of(one), 0) / some.length;
    const first = samples.filter(({ hours }) => hours <= 1);
    const last = samples.filter(({ hours }) => hours > lastHours - 1);
    // By then all code that runs often has been compiled, which takes memory too.
    const fourth = samples.filter(({ hours }) => hours > 3 && hours <= 4);
    const grown = (what: string, of: (sample: Sample) => number): Figure => {
      const share = mean(last, of) / mean(first, of);
      return {
        what,
        measured: `${share.toFixed(3)} × (${mean(first, of).toFixed(1)} to ${mean(last, of).toFixed(1)} MB)`,
        limit: `≤ ${GROWN_MAX} ×`,
        count: samples.length,
        met: share <= GROWN_MAX,
      };
    };
    return [
      grown("the server's heap in its last hour beside its first", ({ heapMb }) => heapMb),
      grown("the server's process in its last hour beside its first", (one) => one.residentMb),
      beside(
        "… beside its fourth",
        `${(mean(last, ({ heapMb }) => heapMb) / mean(fourth, ({ heapMb }) => heapMb)).toFixed(3)} × of the heap`,
        samples.length,
      ),
      beside("… rig time", `${lastHours.toFixed(1)} h`, samples.length),
    ];
  });
}

export const memory: Bar<MemoryResult> = {
  name: "memory",
  // Half an hour by the clock.
  counts: { short: 0, long: 1 },
  alone: true,
  job,
  figures,
};
