import { describe, expect, it } from "vitest";
import {
  type Choice,
  nextReading,
  type PlacedReading,
  type SweepGoal,
} from "../../core/sweep/choice.ts";
import { curveAt } from "../../core/sweep/curve.ts";
import { gapsOf } from "../../core/sweep/gaps.ts";
import { piecesOf } from "../../core/sweep/trace.ts";

const GOAL: SweepGoal = {
  axis: "vacuum",
  lowX: 5000,
  highX: 45_000,
  rowsX: [20_000],
  knownWithinDeg: 0.1,
};

/** A capsule: nothing up to 12 kPa, straight to 11° at 40 kPa, then its stop. */
function capsuleDeg(x: number): number {
  return Math.min(11, Math.max(0, ((x - 12_000) / 28_000) * 11));
}

function reading(x: number, advanceDeg: number, standardUncertaintyDeg = 0.01): PlacedReading {
  return {
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg,
    repeatabilityDeg: standardUncertaintyDeg,
    xStandardUncertainty: 0,
  };
}

/** Takes readings without noise as they are asked for. */
function sweepOf(goal: SweepGoal, curve: (x: number) => number) {
  const readings: PlacedReading[] = [];
  const agains: number[] = [];
  let atX = Number.NEGATIVE_INFINITY;
  for (;;) {
    const choice: Choice = nextReading(goal, {
      branch: "rising",
      trace: [],
      readings,
      atX,
      barren: [],
      readingsLeft: 1000,
    });
    if (choice.next === "done") return { readings, agains, unknown: choice.unknown };
    if (choice.again) agains.push(choice.x);
    readings.push(reading(choice.x, curve(choice.x)));
    atX = choice.x;
  }
}

describe("curve between readings", () => {
  const readings = [reading(1000, 2), reading(2000, 8)];

  it("is straight over the square of the speed", () => {
    // (1500² − 1000²) / (2000² − 1000²) = 5/12 of 6° above 2°.
    expect(curveAt("speed", readings, 1500)).toBeCloseTo(4.5, 12);
  });

  it("is straight over the vacuum, and nothing outside", () => {
    expect(curveAt("vacuum", readings, 1500)).toBeCloseTo(5, 12);
    expect(curveAt("vacuum", readings, 2000)).toBe(8);
    expect(curveAt("vacuum", readings, 999)).toBeNull();
    expect(curveAt("vacuum", readings, 2001)).toBeNull();
  });
});

describe("gaps", () => {
  it("knows a straight curve and does not know one that bends between", () => {
    const straight = [11, 12, 13, 14, 15, 16].map((kPa) => reading(1000 * kPa, 2 * kPa));
    expect(gapsOf("vacuum", straight, [])[2]?.bendDeg).toBeLessThan(0.1);
    const corner = [0, 1000, 2000, 4000, 5000, 6000].map((x) =>
      reading(x, Math.max(0, x / 1000 - 3)),
    );
    const [, , gap] = gapsOf("vacuum", corner, []);
    // The lines from both sides meet at 3 kPa, half a degree below the straight line.
    expect(gap?.worstX).toBeCloseTo(3000, -2);
    expect(gap?.bendDeg).toBeGreaterThan(0.49);
    expect(gap?.bendDeg).toBeLessThan(0.75);
  });

  it("takes a curve between two equal readings as known, since it is monotonic", () => {
    const [gap] = gapsOf("vacuum", [reading(1000, 3), reading(9000, 3)], []);
    expect(gap?.bendDeg).toBe(0);
  });
});

describe("trace", () => {
  it("is parted where its straight pieces meet", () => {
    const trace = Array.from({ length: 90 }, (_, i) => {
      const x = 1000 + 500 * i;
      return { x, advanceDeg: capsuleDeg(x), xPerS: 5000 };
    });
    const ends = piecesOf("vacuum", trace).map(({ toU }) => toU);
    expect(ends).toHaveLength(3);
    expect(ends[0]).toBeCloseTo(12, 0);
    expect(ends[1]).toBeCloseTo(40, 0);
  });
});

describe("choice", () => {
  const { readings, unknown } = sweepOf(GOAL, capsuleDeg);

  it("ends with the whole curve known", () => {
    expect(unknown).toEqual([]);
    const sorted = [...readings].sort((a, b) => a.x - b.x);
    for (let x = 5000; x <= 45_000; x += 50) {
      expect(Math.abs((curveAt("vacuum", sorted, x) ?? Number.NaN) - capsuleDeg(x))).toBeLessThan(
        0.1,
      );
    }
  });

  it("takes the printed row at its very place, and the ends of the range", () => {
    const places = readings.map(({ targetX }) => targetX);
    expect(places).toContain(20_000);
    expect(Math.min(...places)).toBe(5000);
    expect(Math.max(...places)).toBe(45_000);
  });

  it("asks for no place twice and none out of range", () => {
    const places = readings.map(({ targetX }) => targetX);
    expect(new Set(places).size).toBe(places.length);
  });

  it("says where a curve leaps", () => {
    const leap = sweepOf({ ...GOAL, rowsX: [] }, (x) => (x < 23_456 ? 1 : 7));
    expect(leap.unknown).toHaveLength(1);
    expect(leap.unknown[0]?.fromX).toBeLessThan(23_456);
    expect(leap.unknown[0]?.toX).toBeGreaterThan(23_456);
    expect((leap.unknown[0]?.toX ?? 0) - (leap.unknown[0]?.fromX ?? 0)).toBeLessThan(100);
  });
});
