// The page's own bars: each is met by good figures and can be missed.
import { expect, it, vi } from "vitest";
import { frames, framesIn } from "../../pageTrial/bars/frames.ts";
import { keyboard } from "../../pageTrial/bars/keyboard.ts";
import { newUser } from "../../pageTrial/bars/newUser.ts";
import { print } from "../../pageTrial/bars/print.ts";
import { screens } from "../../pageTrial/bars/screens.ts";
import { shift } from "../../pageTrial/bars/shift.ts";
import { weight } from "../../pageTrial/bars/weight.ts";

const judged = (figures: readonly { met: boolean | null }[]) =>
  figures.map(({ met }) => met).filter((met) => met !== null);

it("new user: at most six clicks, and no key", () => {
  const tried = (clicks: number, keys: number) =>
    judged(newUser.figures([{ clicks, keys, verdict: "✓ Within specification" }]));
  expect(tried(6, 0)).toEqual([true, true]);
  expect(tried(7, 0)).toEqual([false, true]);
  expect(tried(2, 1)).toEqual([true, false]);
});

it("shift: ten minutes, and a sheet", () => {
  expect(judged(shift.figures([{ minutes: 9.9, sheetBytes: 20_000 }]))).toEqual([true]);
  expect(judged(shift.figures([{ minutes: 10.1, sheetBytes: 20_000 }]))).toEqual([false]);
  expect(shift.figures([{ minutes: 5, sheetBytes: 0 }])).toEqual([]);
});

it("weight: 200 kB", () => {
  expect(judged(weight.figures([{ bytes: 199_900, parts: 7 }]))).toEqual([true]);
  expect(judged(weight.figures([{ bytes: 200_100, parts: 7 }]))).toEqual([false]);
});

it("keyboard: the owner's page with what was typed, and no pointer", () => {
  const keyed = (owner: string, pointers: number) =>
    judged(keyboard.figures([{ keys: 160, pointers, owner }]));
  expect(keyed("For A. Example", 0)).toEqual([true]);
  expect(keyed("For nobody", 0)).toEqual([false]);
  expect(keyed("For A. Example", 1)).toEqual([false]);
});

it("screens: nothing of any kind, in any state", () => {
  const said = vi.spyOn(process.stderr, "write").mockReturnValue(true);
  const clean = { state: "start", violations: [], troubles: [], sideways: [] };
  expect(judged(screens.figures([[clean], [clean]]))).toEqual([true, true, true]);
  const spoilt = { ...clean, troubles: ['390 px: cut: "Unit"'] };
  expect(judged(screens.figures([[clean], [spoilt]]))).toEqual([true, false, true]);
  expect(said).toHaveBeenCalledWith('page: start, 390 px: cut: "Unit"\n');
  expect(judged(screens.figures([]))).toEqual([false, false, false]);
  said.mockRestore();
});

it("print: one page where there is to be one, nothing beyond the edge", () => {
  const said = vi.spyOn(process.stderr, "write").mockReturnValue(true);
  const printed = (pages: number, cut: readonly string[]) =>
    judged(
      print.figures([
        [
          { what: "owner", isOnePage: true, pages, cut },
          { what: "file", isOnePage: false, pages: 3, cut: [] },
        ],
      ]),
    );
  expect(printed(1, [])).toEqual([true, true]);
  expect(printed(2, [])).toEqual([false, true]);
  expect(printed(1, ["TD 12.5"])).toEqual([true, false]);
  said.mockRestore();
});

it("frames: work and frames dropped at minute ten and after two hours, and the heap", () => {
  const good = { workMs: [1, 2, 9.9], droppedShare: 0.049 };
  const watched = (later: typeof good, laterHeap: number) =>
    judged(frames.figures([{ first: good, later, firstHeap: 100, laterHeap }]));
  expect(watched(good, 104)).toEqual([true, true, true, true, true]);
  expect(watched({ ...good, workMs: [1, 2, 10.1] }, 104)[2]).toBe(false);
  expect(watched({ ...good, droppedShare: 0.06 }, 104)[3]).toBe(false);
  expect(watched(good, 106)[4]).toBe(false);
  expect(watched({ workMs: [], droppedShare: Number.NaN }, 104).slice(2, 4)).toEqual([
    false,
    false,
  ]);
});

it("a frame's work is what its thread did between its begin and the next, in no other process", () => {
  const main = { pid: 1, tid: 7, args: {} };
  const named = { ...main, name: "thread_name", ts: 0, args: { name: "CrRendererMain" } };
  const begin = (ts: number) => ({ ...main, name: "BeginMainThreadFrame", ts });
  const task = (ts: number, dur: number) => ({ ...main, name: "RunTask", ts, dur });
  const others = [
    { ...task(100, 9000), pid: 2 },
    { ...task(100, 9000), tid: 8 },
  ];
  const tasks = [task(1000, 2000), task(16_000, 2000), task(20_000, 500)];
  const begins = [begin(0), begin(17_000), begin(50_000)];
  const { workMs, droppedShare } = framesIn([named, ...begins, ...tasks, ...others], 1);
  expect(workMs).toEqual([3, 1.5]);
  // Three frames' time for two.
  expect(droppedShare).toBeCloseTo(1 / 3, 6);
});
