// The bars' own checks: each is met by good figures and can be missed.
import { describe, expect, it } from "vitest";
import { choose } from "../../accuracy/bars/choose.ts";
import { delay } from "../../accuracy/bars/delay.ts";
import { edges } from "../../accuracy/bars/edges.ts";
import { events } from "../../accuracy/bars/events.ts";
import { lobes } from "../../accuracy/bars/lobes.ts";
import { quantisation } from "../../accuracy/bars/quantisation.ts";
import { ramp } from "../../accuracy/bars/ramp.ts";
import { reclamp } from "../../accuracy/bars/reclamp.ts";
import { steady } from "../../accuracy/bars/steady.ts";
import { measure, measureReadings } from "../../accuracy/standIn.ts";
import { figuresOf, tableOf } from "../../accuracy/table.ts";

const judged = (figures: readonly { met: boolean | null }[]) =>
  figures.map(({ met }) => met).filter((met) => met !== null);

describe("figures of made-up results", () => {
  it("steady", () => {
    const at = (biasDeg: number) => [{ speedRpm: 500, turns: 300, biasDeg }];
    expect(judged(steady.figures(at(0.019)))).toEqual([true]);
    expect(judged(steady.figures(at(-0.021)))).toEqual([false]);
  });

  it("ramp: a bias in one range of speed, and corners that hold", () => {
    const at = (biasDeg: number, cornersHeld: number) => {
      const bins = [300, 450, 700, 1100, 1700, 2600].map((fromRpm) => ({
        fromRpm,
        count: 100,
        biasDeg: fromRpm === 700 ? biasDeg : 0,
        constantSpeedBiasDeg: 5,
      }));
      return judged(ramp.figures([{ bins, corners: 100, cornersHeld, cornerWorstDeg: 1 }]));
    };
    expect(at(0.049, 95)).toEqual([true, true]);
    expect(at(-0.051, 95)).toEqual([false, true]);
    expect(at(0, 94)).toEqual([true, false]);
  });

  it("quantisation", () => {
    const at = (ratio: number) => [{ ratio, straightRatio: 1.1 }];
    expect(judged(quantisation.figures(at(1.14)))).toEqual([true]);
    expect(judged(quantisation.figures(at(1.16)))).toEqual([false]);
    expect(quantisation.figures([...at(0.9), ...at(1.2)])[1]?.measured).toBe("1.200 and 1.100 ×");
  });
});

describe("a run for its readings alone", () => {
  it("reads and judges as any other, and does not say what is wrong", async () => {
    const choice = {
      unit: { description: "four", lobes: 4, rotation: "cw", speedMaxRpm: 1500 },
      scenario: {
        seed: 1,
        unit: { lobes: 4 },
        mechanism: {
          speedTable: [
            [0, 0],
            [400, 0],
            [1200, 10],
          ],
        },
      },
      plan: {
        speedsRpm: [500, 800, 1100, 1400],
        vacuums: { unit: "kPa", values: [] },
        hold: false,
      },
    };
    const [whole, bare] = [await measure(choice), await measureReadings(choice)];
    expect(whole.end.findings).not.toBeNull();
    expect(whole.end.mechanism).not.toBeNull();
    expect(bare.end).toEqual({
      ...whole.end,
      endedUtc: bare.end.endedUtc,
      findings: null,
      mechanism: null,
    });
  });
});

