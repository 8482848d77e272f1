// Bar: from the cause to the stop command on the wire, with the motor turning; or, where the program is gone, to the rig's own rest.

import { setTimeout as pause } from "node:timers/promises";
import type { WebSocket } from "ws";
import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { percentile } from "../../accuracy/percentile.ts";
import { type Listened, listening, START } from "../wire/listened.ts";
import { type Onlooker, onlooker } from "../wire/pressed.ts";

const ALIVE_EVERY_MS = 250;
const LIMIT_MS = 50;
/** Clause 6.1. */
const EXPIRY_MS = 500;

/** What is done to a bench whose motor turns; gives the moment of it. */
type Cause = (
  bench: Listened,
  page: WebSocket,
  browser: Onlooker | null,
) => number | undefined | Promise<number | undefined>;

const signal =
  (name: NodeJS.Signals): Cause =>
  ({ child }) => {
    const ms = performance.now();
    child.kill(name);
    return ms;
  };

const CAUSES: Readonly<Record<string, Cause>> = {
  "page's message": (_, page) => {
    const ms = performance.now();
    page.send('{"type":"stop"}');
    return ms;
  },
  "browser's button": (_, __, browser) => browser?.press("click"),
  "browser's Escape": (_, __, browser) => browser?.press("keydown"),
  SIGINT: signal("SIGINT"),
  SIGTERM: signal("SIGTERM"),
  "page closed": (_, page) => {
    const ms = performance.now();
    page.terminate();
    return ms;
  },
};

/** No stop can be sent by a program that is gone: the rig's own rest counts, from the last stay-alive. */
const CRASHES: Readonly<Record<string, Cause>> = {
  "uncaught exception": signal("SIGUSR2"),
  SIGKILL: signal("SIGKILL"),
};
/** Throws where nobody catches it, in a timer's turn as a mistake of ours would. */
const CRASH_AT_SIGNAL =
  'process.on("SIGUSR2", () => setTimeout(() => { throw new Error("crash"); }))';
const CRASHING = ["--import", `data:text/javascript,${encodeURIComponent(CRASH_AT_SIGNAL)}`];

const ALL = { ...CAUSES, ...CRASHES };

export interface StopResult {
  readonly cause: string;
  readonly ms: number;
}

async function job(index: number): Promise<StopResult> {
  const draw = new Draw("stops", index);
  const names = Object.keys(ALL);
  const name = names[index % names.length] as string;
  const cause = ALL[name] as Cause;
  return listening(
    async (bench) => {
      const browser = name.startsWith("browser") ? await onlooker(bench) : null;
      const page = await bench.connect();
      const alive = setInterval(() => page.send('{"type":"alive"}'), ALIVE_EVERY_MS);
      try {
        const turning = bench.next(({ rpm }) => rpm !== null && rpm > 0);
        page.send(JSON.stringify(START));
        await turning;
        await pause(draw.uniform(300, 1500));
        const over = name in CRASHES ? bench.disarmed() : null;
        const stopped = over === null ? bench.next(({ type }) => type === "stop") : null;
        const causedMs = (await cause(bench, page, browser)) ?? Number.NaN;
        if (stopped !== null) return { cause: name, ms: (await stopped).ms - causedMs };
        const restMs = (await over) ?? Number.NaN;
        const last = bench.heard.findLast(({ type }) => type === "alive");
        return { cause: name, ms: restMs - (last?.ms ?? Number.NaN) };
      } finally {
        clearInterval(alive);
        await browser?.close();
      }
    },
    { flags: CRASHING },
  );
}

function figures(results: readonly StopResult[]): readonly Figure[] {
  const stopped = results.filter(({ cause }) => cause in CAUSES).map(({ ms }) => ms);
  const expired = results.filter(({ cause }) => cause in CRASHES).map(({ ms }) => ms);
  const p99 = percentile(stopped, 0.99);
  return [
    atMost(
      "cause to stop command on the wire, 99th percentile",
      p99,
      LIMIT_MS,
      stopped.length,
      " ms",
      1,
    ),
    atMost(
      "program gone: last stay-alive to the rig's own rest, longest",
      expired.reduce((longest, ms) => Math.max(longest, ms), Number.NEGATIVE_INFINITY),
      EXPIRY_MS,
      expired.length,
      " ms",
      0,
    ),
    ...Object.keys(ALL).map((name) => {
      const own = results.filter(({ cause }) => cause === name).map(({ ms }) => ms);
      return beside(`longest, ${name}`, `${Math.max(0, ...own).toFixed(1)} ms`, own.length);
    }),
  ];
}

export const stops: Bar<StopResult> = {
  name: "stops",
  counts: { short: 40, long: 400 },
  alone: true,
  job,
  figures,
};
