// Where advance begins on a measured branch.
import { describe, expect, it } from "vitest";
import { combined } from "../../core/angles/budget.ts";
import type { UncertaintyPart } from "../../core/documents.ts";
import type { SweepPoint } from "../../core/judge/slope.ts";
import { startOf } from "../../core/judge/start.ts";
import { ownBudget } from "../reading.ts";

function branch(pairs: readonly (readonly [number, number])[], u = 0.02): SweepPoint[] {
  return pairs.map(([x, advanceDeg]) => ({
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg: u,
    coverageFactor: 1.96,
    budget: ownBudget(u),
    xStandardUncertainty: 0,
  }));
}

describe("startOf", () => {
  it("brings the line of a capsule down to zero", () => {
    // 0.5° a kPa from 12.4 kPa on.
    const start = startOf(
      branch([
        [10e3, 0],
        [12e3, 0],
        [13e3, 0.3],
        [15e3, 1.3],
      ]),
      1,
    );
    expect(start?.kind).toBe("found");
    if (start?.kind !== "found") return;
    expect(start.x).toBeCloseTo(12400, 6);
    // Angles: 2000 / 1² × hypot(1.3, 0.3) × 0.02 = 53.36 Pa; a 25th of the 600 Pa down to zero: 24 / √3 = 13.86 Pa.
    expect(combined(start.budget)).toBeCloseTo(55.13, 1);
  });

  it("is exact for weights that follow the square of speed", () => {
    const advance = (rpm: number) => Math.max(0, 2e-5 * (rpm ** 2 - 330 ** 2));
    const start = startOf(branch([300, 350, 400, 500].map((rpm) => [rpm, advance(rpm)])), 2);
    expect(start?.kind === "found" && start.x).toBeCloseTo(330, 9);
  });

  it("turns the uncertainty of the square into one of the speed", () => {
    // Straight in the square of speed: 1° at 400 and 2° at 500 rpm, so 0° at √70000 = 264.6 rpm.
    const start = startOf(
      branch(
        [
          [264, 0],
          [400, 1],
          [500, 2],
        ],
        0.02,
      ),
      2,
    );
    // 90000 / 1² × hypot(2, 1) × 0.02 = 4025 rpm², and a twentieth of the 90000 down to zero, over 2 × 264.6.
    expect(start?.kind === "found" && start.x).toBeCloseTo(264.575, 3);
    expect(start?.kind === "found" && combined(start.budget)).toBeCloseTo(
      Math.hypot(4024.92 / 529.15, 4500 / 3 ** 0.5 / 529.15),
      3,
    );
  });

  it("stays between the last reading at zero and the first above it", () => {
    const start = startOf(
      branch([
        [300, 0.05],
        [400, 1.5],
        [500, 2.5],
      ]),
      1,
    );
    expect(start?.kind === "found" && start.x).toBe(300);
  });

  it("goes down to the readings at rest where one error stands in all", () => {
    // All stand 0.4° too high by an error that is shared: 1° each 100 rpm from 300 rpm on.
    const shared = branch([
      [200, 0.4],
      [250, 0.4],
      [320, 0.6],
      [420, 1.6],
    ]).map((point) => ({
      ...point,
      standardUncertaintyDeg: 0.5,
      budget: [
        ...ownBudget(0.01),
        {
          ...(ownBudget(0.5)[0] as UncertaintyPart),
          name: "ripple not seen" as const,
          shared: true,
        },
      ],
    }));
    const start = startOf(shared, 1);
    expect(start?.kind === "found" && start.x).toBeCloseTo(300, 9);
    // By 0.2° and 1.2° above rest, and rest itself: 100 / 1² × hypot(1.2, 0.2, 1) × 0.01 = 1.57 rpm,
    // and a 25th of 20 rpm: 0.8 / √3.
    expect(start?.kind === "found" && combined(start.budget)).toBeCloseTo(1.641, 2);
  });

  it("takes the middle of the bracket where the advance jumps", () => {
    // The line through the two readings would begin at 133 rpm, or nowhere in the square of speed.
    for (const power of [1, 2] as const) {
      const start = startOf(
        branch([
          [300, 0],
          [400, 4],
          [500, 5.5],
        ]),
        power,
      );
      expect(start?.kind === "found" && start.x).toBe(350);
    }
  });

  it("takes the middle of the bracket where no line can be drawn", () => {
    const single = startOf(
      branch([
        [300, 0],
        [400, 4],
      ]),
      2,
    );
    expect(single?.kind === "found" && single.x).toBe(350);
    expect(single?.kind === "found" && combined(single.budget)).toBe(100 / Math.sqrt(12));
    const flat = startOf(
      branch([
        [300, 0],
        [400, 4],
        [500, 4],
      ]),
      2,
    );
    expect(flat).toEqual(single);
  });

  it("is not taken in by a reading of noise", () => {
    const start = startOf(
      branch([
        [200, 0.05],
        [300, 0],
        [400, 1],
        [500, 2],
      ]),
      1,
    );
    expect(start?.kind === "found" && start.x).toBe(300);
  });

  it("says when advance begins above or below everything measured", () => {
    expect(
      startOf(
        branch([
          [300, 0],
          [400, 0.05],
        ]),
        2,
      ),
    ).toEqual({ kind: "above", x: 400 });
    expect(
      startOf(
        branch([
          [300, 2],
          [400, 3],
        ]),
        2,
      ),
    ).toEqual({ kind: "below", x: 300 });
    expect(startOf([], 2)).toBeNull();
  });
});

describe("a start known from three readings", () => {
  it("is as uncertain as a parabola through them is away from the line", () => {
    // Straight in x: 1° at 10, 2° at 12, 3° at 16; the line meets zero at 8, a parabola at 8 + 2.
    const start = startOf(
      branch(
        [
          [2, 0],
          [10, 1],
          [12, 2],
          [16, 3],
        ],
        0,
      ),
      1,
    );
    expect(start?.kind === "found" && start.x).toBeCloseTo(8, 9);
    expect(start?.kind === "found" && combined(start.budget)).toBeCloseTo(2 / 3 ** 0.5, 9);
  });
});
