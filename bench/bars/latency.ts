// Bar: from the last byte of a turn into the pseudo-terminal to the message at a page, at full speed.

import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { percentile } from "../../accuracy/percentile.ts";
import type { RunDocument } from "../../core/documents.ts";
import type { ServerMessage } from "../../core/messages.ts";
import { listening, START, type Turned } from "../../storm/wire/listened.ts";
import { middle } from "../timing.ts";

const LIMIT_MS = 10;
const RPM = 4000;
const TICK_HZ = 1_000_000;
const ALIVE_EVERY_MS = 250;
/** The stand-in's jitter makes hardly two turns equal; an older one would be no news. */
const RECENT_MS = 500;
const SECONDS = 60;
const WAIT_MS_MAX = 120_000;

/** Milliseconds of each message. */
export type LatencyResult = readonly number[];

const UNIT_FILE = "full-speed.unit.json";
const UNIT = { description: "full speed", lobes: 4, rotation: "cw", speedMaxRpm: 4500 };
const PLAN = { speedsRpm: [RPM], hold: false, rampRpmPerS: 1000, secondsPerReading: 20 };

async function job(): Promise<LatencyResult> {
  return listening(
    async ({ turned, connect }) => {
      const page = await connect();
      const alive = setInterval(() => page.send('{"type":"alive"}'), ALIVE_EVERY_MS);
      const found: number[] = [];
      try {
        await new Promise<void>((resolve, reject) => {
          const late = setTimeout(() => reject(new Error("no full speed came")), WAIT_MS_MAX);
          const enough = () => {
            clearTimeout(late);
            resolve();
          };
          page.on("message", (data) => {
            const cameMs = performance.now();
            const message = JSON.parse(String(data)) as ServerMessage;
            if (message.type === "refused") reject(new Error(message.text));
            if (message.type !== "document") return;
            const sinceMs = sinceTurn(message.document, turned, cameMs);
            if (sinceMs !== null) found.push(sinceMs);
            if (found.length >= 10 * SECONDS || message.document.type === "end") enough();
          });
          page.send(JSON.stringify({ ...START, unitId: UNIT_FILE, plan: PLAN }));
        });
      } finally {
        clearInterval(alive);
        page.send('{"type":"stop"}');
      }
      return found;
    },
    { files: { [UNIT_FILE]: UNIT } },
  );
}

/** Of a live view at full speed: since the turn that it tells of had gone out. */
function sinceTurn(
  document: RunDocument,
  turned: readonly Turned[],
  cameMs: number,
): number | null {
  if (document.type !== "live" || document.speedRpm < 0.98 * RPM) return null;
  const ticks = Math.round((60 * TICK_HZ) / document.speedRpm);
  const own = turned.findLast(({ duringTicks }) => duringTicks === ticks);
  if (own === undefined || cameMs - own.ms > RECENT_MS) return null;
  return cameMs - own.ms;
}

function figures(results: readonly LatencyResult[]): readonly Figure[] {
  const all = results.flat().sort((a, b) => a - b);
  const p99 = percentile(all, 0.99);
  return [
    atMost("last byte of a turn to message, 99 of 100", p99, LIMIT_MS, all.length, " ms", 1),
    beside("… the middle one", `${middle(all).toFixed(1)} ms`, all.length),
    beside("… the longest", `${(all.at(-1) ?? Number.NaN).toFixed(1)} ms`, all.length),
  ];
}

export const latency: Bar<LatencyResult> = {
  name: "latency",
  counts: { short: 1, long: 10 },
  alone: true,
  job,
  figures,
};
