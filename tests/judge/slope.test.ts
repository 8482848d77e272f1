// What an uncertain speed or vacuum adds to an angle by the slope of the curve.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combined } from "../../core/angles/budget.ts";
import { type RawPoint, slopesAt, withSlopeUncertainty } from "../../core/judge/slope.ts";
import { ownBudget } from "../reading.ts";

function point(
  x: number,
  advanceDeg: number,
  { u = 0.03, uX = 0 }: { readonly u?: number; readonly uX?: number } = {},
): RawPoint {
  return {
    x,
    targetX: x,
    advanceDeg,
    budget: ownBudget(u),
    xStandardUncertainty: uX,
    farthestX: null,
  };
}

describe("withSlopeUncertainty", () => {
  it("gives 0.47° for 1 kPa on a capsule of 0.47°/kPa", () => {
    const curve = [10000, 20000, 30000].map((x) => point(x, 0.47e-3 * x, { u: 0, uX: 1000 }));
    for (const { standardUncertaintyDeg } of withSlopeUncertainty(curve, "speed")) {
      expect(standardUncertaintyDeg).toBeCloseTo(0.47, 12);
    }
  });

  it("adds in quadrature: 0.3 of the angle and 0.4 of the slope are 0.5", () => {
    const curve = [500, 600, 700].map((x) => point(x, 0.02 * x, { u: 0.3, uX: 20 }));
    expect(withSlopeUncertainty(curve, "speed")[1]?.standardUncertaintyDeg).toBeCloseTo(0.5, 12);
  });

  it("takes the mean square of both slopes at a bend", () => {
    const known = { u: 0, uX: 10 };
    const curve = [point(100, 0, known), point(200, 2, known), point(300, 2, known)];
    // Slopes 0.02 and 0: √(0.0004 / 2) × 10.
    expect(withSlopeUncertainty(curve, "speed")[1]?.standardUncertaintyDeg).toBeCloseTo(0.1414, 4);
  });

  it("puts readings in order and leaves out what has no place", () => {
    const curve = [point(700, 5), point(Number.NaN, 1), point(500, 3)];
    expect(withSlopeUncertainty(curve, "speed").map(({ x }) => x)).toEqual([500, 700]);
  });

  it("adds nothing to a single reading", () => {
    const alone = point(500, 3, { uX: 50 });
    expect(withSlopeUncertainty([alone], "speed")[0]?.standardUncertaintyDeg).toBe(0.03);
  });

  it("takes no slope from readings at practically the same place", () => {
    const curve = [point(500, 3), point(500.001, 3.1), point(600, 4)].map((one) => ({
      ...one,
      xStandardUncertainty: 0.01,
    }));
    expect(slopesAt(curve, 0).right).toBeCloseTo(0.01, 4);
  });

  it("never lessens an uncertainty", () => {
    const points = fc.array(
      fc.tuple(
        fc.integer({ min: 100, max: 5000 }),
        fc.double({ min: -20, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
      ),
      { maxLength: 20 },
    );
    fc.assert(
      fc.property(points, (some) => {
        const curve = some.map(([x, y, u, uX]) => point(x, y, { u, uX }));
        const before = [...curve].sort((a, b) => a.x - b.x);
        for (const [i, after] of withSlopeUncertainty(curve, "speed").entries()) {
          const least = combined((before[i] as RawPoint).budget);
          expect(after.standardUncertaintyDeg).toBeGreaterThanOrEqual(least);
          expect(Number.isFinite(after.standardUncertaintyDeg)).toBe(true);
        }
      }),
    );
  });
});
