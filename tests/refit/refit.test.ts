// Forecasts and advice on curves whose springs are known, so that the right answer is.
import { describe, expect, it } from "vitest";
import type { CurvePoint } from "../../core/documents.ts";
import type { DrawerSpring } from "../../core/drawer/drawer.ts";
import { advise } from "../../core/refit/advise.ts";
import { AS_IT_IS, standAfter } from "../../core/refit/change.ts";
import type { Curve } from "../../core/refit/geometry.ts";
import type { Installed } from "../../core/refit/installed.ts";
import { type MeasuredUnit, measuredUnit } from "../../core/refit/measuredUnit.ts";
import { forecast, worstMargin } from "../../core/refit/target.ts";
import { stepText } from "../../core/refit/wording.ts";
import type { Band } from "../../core/unit.ts";

/** One spring: starts at √p, a degree for every `slope` rpm², stops at 10°. */
function curve(p: number, slope: number): CurvePoint[] {
  return [200, 300, 350, 400, 450, 500, 550, 600, 700, 800, 900, 1000, 1100].map((x) => ({
    x,
    targetX: x,
    advanceDeg: Math.min(10, Math.max(0, (x ** 2 - p) / slope)),
    standardUncertaintyDeg: 0.01,
    coverageFactor: 1.96,
    budget: [],
  }));
}

function spring(name: string, rateNPerM: number, quantity = 2): DrawerSpring {
  return {
    name,
    quantity,
    wire: null,
    measuredRate: { rateNPerM, expandedUncertaintyNPerM: 0.02 * rateNPerM },
    freeLengthM: 0.02,
    initialTensionN: 0,
    loopLengthM: 0,
  };
}

/** Wanted: start at 400 rpm, 5° at √(160000 + 5 × 60000) = 678 rpm, 10° by 900 rpm. */
const BAND: Band = {
  rows: [
    { kind: "start", printed: "380 to 420", fromX: 380, toX: 420 },
    { kind: "at", printed: "678", x: 678, limitsDeg: { min: 4, max: 6 } },
    { kind: "end", printed: "900", x: 900, limitsDeg: { min: 9, max: 11 } },
  ],
  judgedOn: "rising",
  source: "invented",
  workshopToleranceDeg: null,
  scales: null,
};

/** Measured both ways alike, with springs that nobody has measured. */
function stateOf(points: readonly CurvePoint[], installed: Installed = UNKNOWN): Curve {
  return { rising: points, falling: points, installed, referenceRpm: 150 };
}

const SPECIFIED = { stopDeg: 10, startRpm: null };
const UNKNOWN: Installed = { first: null, second: null };

function measured(p: number, slope: number): MeasuredUnit {
  const unit = measuredUnit([stateOf(curve(p, slope))], SPECIFIED);
  if (unit === null) throw new Error("no curve");
  return unit;
}

