// The real server with a rig on a pseudo-terminal, whose every line from the server is heard and timed here.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { WebSocket } from "ws";
import { LineCutter } from "../../core/codec/framing.ts";
import { parseHostLine } from "../../core/codec/hostLines.ts";
import { RigLineReader } from "../../core/codec/rigLineReader.ts";
import type { ClientMessage } from "../../core/messages.ts";
import { RealScheduler } from "../../server/schedulers.ts";
import { Board } from "../../sim/board.ts";
import { openSimulatedPort } from "../../sim/process.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { enteredBy } from "./entered.ts";

const ROOT = new URL("../../../../", import.meta.url);
const PROGRAM = fileURLToPath(new URL("bin/bobweight.js", ROOT));
const LOOK_MS = 2;
const WAIT_MS_MAX = 30_000;

/** A line from the server to the rig. */
export interface Heard {
  readonly type: string;
  /** Of a speed command. */
  readonly rpm: number | null;
  readonly ms: number;
}

/** A turn whose last byte went to the server. */
export interface Turned {
  readonly duringTicks: number;
  readonly ms: number;
}

export interface Listened {
  readonly child: ChildProcess;
  readonly heard: readonly Heard[];
  /** All so far, as they went out. */
  readonly turned: readonly Turned[];
  readonly origin: string;
  readonly cookie: string;
  /** A connection with these headers; rejects where it is refused. */
  connect(headers?: { origin?: string; cookie?: string }): Promise<WebSocket>;
  /** Where the data lie. */
  readonly folder: string;
  /** When the rig's next state line goes out that says that it is not armed. @throws where none does in half a minute */
  disarmed(): Promise<number>;
  /** The first line from now on that fits. @throws where none comes in half a minute */
  next(fits: (line: Heard) => boolean): Promise<Heard>;
}

/** Commands that arm or move. */
export const MOVES: ReadonlySet<string> = new Set(["arm", "speed", "vacuum"]);

export const START: Extract<ClientMessage, { type: "start" }> = {
  ...{ type: "start", rigId: "wire", unitId: "everyday", scenarioId: null, pace: 1 },
  ...{ plan: null, contacts: null, afterRecordId: null, jobId: null, cautionsRead: true },
};

/**
 * `files`: what lies in the data folder beside the rig's own file, by name. `flags`: of the server's Node.
 * @throws PSEUDO_TERMINAL_UNAVAILABLE, or what `work` throws
 */
export async function listening<T>(
  work: (bench: Listened) => Promise<T>,
  {
    files = {},
    flags = [],
  }: { files?: Readonly<Record<string, unknown>>; flags?: readonly string[] } = {},
): Promise<T> {
  const heard: Heard[] = [];
  const disarmedMs: number[] = [];
  const turned: Turned[] = [];
  const reader = new RigLineReader();
  const sent = new LineCutter((bytes, from, to) => {
    const line = reader.read(bytes, from, to);
    if (line.type === "state" && !line.armed) disarmedMs.push(performance.now());
    if (line.type !== "rev" || line.part < line.parts) return;
    turned.push({ duringTicks: line.duringTicks, ms: performance.now() });
  });
  const cutter = new LineCutter((bytes, from, to) => {
    const line = parseHostLine(bytes, from, to);
    const rpm = line.type === "speed" ? line.speedRpm : null;
    heard.push({ type: line.type, rpm, ms: performance.now() });
  });
  const file = new URL("examples/healthy.scenario.json", ROOT);
  const scenario = parseScenario(JSON.parse(readFileSync(file, "utf8")), "healthy");
  const port = await openSimulatedPort(scenario, new RealScheduler(), (...parts) => {
    const board = new Board(...parts);
    const receive = board.receive.bind(board);
    board.receive = (bytes) => {
      cutter.push(bytes);
      receive(bytes);
    };
    const { outbox } = board;
    const take = outbox.take.bind(outbox);
    outbox.take = (elapsedS) => {
      const bytes = take(elapsedS);
      if (bytes !== null) sent.push(bytes);
      return bytes;
    };
    return board;
  });
  const data = mkdtempSync(join(tmpdir(), "bobweight-wire-"));
  const rig = { kind: "serial", name: "Wire", path: port.path, baud: 115_200 };
  for (const [name, content] of Object.entries({ "wire.rig.json": rig, ...files })) {
    writeFileSync(join(data, name), JSON.stringify(content));
  }
  const child = spawn(
    process.execPath,
    [...flags, PROGRAM, "serve", "--port", "0", "--data", data],
    {
      stdio: ["ignore", "pipe", "ignore"],
    },
  );
  const gone = once(child, "exit");
  try {
    const [url] = (await once(createInterface(child.stdout), "line")) as [string];
    const { origin, host, cookie } = await enteredBy(url);
    return await work({
      ...{ child, heard, turned, origin, cookie, folder: data },
      connect: (given = {}) => connected(host, { origin, cookie, ...given }),
      next: (fits) => nextOf(heard, fits),
      disarmed: () => nextOf(disarmedMs, () => true),
    });
  } finally {
    child.kill("SIGKILL");
    await gone;
    port.close();
    rmSync(data, { recursive: true, force: true });
  }
}

async function connected(
  host: string,
  { origin, cookie }: { origin: string; cookie: string },
): Promise<WebSocket> {
  const socket = new WebSocket(`ws://${host}/live`, { origin, headers: { cookie } });
  socket.on("error", () => {});
  await new Promise((resolve, reject) => {
    socket.once("open", resolve);
    socket.once("close", () => reject(new Error("refused")));
  });
  return socket;
}

async function nextOf<T>(heard: readonly T[], fits: (one: T) => boolean): Promise<T> {
  const from = heard.length;
  const until = performance.now() + WAIT_MS_MAX;
  for (;;) {
    const found = heard.slice(from).find(fits);
    if (found !== undefined) return found;
    if (performance.now() > until) throw new Error("nothing of the kind came over the wire");
    await pause(LOOK_MS);
  }
}
