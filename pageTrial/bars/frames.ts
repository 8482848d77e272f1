// How much each frame asks of the page with ten thousand readings on its charts, and what two hours leave in its memory.
import { setTimeout as wait } from "node:timers/promises";
import type { CDPSession, Page } from "playwright-core";
import { atMost, type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { onPage, type PageBench } from "../bench.ts";
import { Feed } from "../feed.ts";

const POINTS = 10_000;
const WATCHED_S = 20;
/** As often as the program tells the numbers of now, and as readings come where they come quickest. */
const LIVE_S = 0.1;
const POINT_EVERY_S = 2;
const WORK_MS = 10;
const DROPPED_SHARE = 0.05;
const FRAME_MS = 1000 / 60;
const HEAP_GROWTH = 0.05;
const HOURS = 2;
const FIRST_S = 600;
/** Told in one go between looks at whether the page keeps up. */
const AT_ONCE = 100;

interface Frames {
  readonly workMs: readonly number[];
  readonly droppedShare: number;
}

interface Watched {
  readonly first: Frames;
  readonly later: Frames;
  readonly firstHeap: number;
  readonly laterHeap: number;
}

interface TraceEvent {
  readonly name: string;
  readonly ts: number;
  readonly dur?: number;
  readonly pid: number;
  readonly tid: number;
  readonly args: { readonly name?: string };
}

/** What the main thread did from each frame's begin to the next one's. */
export function framesIn(events: readonly TraceEvent[], pid: number): Frames {
  const isMain = new Set(
    events
      .filter(
        (one) =>
          one.name === "thread_name" && one.args.name === "CrRendererMain" && one.pid === pid,
      )
      .map(({ tid }) => tid),
  );
  const own = events.filter((one) => one.pid === pid && isMain.has(one.tid));
  const begins = own
    .filter(({ name }) => name === "BeginMainThreadFrame")
    .map(({ ts }) => ts)
    .sort((a, b) => a - b);
  const tasks = own.filter(({ name }) => name === "RunTask").sort((a, b) => a.ts - b.ts);
  const workMs: number[] = [];
  let at = 0;
  for (let i = 1; i < begins.length; i++) {
    const [from, to] = [begins[i - 1] as number, begins[i] as number];
    let work = 0;
    while (at < tasks.length) {
      const task = tasks[at] as TraceEvent;
      const end = task.ts + (task.dur ?? 0);
      work += Math.max(0, Math.min(end, to) - Math.max(task.ts, from));
      if (end > to) break;
      at++;
    }
    workMs.push(work / 1000);
  }
  const spanMs = ((begins.at(-1) ?? 0) - (begins[0] ?? 0)) / 1000;
  return { workMs, droppedShare: Math.max(0, 1 - workMs.length / (spanMs / FRAME_MS)) };
}

async function watched({ browser }: PageBench, page: Page, feed: Feed): Promise<Frames> {
  const wire = await browser.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  wire.on("Tracing.dataCollected", ({ value }) => {
    for (const one of value) events.push(one as unknown as TraceEvent);
  });
  // A frame is asked for each time, or a page at rest would have none.
  await page.evaluate(() => {
    const again = () => requestAnimationFrame(again);
    again();
  });
  const includedCategories = [
    "toplevel",
    "devtools.timeline",
    "disabled-by-default-devtools.timeline.frame",
    "disabled-by-default-devtools.timeline",
    "__metadata",
  ];
  await wire.send("Tracing.start", {
    traceConfig: { includedCategories },
    transferMode: "ReportEvents",
  });
  let sincePointS = 0;
  for (let s = 0; s < WATCHED_S; s += LIVE_S) {
    feed.live(LIVE_S);
    sincePointS += LIVE_S;
    if (sincePointS >= POINT_EVERY_S) {
      sincePointS = 0;
      feed.step();
      feed.point();
    }
    await wait(1000 * LIVE_S);
  }
  const ended = new Promise<void>((resolve) =>
    wire.once("Tracing.tracingComplete", () => resolve()),
  );
  await wire.send("Tracing.end");
  await ended;
  await wire.detach();
  const busiest = new Map<number, number>();
  for (const { name, pid } of events) {
    if (name === "BeginMainThreadFrame") busiest.set(pid, (busiest.get(pid) ?? 0) + 1);
  }
  const [pid] = [...busiest].sort((a, b) => b[1] - a[1])[0] ?? [0];
  return framesIn(events, pid);
}

async function heapOf(wire: CDPSession): Promise<number> {
  await wire.send("HeapProfiler.collectGarbage");
  return (await wire.send("Runtime.getHeapUsage")).usedSize;
}

/** The page has drawn what it was told. */
async function caughtUp(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
}

/** So many seconds of the run, told as fast as the page takes them. */
async function passed(page: Page, feed: Feed, seconds: number): Promise<void> {
  const count = Math.round(seconds / LIVE_S);
  for (let i = 0; i < count; i++) {
    feed.live(LIVE_S);
    if (i % AT_ONCE === 0) {
      feed.step();
      await caughtUp(page);
    }
  }
  await caughtUp(page);
}

async function bothHours(bench: PageBench): Promise<Watched> {
  const page = await (
    await bench.browser.newContext({ viewport: { width: 1366, height: 768 } })
  ).newPage();
  const feed = await Feed.on(page, bench.url);
  feed.step();
  for (let i = 0; i < POINTS; i++) {
    feed.point();
    if (i % AT_ONCE === 0) await caughtUp(page);
  }
  await page.getByText("of 10000 readings").waitFor();
  await passed(page, feed, FIRST_S);
  const wire = await page.context().newCDPSession(page);
  const first = await watched(bench, page, feed);
  const firstHeap = await heapOf(wire);
  await passed(page, feed, HOURS * 3600 - FIRST_S);
  const later = await watched(bench, page, feed);
  return { first, later, firstHeap, laterHeap: await heapOf(wire) };
}

/** The 95th of a hundred; NaN without any. */
function p95(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(0.95 * sorted.length))] ?? Number.NaN;
}

function figuresOf(when: string, { workMs, droppedShare }: Frames): readonly Figure[] {
  const drawn = `${POINTS} readings drawn, ${when}`;
  return [
    atMost(
      `${drawn}: main thread's work per frame, p95`,
      p95(workMs),
      WORK_MS,
      workMs.length,
      " ms",
      1,
    ),
    atMost(
      `${drawn}: frames dropped`,
      100 * droppedShare,
      100 * DROPPED_SHARE,
      workMs.length,
      " %",
      1,
    ),
    beside(`${drawn}: most work in a frame`, `${Math.max(...workMs).toFixed(0)} ms`, workMs.length),
  ];
}

export const frames: Bar<Watched> = {
  name: "frames",
  counts: { short: 1, long: 1 },
  alone: true,
  job: () => onPage(bothHours),
  figures: ([one]) =>
    one === undefined
      ? []
      : [
          ...figuresOf("minute ten", one.first),
          ...figuresOf("after two hours", one.later),
          atMost(
            "heap after two hours, against minute ten",
            100 * (one.laterHeap / one.firstHeap - 1),
            100 * HEAP_GROWTH,
            1,
            " %",
            1,
          ),
          beside("heap at minute ten", `${(one.firstHeap / 1e6).toFixed(1)} MB`, 1),
        ],
};