describe("a forecast", () => {
  it("carries how far the curve strays from what springs, stop and friction make", () => {
    const smooth = measured(80000, 30000);
    const points = curve(80000, 30000).map((point) => {
      const isMoving = point.advanceDeg > 0.5 && point.advanceDeg < 9.5;
      return {
        ...point,
        advanceDeg: point.advanceDeg + (isMoving ? 0.4 * Math.sin(point.x / 15) : 0),
      };
    });
    const rough = measuredUnit([stateOf(points)], SPECIFIED);
    if (rough === null) throw new Error("no curve");
    expect(smooth.modelErrorDeg).toBeLessThan(0.01);
    expect(rough.modelErrorDeg).toBeGreaterThan(0.1);
    const doubtAt678 = (unit: MeasuredUnit) =>
      forecast(unit, AS_IT_IS, BAND).rows.find(({ x }) => x === 678)?.standardUncertaintyDeg ?? 0;
    expect(doubtAt678(rough)).toBeGreaterThan(doubtAt678(smooth) + 0.05);
  });

  it("leaves a curve that nothing is changed on as it was measured", () => {
    const unit = measured(80000, 30000);
    for (const { x, advanceDeg } of curve(80000, 30000)) {
      expect(Math.abs(standAfter(unit, AS_IT_IS).at(x, "rising") - advanceDeg)).toBeLessThan(0.35);
    }
  });

  it("moves every point to √2 of its speed where springs of twice the force go in", () => {
    // The scaling law: all spring forces × 2, without friction.
    const unit = measured(80000, 30000);
    const twice = { ...AS_IT_IS, first: () => (deg: number) => 2 * unit.first(deg) };
    for (const rpm of [400, 500, 600]) {
      expect(standAfter(unit, twice).at(Math.SQRT2 * rpm, "rising")).toBeCloseTo(
        standAfter(unit, AS_IT_IS).at(rpm, "rising"),
        1,
      );
    }
  });

  it("knows an eighth of what a spring moves, and half of what a second spring's post does", () => {
    const unit = measured(80000, 30000);
    const [, , before] = forecast(unit, AS_IT_IS, BAND).rows;
    const stiffer = {
      ...AS_IT_IS,
      first: () => (deg: number) => 2 * unit.first(deg) - unit.first(0),
    };
    const [, , middle] = forecast(unit, stiffer, BAND).rows;
    const [, , moved] = forecast(unit, { ...stiffer, isKneeMoved: true }, BAND).rows;
    // At 678 rpm from 10° at the stop to 6.33°, read off loads at every 0.08°; the share as it is said.
    expect(middle?.advanceDeg).toBeCloseTo(6.33, 0);
    const movedDeg = (before?.advanceDeg ?? 0) - (middle?.advanceDeg ?? 0);
    expect(middle?.standardUncertaintyDeg).toBeCloseTo(Math.hypot(0.15, 0.12 * movedDeg), 6);
    const movedMoreDeg = (before?.advanceDeg ?? 0) - (moved?.advanceDeg ?? 0);
    expect(moved?.standardUncertaintyDeg).toBeCloseTo(Math.hypot(0.15, 0.5 * movedMoreDeg), 6);
  });
});

describe("advice", () => {
  const installed = {
    first: { spring: spring("in", 500), restLengthM: null, stopLengthM: null },
    second: null,
  };

  it("for a spring of half the right force names the right one", () => {
    const drawer = [
      spring("in", 500),
      spring("a bit", 650),
      spring("right", 1000),
      spring("far", 2000),
    ];
    const { advice } = advise(measured(80000, 30000), BAND, drawer, installed);
    expect(advice[0]?.steps).toEqual([{ kind: "spring", which: "first", name: "right" }]);
    // At 420 rpm it is to have begun: 0.27° forecast, and the change there from 3.2° is known to 0.35°.
    expect(Math.abs((advice[0]?.chance ?? 0) - 0.75)).toBeLessThan(0.06);
  });

  it("does not count on a spring that is out of stock", () => {
    const drawer = [spring("in", 500), spring("right", 1000, 0), spring("far", 2000)];
    const { advice, wanted } = advise(measured(80000, 30000), BAND, drawer, installed);
    expect(advice.every(({ chance }) => chance < 0.9)).toBe(true);
    // Twice the rate and twice the load, in steps of six in a hundred.
    expect(Math.abs((wanted?.firstRate ?? 0) - 2)).toBeLessThan(0.25);
    expect(Math.abs((wanted?.firstLoad ?? 0) - 2)).toBeLessThan(0.25);
  });

  it("leaves a unit that is right as it is", () => {
    const { advice } = advise(measured(160000, 60000), BAND, [spring("in", 500)], installed);
    expect(advice[0]?.steps).toEqual([]);
    expect(worstMargin(advice[0]?.forecast ?? [])).toBeGreaterThan(1);
  });

  it("bends the post of a spring that has lost load only", () => {
    // Starts at 374 rpm: 140000 of 160000 rpm², an eighth too little.
    const { advice } = advise(measured(140000, 60000), BAND, [], { first: null, second: null });
    const [step] = advice[0]?.steps ?? [];
    expect(step?.kind).toBe("first post");
    expect(step?.kind === "first post" && Math.abs((step.loadRatio ?? 0) - 1.14)).toBeLessThan(
      0.06,
    );
  });

  it("takes away travel that is beyond the band", () => {
    const points = curve(160000, 60000).map((point) => ({
      ...point,
      advanceDeg: point.x >= 1000 ? 12 : point.advanceDeg,
    }));
    const unit = measuredUnit([stateOf(points)], SPECIFIED) as MeasuredUnit;
    const { advice } = advise(unit, BAND, [], { first: null, second: null });
    expect(advice[0]?.steps[0]).toEqual({ kind: "stop", deg: -2 });
    expect(stepText({ kind: "stop", deg: -2 })).toBe(
      "Take 2.0° from the travel: bush, or the other slot",
    );
  });

  it("says nothing of a curve that does not move", () => {
    const still = curve(160000, 60000).map((point) => ({ ...point, advanceDeg: 0 }));
    expect(measuredUnit([stateOf(still)], SPECIFIED)).toBeNull();
  });
});

