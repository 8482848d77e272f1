// Bar: nothing but arm and start of the one controller starts motion; all else that was ever sent does not.
import { setTimeout as pause } from "node:timers/promises";
import type { WebSocket } from "ws";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { listening, MOVES, START } from "../wire/listened.ts";

const SETTLE_MS = 400;

export interface MotionResult {
  readonly attempts: number;
  /** Commands that arm or move which came over the wire for none of the starts that were allowed. */
  readonly unasked: readonly string[];
  /** Whether an allowed start did move: else the rest proves nothing. */
  readonly moved: boolean;
}

async function job(): Promise<MotionResult> {
  return listening(async ({ heard, origin, cookie, connect, next }) => {
    let attempts = 0;
    const unasked: string[] = [];
    const start = JSON.stringify(START);
    const expectNone = async (what: string, attempt: () => Promise<unknown>) => {
      attempts++;
      const before = heard.length;
      await attempt().catch(() => {});
      await pause(SETTLE_MS);
      const moves = heard.slice(before).filter(({ type }) => MOVES.has(type));
      if (moves.length > 0) unasked.push(`${what}: ${moves.map(({ type }) => type).join(", ")}`);
    };
    const sent = async (socket: Promise<WebSocket>, message: string) =>
      (await socket).send(message);

    await expectNone("another site", () => sent(connect({ origin: "http://evil.example" }), start));
    await expectNone("no cookie", () => sent(connect({ cookie: "" }), start));
    await expectNone("wrong cookie", () => sent(connect({ cookie: `${cookie}x` }), start));
    for (const path of ["/live", "/api/start", "/api/choices"]) {
      const headers = { cookie, origin, "content-type": "application/json" };
      await expectNone(`POST ${path}`, () =>
        fetch(origin + path, { method: "POST", headers, body: start }),
      );
      await expectNone(`GET ${path}`, () =>
        fetch(`${origin}${path}?message=${start}`, { headers: { cookie } }),
      );
    }
    const page = await connect();
    for (const changed of [
      { cautionsRead: false },
      { cautionsRead: "true" },
      { type: "Start" },
      { more: true },
      { rigId: "other" },
    ]) {
      const message = JSON.stringify({ ...START, ...changed });
      await expectNone(message, async () => page.send(message));
    }
    await expectNone("alive and stop alone", async () => {
      page.send('{"type":"alive"}');
      page.send('{"type":"stop"}');
    });
    await expectNone("another page's stop and sign of life", async () => {
      const other = await connect();
      other.send('{"type":"stop"}');
      other.send('{"type":"alive"}');
      other.terminate();
    });

    const alive = setInterval(() => page.send('{"type":"alive"}'), 250);
    const turning = next(({ rpm }) => rpm !== null && rpm > 0);
    page.send(start);
    const moved = await turning.then(
      () => true,
      () => false,
    );
    const second = await connect();
    const arms = () => heard.filter(({ type }) => type === "arm").length;
    const before = arms();
    attempts++;
    second.send(start);
    second.send('{"type":"alive"}');
    await pause(SETTLE_MS);
    if (arms() !== before) unasked.push("a second page's start during a run: arm");
    const stopped = next(({ type }) => type === "stop");
    second.send('{"type":"stop"}');
    await stopped;
    await expectNone("signs of life after the stop", async () => second.send('{"type":"alive"}'));
    clearInterval(alive);
    page.terminate();
    await expectNone("the controller gone", async () => second.send('{"type":"alive"}'));
    return { attempts, unasked, moved };
  });
}

function figures(results: readonly MotionResult[]): readonly Figure[] {
  const unasked = results.flatMap((result) => result.unasked);
  const attempts = results.reduce((sum, result) => sum + result.attempts, 0);
  return [
    {
      what: "motion started by anything but arm and start of the controller",
      measured: String(unasked.length),
      limit: "0",
      count: attempts,
      met: attempts > 0 && unasked.length === 0 && results.every(({ moved }) => moved),
    },
    ...unasked.slice(0, 5).map((one) => beside("for example", one, 1)),
  ];
}

export const motion: Bar<MotionResult> = {
  name: "motion",
  counts: { short: 3, long: 30 },
  alone: true,
  job,
  figures,
};
