// Bar: from the cause to the stop command on the wire, with the motor turning.
import { setTimeout as pause } from "node:timers/promises";
import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { listening, START } from "../wire/listened.ts";

const CAUSES = ["click or key", "SIGINT", "SIGTERM", "page closed"] as const;
type Cause = (typeof CAUSES)[number];
const LIMIT_MS = 50;
const ALIVE_EVERY_MS = 250;

export interface StopResult {
  readonly cause: Cause;
  readonly ms: number;
}

async function job(index: number): Promise<StopResult> {
  const draw = new Draw("stops", index);
  const cause = CAUSES[index % CAUSES.length] as Cause;
  return listening(async ({ child, connect, next }) => {
    const page = await connect();
    const alive = setInterval(() => page.send('{"type":"alive"}'), ALIVE_EVERY_MS);
    try {
      const turning = next(({ rpm }) => rpm !== null && rpm > 0);
      page.send(JSON.stringify(START));
      await turning;
      await pause(draw.uniform(300, 1500));
      const stopped = next(({ type }) => type === "stop");
      const causedMs = performance.now();
      if (cause === "click or key") page.send('{"type":"stop"}');
      else if (cause === "page closed") page.terminate();
      else child.kill(cause);
      return { cause, ms: (await stopped).ms - causedMs };
    } finally {
      clearInterval(alive);
    }
  });
}

function figures(results: readonly StopResult[]): readonly Figure[] {
  const sorted = results.map(({ ms }) => ms).sort((a, b) => a - b);
  const p99 = sorted[Math.ceil(sorted.length * 0.99) - 1] ?? Number.NaN;
  return [
    atMost(
      "cause to stop command on the wire, 99th percentile",
      p99,
      LIMIT_MS,
      results.length,
      " ms",
      1,
    ),
    ...CAUSES.map((cause) => {
      const own = results.filter((result) => result.cause === cause).map(({ ms }) => ms);
      return beside(`longest, ${cause}`, `${Math.max(0, ...own).toFixed(1)} ms`, own.length);
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
