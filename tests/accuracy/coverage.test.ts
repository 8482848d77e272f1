// The coverage bar: its checks can miss, and its truths are those of a run without errors.
import { describe, expect, it } from "vitest";
import { coverageFigures, share, widthAgainstIdeal } from "../../accuracy/coverage/figures.ts";
import type { Interval } from "../../accuracy/coverage/intervals.ts";
import { intervalsOf } from "../../accuracy/coverage/intervals.ts";
import { Truths } from "../../accuracy/coverage/truths.ts";
import { Draw } from "../../accuracy/draw.ts";
import { drawUnit } from "../../accuracy/drawn/unit.ts";
import { measure } from "../../accuracy/standIn.ts";
import { parseScenario } from "../../sim/scenario.ts";

/** `held` of 100 intervals hold; those that do are out by half their width. */
function hundred(held: number, interior: boolean, stratum = "36 edges"): Interval[] {
  return Array.from({ length: 100 }, (_, i) => ({
    quantity: "made up",
    value: i < held ? 0.5 : 1.5,
    expanded: 1,
    truth: 0,
    interior,
    strata: [stratum],
  }));
}

const met = (intervals: readonly Interval[]) => coverageFigures(intervals).map((one) => one.met);

describe("coverage figures", () => {
  it("count what holds", () => {
    expect(share(hundred(95, true))).toBe(0.95);
  });

  it("miss below 92 % and, where the quantity may lie on either side, above 98 %", () => {
    expect(met(hundred(95, true))).toEqual([true]);
    expect(met(hundred(91, true))).toEqual([false]);
    expect(met(hundred(99, true))).toEqual([false]);
    expect(met(hundred(92, false))).toEqual([true]);
    expect(met(hundred(91, false))).toEqual([false]);
  });

  it("miss where intervals are needlessly wide", () => {
    // 95 of 100 are out by 0.5 at most: half the width would do.
    expect(widthAgainstIdeal(hundred(95, false))).toBe(2);
    expect(met(hundred(95, false))).toEqual([false]);
    // With 94 the 95th is out by 1.5: the width is two thirds of the ideal.
    expect(widthAgainstIdeal(hundred(94, false))).toBeCloseTo(0.667, 3);
    expect(met(hundred(94, false))).toEqual([true]);
  });

  it("miss in one stratum though the whole is right", () => {
    const good = Array.from({ length: 8 }, () => hundred(96, true)).flat();
    const bad = [...hundred(87, true, "1 edge"), ...hundred(87, true, "1 edge")];
    expect(met([...good, ...bad])).toEqual([true, false]);
    const fair = [...hundred(89, true, "1 edge"), ...hundred(89, true, "1 edge")];
    expect(met([...good, ...fair])).toEqual([true, true]);
  });
});

describe("truths of a drawn unit", () => {
  it("are what a rig without errors measures", async () => {
    const draw = new Draw("truths", 0);
    const unit = drawUnit(draw);
    const scenario = { ...unit.scenario, seed: 7, rig: { tickHz: 2_000_000, couplingDeg: 20 } };
    const run = await measure({ unit: unit.unitFile, scenario, plan: { secondsPerReading: 2 } });
    const truths = new Truths(parseScenario(scenario, "scenario"), run);
    const intervals = intervalsOf(truths, {
      pickupEdges: 36,
      ripple: "none",
      settings: {},
      stated: {},
    });
    const advances = intervals.filter(({ quantity }) => quantity.startsWith("advance"));
    expect(advances.length).toBeGreaterThan(20);
    for (const { value, truth } of advances) expect(Math.abs(value - truth)).toBeLessThan(0.06);
  });
});
