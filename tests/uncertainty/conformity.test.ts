// Conformance probability at its edges, and how it sits with the rule that gives verdicts.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decide } from "../../core/judge/decision.ts";
import { conformanceProbability } from "../../core/uncertainty/conformity.ts";
import { coverageFactor } from "../../core/uncertainty/coverage.ts";

const measured = (
  value: number,
  standardUncertainty: number,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
) => ({
  value,
  standardUncertainty,
  degreesOfFreedom,
});

describe("conformance probability", () => {
  it("is a half on a limit that is alone, and everything without limits", () => {
    expect(conformanceProbability(measured(6, 0.3), { min: 6, max: null })).toBeCloseTo(0.5, 12);
    expect(conformanceProbability(measured(6, 0.3), { min: null, max: null })).toBeCloseTo(1, 12);
  });

  // Student's t with one degree of freedom has half of itself between −1 and 1 (Cauchy).
  it("follows the degrees of freedom", () => {
    expect(conformanceProbability(measured(7, 0.5, 1), { min: 6.5, max: 7.5 })).toBeCloseTo(
      0.5,
      12,
    );
    expect(conformanceProbability(measured(7, 0.5), { min: 6.5, max: 7.5 })).toBeCloseTo(
      0.682689,
      6,
    );
  });

  it("is all or nothing without uncertainty; the limits count as inside", () => {
    expect(conformanceProbability(measured(8, 0), { min: 6, max: 8 })).toBe(1);
    expect(conformanceProbability(measured(8.01, 0), { min: 6, max: 8 })).toBe(0);
  });

  // ISO 14253-1 with a guard band of U = k u: a verdict has at least the probability k stands for.
  it("is at least 95 % where the verdict is within, at most 2.5 % where it is outside", () => {
    const value = fc.integer({ min: 0, max: 1400 }).map((hundredths) => hundredths / 100);
    const size = fc.integer({ min: 1, max: 200 }).map((hundredths) => hundredths / 100);
    const degrees = fc.oneof(
      fc.constant(Number.POSITIVE_INFINITY),
      fc.integer({ min: 1, max: 30 }),
    );
    const seen = new Set<string>();
    fc.assert(
      fc.property(value, size, degrees, (y, u, degreesOfFreedom) => {
        const limits = { min: 6, max: 8 };
        const verdict = decide(y, coverageFactor(0.95, degreesOfFreedom) * u, limits);
        const probability = conformanceProbability(measured(y, u, degreesOfFreedom), limits);
        seen.add(verdict);
        if (verdict === "within") expect(probability).toBeGreaterThanOrEqual(0.95 - 1e-9);
        if (verdict === "outside") expect(probability).toBeLessThanOrEqual(0.025 + 1e-9);
      }),
      { numRuns: 1000 },
    );
    expect([...seen].sort()).toEqual(["outside", "unproven", "within"]);
  });
});
