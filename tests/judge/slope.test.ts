// What an uncertain speed or vacuum adds to an angle by the slope of the curve.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type SweepPoint, slopesAt, withSlopeUncertainty } from "../../core/judge/slope.ts";

function point(x: number, advanceDeg: number, changes: Partial<SweepPoint> = {}): SweepPoint {
  return {
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg: 0.03,
    xStandardUncertainty: 0,
    ...changes,
  };
}

describe("withSlopeUncertainty", () => {
  it("gives 0.47° for 1 kPa on a capsule of 0.47°/kPa", () => {
    const curve = [10000, 20000, 30000].map((x) =>
      point(x, 0.47e-3 * x, { standardUncertaintyDeg: 0, xStandardUncertainty: 1000 }),
    );
    for (const { standardUncertaintyDeg } of withSlopeUncertainty(curve)) {
      expect(standardUncertaintyDeg).toBeCloseTo(0.47, 12);
    }
  });

  it("adds in quadrature: 0.3 of the angle and 0.4 of the slope are 0.5", () => {
    const curve = [500, 600, 700].map((x) =>
      point(x, 0.02 * x, { standardUncertaintyDeg: 0.3, xStandardUncertainty: 20 }),
    );
    expect(withSlopeUncertainty(curve)[1]?.standardUncertaintyDeg).toBeCloseTo(0.5, 12);
  });

  it("takes the mean square of both slopes at a bend", () => {
    const curve = [point(100, 0), point(200, 2), point(300, 2)].map((one) => ({
      ...one,
      standardUncertaintyDeg: 0,
      xStandardUncertainty: 10,
    }));
    // Slopes 0.02 and 0: √(0.0004 / 2) × 10.
    expect(withSlopeUncertainty(curve)[1]?.standardUncertaintyDeg).toBeCloseTo(0.1414, 4);
  });

  it("puts readings in order and leaves out what has no place", () => {
    const curve = [point(700, 5), point(Number.NaN, 1), point(500, 3)];
    expect(withSlopeUncertainty(curve).map(({ x }) => x)).toEqual([500, 700]);
  });

  it("adds nothing to a single reading", () => {
    const alone = point(500, 3, { xStandardUncertainty: 50 });
    expect(withSlopeUncertainty([alone])).toEqual([alone]);
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
        const curve = some.map(([x, y, u, uX]) =>
          point(x, y, { standardUncertaintyDeg: u, xStandardUncertainty: uX }),
        );
        const before = [...curve].sort((a, b) => a.x - b.x);
        for (const [i, after] of withSlopeUncertainty(curve).entries()) {
          const least = (before[i] as SweepPoint).standardUncertaintyDeg;
          expect(after.standardUncertaintyDeg).toBeGreaterThanOrEqual(least);
          expect(Number.isFinite(after.standardUncertaintyDeg)).toBe(true);
        }
      }),
    );
  });
});
