// The bars' own checks: each is met by good figures and can be missed.
import { describe, expect, it } from "vitest";
import { batch } from "../../bench/bars/batch.ts";
import { chain } from "../../bench/bars/chain.ts";
import { handOver } from "../../bench/bars/handOver.ts";
import { history } from "../../bench/bars/history.ts";
import { latency } from "../../bench/bars/latency.ts";
import { memory } from "../../bench/bars/memory.ts";
import { plan } from "../../bench/bars/plan.ts";
import { python } from "../../bench/bars/python.ts";
import { startUp } from "../../bench/bars/startUp.ts";
import { readingsOf } from "../../bench/readings.ts";
import { record } from "../../bench/recording.ts";
import { middle } from "../../bench/timing.ts";

const judged = (figures: readonly { met: boolean | null }[]) =>
  figures.map(({ met }) => met).filter((met) => met !== null);

describe("figures of made-up results", () => {
  it("chain: at most 2.5 times plain line reading", () => {
    const at = (chainS: number) =>
      judged(
        chain.figures([
          { pickupEdges: 36, turns: 4000, bytes: 1e6, chainS, readlineS: 0.01, splittingS: 0.004 },
        ]),
      );
    expect(at(0.025)).toEqual([true]);
    expect(at(0.0251)).toEqual([false]);
  });

  it("python: three times as fast, and neither met nor missed without it", () => {
    const at = (scriptS: number | null) =>
      judged(python.figures([{ pickupEdges: 1, turns: 4000, chainS: 0.01, scriptS }]));
    expect(at(0.03)).toEqual([true]);
    expect(at(0.029)).toEqual([false]);
    expect(at(null)).toEqual([]);
  });

  it("plan: the middle process, by its first run", () => {
    const at = (...firsts: number[]) => judged(plan.figures(firsts.map((first) => [first, 0.5])));
    expect(at(2, 0.9, 0.8)).toEqual([true]);
    expect(at(2, 1.1, 0.8)).toEqual([false]);
    expect(judged(plan.figures([]))).toEqual([false]);
  });

  it("start-up", () => {
    expect(judged(startUp.figures([1.2, 9, 1.4]))).toEqual([true]);
    expect(judged(startUp.figures([1.2, 9, 1.6]))).toEqual([false]);
  });
});

it("the middle of an even number is the upper one", () => {
  expect(middle([3, 1, 2])).toBe(2);
  expect(middle([4, 1, 2, 3])).toBe(3);
  expect(middle([])).toBeNaN();
});

it("the recording has turns at seven speeds, all of them good", async () => {
  const recording = await record(1);
  // Seven times 20 seconds at 300 to 4,000 rpm are 4,533 turns, and ramps are left out of none.
  expect(readingsOf(recording)).toBeGreaterThan(4533);
});

it("history: 95 of 100 within 50 ms", () => {
  const at = (...slowestMs: number[]) => {
    const askedMs = [...Array.from({ length: 100 - slowestMs.length }, () => 1), ...slowestMs];
    return judged(
      history.figures([{ database: "SQLite", records: 1000, bytes: 1e6, fillS: 1, askedMs }]),
    );
  };
  expect(at(90, 90, 90, 90, 90)).toEqual([false]);
  expect(at(90, 90, 90, 90)).toEqual([true]);
});

it("batch: 1.8 times as fast on two workers, the same bytes", () => {
  const at = (twoS: number, same = true) =>
    judged(batch.figures([{ units: 100, oneS: 18, twoS, same }]));
  expect(at(10)).toEqual([true, true]);
  expect(at(10.1)).toEqual([false, true]);
  expect(at(10, false)).toEqual([true, false]);
});

it("latency: 99 of 100 messages within 10 ms", () => {
  const at = (...lateMs: number[]) => {
    const onTime = Array.from({ length: 200 - lateMs.length }, () => 2);
    return judged(latency.figures([[...onTime, ...lateMs]]));
  };
  expect(at(60, 60)).toEqual([true]);
  expect(at(60, 60, 60)).toEqual([false]);
  expect(judged(latency.figures([]))).toEqual([false]);
});

it("hand-over: nothing lost, twice or left of an hour's records", () => {
  const good = { waited: 7, overAtKill: 3, lost: 0, twice: 0, stillWaits: 0, handedS: 2 };
  const at = (change: Partial<typeof good>) =>
    judged(handOver.figures([good, { ...good, ...change }]));
  expect(at({})).toEqual([true, true, true]);
  expect(at({ lost: 1 })).toEqual([false, true, true]);
  expect(at({ twice: 1 })).toEqual([true, false, true]);
  expect(at({ stillWaits: 1 })).toEqual([true, true, false]);
  // Too few of them say nothing.
  expect(at({ waited: 6 })).toEqual([false, false, false]);
});

it("memory: heap and process within 5 % of the first hour", () => {
  const at = (heapMb: number, residentMb: number) =>
    judged(
      memory.figures([
        [
          { hours: 0.5, heapMb: 20, residentMb: 100 },
          { hours: 12, heapMb: 90, residentMb: 900 },
          { hours: 24, heapMb, residentMb },
        ],
      ]),
    );
  expect(at(21, 105)).toEqual([true, true]);
  expect(at(21.1, 105)).toEqual([false, true]);
  expect(at(21, 105.1)).toEqual([true, false]);
  // Nothing measured is nothing met.
  expect(judged(memory.figures([[]]))).toEqual([false, false]);
});