describe("a unit whose springs are known by their dimensions", () => {
  const fitted = (one: DrawerSpring) => ({
    first: { spring: one, restLengthM: 0.021, stopLengthM: 0.024 },
    second: null,
  });
  /** Posts part by 0.3 mm a degree; one newton holds 100000 rpm²; free of friction. Stop 10°. */
  const curveOf = (rateNPerM: number, freeLengthM: number) =>
    [150, 200, 250, 300, 350, 400, 450, 500, 550, 600, 650, 700, 800, 900, 1000].map((x) => {
      const stretchM = x ** 2 / 100000 / rateNPerM;
      const deg = (stretchM - (0.021 - freeLengthM)) / 0.0003;
      return {
        x,
        targetX: x,
        advanceDeg: Math.min(10, Math.max(0, deg)),
        standardUncertaintyDeg: 0.01,
        coverageFactor: 1.96,
        budget: [],
      };
    });
  const soft = { ...spring("soft", 1000), freeLengthM: 0.02 };
  const stiff = { ...spring("stiff", 1600), freeLengthM: 0.0205 };
  const unitOf = (states: readonly Curve[]) => {
    const unit = measuredUnit(states, SPECIFIED);
    if (unit?.geometry == null) throw new Error("no geometry");
    return { ...unit, geometry: unit.geometry };
  };
  const farthestDeg = (unit: ReturnType<typeof unitOf>) => {
    const change = { ...AS_IT_IS, first: () => unit.geometry.first.loadOf(stiff, 0) };
    return Math.max(
      ...curveOf(1600, 0.0205).map(({ x, advanceDeg }) =>
        Math.abs(standAfter(unit, change).at(x, "rising") - advanceDeg),
      ),
    );
  };

  it("stays as it was measured", () => {
    const unit = unitOf([stateOf(curveOf(1000, 0.02), fitted(soft))]);
    for (const { x, advanceDeg } of curveOf(1000, 0.02)) {
      expect(Math.abs(standAfter(unit, AS_IT_IS).at(x, "rising") - advanceDeg)).toBeLessThan(0.3);
    }
  });

  it("is forecast with a spring of another rate and length", () => {
    const unit = unitOf([stateOf(curveOf(1000, 0.02), fitted(soft))]);
    expect(farthestDeg(unit)).toBeLessThan(0.6);
  });

  it("may rest at the reference and be off it by the first reading: its travel stays what it is", () => {
    const late = curveOf(1000, 0.02).filter(({ x }) => x >= 350);
    const unit = unitOf([stateOf(late, fitted(soft))]);
    // It starts at 316 rpm: what its spring carries at rest tells that it had not moved at 150.
    expect(unit.isRestSeen).toBe(true);
    expect(Math.abs(unit.stopDeg - 10)).toBeLessThan(0.3);
  });

  it("is known to have left its rest at the reference where its spring is slack there", () => {
    // Slack for 0.6 mm, which is 2°: at 150 rpm another 0.75° on, so that 7.25° are read.
    const readings = curveOf(1000, 0.0216).map((point) => ({
      ...point,
      advanceDeg: point.advanceDeg - 2.75,
    }));
    const slack = { ...soft, freeLengthM: 0.0216 };
    const unit = unitOf([stateOf(readings, fitted(slack))]);
    expect(unit.isRestSeen).toBe(false);
    expect(Math.abs(unit.stopDeg - 10)).toBeLessThan(0.5);
    expect(farthestDeg(unit)).toBeLessThan(0.8);
  });

  it("is advised on though its sweep ended before the stop", () => {
    const heavy = { ...spring("heavy", 4000), freeLengthM: 0.02 };
    const readings = curveOf(4000, 0.02).filter(({ x }) => x <= 800);
    const unit = unitOf([stateOf(readings, fitted(heavy))]);
    const wanted: Band = {
      ...BAND,
      rows: [
        { kind: "at", printed: "500", x: 500, limitsDeg: { min: 4, max: 6 } },
        { kind: "end", printed: "900", x: 900, limitsDeg: { min: 9, max: 11 } },
      ],
    };
    const drawer = [heavy, soft, { ...spring("far", 2500), freeLengthM: 0.02 }];
    const { advice } = advise(unit, wanted, drawer, fitted(heavy));
    const [fit, ...others] = advice[0]?.steps ?? [];
    expect(fit).toEqual({ kind: "spring", which: "first", name: "soft" });
    // 5.0° at 500 rpm by the soft one as it is; a tenth of a millimetre at its post would be 0.33°.
    for (const step of others) {
      expect(step.kind === "first post" && Math.abs(step.bendM ?? 1)).toBeLessThan(0.11e-3);
    }
  });

  it("has less chance by a spring whose rate is known less well", () => {
    const narrow: Band = {
      ...BAND,
      rows: [{ kind: "at", printed: "500", x: 500, limitsDeg: { min: 3.2, max: 4.2 } }],
    };
    const chanceBy = (share: number) => {
      const doubted = {
        ...stiff,
        measuredRate: { rateNPerM: 1600, expandedUncertaintyNPerM: share * 1600 },
      };
      const unit = unitOf([stateOf(curveOf(1000, 0.02), fitted(soft))]);
      const change = {
        ...AS_IT_IS,
        first: ({ geometry }: MeasuredUnit) => geometry?.first.loadOf(doubted, 0) ?? (() => 0),
      };
      return forecast(unit, change, narrow).chance;
    };
    // 500 rpm hold 2.5 N, so 1.56 mm of the stiff one: 3.54°, 0.34° off the nearer limit.
    expect(chanceBy(0.01)).toBeGreaterThan(0.75);
    expect(chanceBy(0.3)).toBeLessThan(chanceBy(0.01) - 0.1);
  });

  it("is forecast better by what another spring did on the same posts", () => {
    const other = { ...spring("other", 1300), freeLengthM: 0.0203 };
    const once = unitOf([stateOf(curveOf(1000, 0.02), fitted(soft))]);
    const twice = unitOf([
      stateOf(curveOf(1000, 0.02), fitted(soft)),
      stateOf(curveOf(1300, 0.0203), fitted(other)),
    ]);
    expect(farthestDeg(twice)).toBeLessThan(farthestDeg(once));
  });

  it("is told where the post is to be bent to, in millimetres", () => {
    // Half of the load at rest: half a millimetre of the one that it is stretched by.
    const wanted: Band = {
      ...BAND,
      rows: [
        { kind: "at", printed: "350", x: 350, limitsDeg: { min: 1.42, max: 3.42 } },
        { kind: "at", printed: "500", x: 500, limitsDeg: { min: 5.67, max: 7.67 } },
      ],
    };
    const unit = unitOf([stateOf(curveOf(1000, 0.02), fitted(soft))]);
    const { advice } = advise(unit, wanted, [], fitted(soft));
    const [step] = advice[0]?.steps ?? [];
    expect(step?.kind === "first post" && Math.abs((step.bendM ?? 0) + 0.5e-3)).toBeLessThan(
      0.1e-3,
    );
  });
});