describe("figures of whole runs", () => {
  it("choose: spindle time and what is known, for each axis apart", () => {
    const at = (chosenS: number, worstDeg: number) =>
      judged(
        choose.figures([
          {
            axis: "speed",
            chosenS,
            evenS: 100,
            readings: 30,
            evenSteps: 80,
            known: 100,
            places: 100,
            worstDeg,
          },
        ]),
      );
    expect(at(49, 0.1)).toEqual([true, true]);
    expect(at(51, 0.1)).toEqual([false, true]);
    expect(at(49, 0.11)).toEqual([true, false]);
  });

  it("delay", () => {
    const at = (leftDeg: number) =>
      judged(delay.figures([{ leftDeg, uncheckedDeg: 0.46, holds: true }]));
    expect(at(0.019)).toEqual([true]);
    expect(at(0.021)).toEqual([false]);
  });

  it("edges", () => {
    expect(judged(edges.figures([{ points: 20, worstDeg: 0.049 }]))).toEqual([true]);
    const one = { points: 20, worstDeg: 0.001 };
    expect(judged(edges.figures([one, { points: 20, worstDeg: 0.051 }]))).toEqual([false]);
  });

  it("events, false and missing apart", () => {
    const at = (falseDeg: number, missingDeg: number) =>
      judged(events.figures([{ points: 50, falseDeg, missingDeg, dwellDeg: 0, scatterDeg: 0 }]));
    expect(at(0.019, 0.019)).toEqual([true, true]);
    expect(at(0.021, 0)).toEqual([false, true]);
    expect(at(0, 0.021)).toEqual([true, false]);
  });

  it("lobes: one run in many", () => {
    const right = Array.from({ length: 99 }, () => ({ arrangement: "8 even", mistaken: false }));
    expect(judged(lobes.figures(right))).toEqual([true]);
    const wrong = { arrangement: "8 even", mistaken: true };
    expect(judged(lobes.figures([...right, wrong]))).toEqual([false]);
  });

  it("reclamp, curve and start apart", () => {
    const at = (curveDeg: number, startRpm: number) =>
      judged(reclamp.figures([{ points: 280, curveDeg, startRpm }]));
    expect(at(0.29, 24)).toEqual([true, true]);
    expect(at(0.31, 24)).toEqual([false, true]);
    expect(at(0.29, 26)).toEqual([true, false]);
    // No start found in any run is no start that agrees.
    expect(at(0.29, Number.NaN)).toEqual([true, false]);
  });
});

describe("what every bar misses by", () => {
  const job = { bar: "steady", index: 3 };

  it("a figure that is not a number", () => {
    const figures = steady.figures([{ speedRpm: 500, turns: 0, biasDeg: Number.NaN }]);
    expect(judged(figures)).toEqual([false]);
  });

  it("a job that failed", () => {
    const good = { job, result: { speedRpm: 500, turns: 300, biasDeg: 0 } };
    expect(judged(figuresOf(steady, [good]))).toEqual([true]);
    const failed = figuresOf(steady, [good, { job, failure: "no hello" }]);
    expect(judged(failed)).toEqual([true, false]);
    const table = tableOf(failed.map((figure) => ({ bar: "steady", figure })));
    expect(table.split("\n").at(-1)).toMatch(/jobs that failed +1 +0 +2 +MISSED$/);
  });

  it("results of other bars count where a bar says so, and their failures too", () => {
    const other = { ...steady, name: "other" };
    const both = { ...steady, also: [other] };
    const far = { speedRpm: 500, turns: 300, biasDeg: 0.03 };
    const good = { job, result: { speedRpm: 500, turns: 300, biasDeg: 0.01 } };
    const ofOther = { bar: "other", index: 0 };
    expect(judged(figuresOf(both, [good, { job: ofOther, result: far }]))).toEqual([false]);
    expect(judged(figuresOf(steady, [good, { job: ofOther, result: far }]))).toEqual([true]);
    const failed = figuresOf(both, [good, { job: ofOther, failure: "no hello" }]);
    expect(judged(failed)).toEqual([true, false]);
  });

  it("no job at all", () => {
    expect(judged(figuresOf(steady, []))).toEqual([false]);
  });
});

describe("jobs on the stand-in rig", () => {
  it("measure a locked cam where it stands", async () => {
    const { turns, biasDeg } = await steady.job(0);
    expect(turns).toBeGreaterThan(290);
    expect(Math.abs(biasDeg)).toBeLessThan(0.02);
  });
});
