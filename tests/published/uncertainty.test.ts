// Coverage factors, propagation and conformity against published tables and worked examples.
import { describe, expect, it } from "vitest";
import { propagate } from "../../core/uncertainty/combine.ts";
import { conformanceProbability } from "../../core/uncertainty/conformity.ts";
import {
  coverageFactor,
  normalCdf,
  normalQuantile,
  studentCdf,
} from "../../core/uncertainty/coverage.ts";
import { coverageFactorOf } from "../../core/uncertainty/distributions.ts";

const INFINITE = Number.POSITIVE_INFINITY;

describe("Student's t", () => {
  // Two-sided 95 % and 99 % from the usual table, as printed in statistics textbooks; from memory.
  it.each([
    [1, 12.706, 63.657],
    [2, 4.303, 9.925],
    [3, 3.182, 5.841],
    [4, 2.776, 4.604],
    [5, 2.571, 4.032],
    [10, 2.228, 3.169],
    [16, 2.12, 2.921],
    [20, 2.086, 2.845],
    [30, 2.042, 2.75],
    [60, 2, 2.66],
    [120, 1.98, 2.617],
    [INFINITE, 1.96, 2.576],
  ])("has the table's factors for %d degrees of freedom", (degreesOfFreedom, k95, k99) => {
    expect(coverageFactor(0.95, degreesOfFreedom)).toBeCloseTo(k95, 3);
    expect(coverageFactor(0.99, degreesOfFreedom)).toBeCloseTo(k99, 3);
  });

  // JCGM 100 table G.2, columns 68.27, 95.45 and 99.73 %; from memory.
  it.each([
    [1, 1.84, 13.97, 235.8],
    [5, 1.11, 2.65, 5.51],
    [10, 1.05, 2.28, 3.96],
    [INFINITE, 1, 2, 3],
  ])("has the guide's factors for %d degrees of freedom", (degreesOfFreedom, one, two, three) => {
    expect(coverageFactor(0.6827, degreesOfFreedom)).toBeCloseTo(one, 2);
    expect(coverageFactor(0.9545, degreesOfFreedom)).toBeCloseTo(two, 2);
    const places = three > 100 ? 1 : 2;
    // 99.73 % is itself rounded, which shows at one degree of freedom: 0.9973 gives 235.77.
    expect(coverageFactor(0.9973, degreesOfFreedom)).toBeCloseTo(three, places);
  });

  // Closed forms: t of one degree is Cauchy's distribution, of two p √(2 / (1 − p²)).
  it.each([0.1, 0.5, 0.9, 0.95, 0.99])("meets the closed forms at probability %d", (p) => {
    const one = Math.tan((Math.PI * p) / 2);
    const two = p * Math.sqrt(2 / (1 - p * p));
    expect(coverageFactor(p, 1) / one).toBeCloseTo(1, 10);
    expect(coverageFactor(p, 2) / two).toBeCloseTo(1, 10);
    expect(studentCdf(one, 1)).toBeCloseTo((1 + p) / 2, 12);
    expect(studentCdf(-two, 2)).toBeCloseTo((1 - p) / 2, 12);
  });
});

describe("the normal distribution", () => {
  // To more digits than tables print: Φ⁻¹(0.975) and Φ⁻¹(0.995), Φ(1), Φ(−3); from memory.
  it("has the well-known figures", () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(normalQuantile(0.005)).toBeCloseTo(-2.5758293035489004, 12);
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalCdf(1)).toBeCloseTo(0.8413447460685429, 12);
    expect(normalCdf(-3)).toBeCloseTo(0.0013498980316300933, 12);
    expect(normalCdf(0)).toBe(0.5);
  });
});

describe("JCGM 100 example H.1, the end gauge", () => {
  const input = (name: string, value: number, uncertainty: number, degreesOfFreedom: number) => ({
    name,
    value,
    standardUncertainty: uncertainty,
    degreesOfFreedom,
  });
  // Lengths in nanometres. Figures as printed.
  const inputs = [
    input("standard", 50_000_623, 25, 18),
    input("difference", 215, 9.7, 25.6),
    input("expansion of the standard", 11.5e-6, 1.2e-6, INFINITE),
    input("temperature", -0.1, 0.41, INFINITE),
    input("difference of expansion", 0, 0.58e-6, 50),
    input("difference of temperature", 0, 0.029, 2),
  ];
  const length = ([
    standard = 0,
    d = 0,
    alpha = 0,
    theta = 0,
    dAlpha = 0,
    dTheta = 0,
  ]: readonly number[]) => standard + d - standard * (dAlpha * theta + alpha * dTheta);

  it("combines to the printed uncertainty and degrees of freedom", () => {
    const found = propagate(length, inputs, { probability: 0.99 });
    expect(found.value).toBe(50_000_838);
    expect(found.standardUncertainty).toBeCloseTo(31.71, 2);
    expect(found.degreesOfFreedom).toBeCloseTo(16.66, 2);
    expect(found.budget.map((line) => Number(line.contribution.toFixed(1)))).toEqual([
      25, 9.7, 0, 0, 2.9, 16.7,
    ]);
    // The example cuts 16.66 to 16 before it looks up k and so prints 2.92 and 93 nm.
    const printed = coverageFactor(0.99, Math.floor(found.degreesOfFreedom));
    expect(printed).toBeCloseTo(2.92, 2);
    expect(Math.round(printed * found.standardUncertainty)).toBe(93);
    // We do not cut, so that k has no steps: between t(16) = 2.921 and t(17) = 2.898.
    expect(found.coverageFactor).toBeCloseTo(2.9056, 4);
    expect(found.expandedUncertainty).toBeCloseTo(92.14, 2);
  });
});

describe("JCGM 101 § 9.2, additive model", () => {
  const rectangular = (standardUncertainty: number) => ({
    standardUncertainty,
    degreesOfFreedom: INFINITE,
    shape: "rectangular" as const,
  });

  // § 9.2.3: four rectangular inputs of u = 1 give u 2.0 and ± 3.88, where a normal sum has ± 3.92.
  it("four equal rectangles: ± 3.88", () => {
    const parts = [rectangular(1), rectangular(1), rectangular(1), rectangular(1)];
    expect(2 * coverageFactorOf(parts)).toBeCloseTo(3.88, 2);
    expect(2 * coverageFactor(0.95, INFINITE)).toBeCloseTo(3.92, 2);
  });

  // § 9.2.4, from memory: the fourth with u = 10 gives ± 17.0, where a normal sum has ± 19.9.
  it("one rectangle that dominates: ± 17.0", () => {
    const parts = [rectangular(1), rectangular(1), rectangular(1), rectangular(10)];
    expect(Math.sqrt(103) * coverageFactorOf(parts)).toBeCloseTo(17, 1);
    expect(Math.sqrt(103) * coverageFactor(0.95, INFINITE)).toBeCloseTo(19.9, 1);
  });
});

describe("JCGM 106, conformance probability", () => {
  // Worked examples with one limit; figures from memory, recomputed from a normal table.
  it("limit ≥ 490, y 509.7, u 8.6: 0.989", () => {
    const measured = { value: 509.7, standardUncertainty: 8.6, degreesOfFreedom: INFINITE };
    expect(conformanceProbability(measured, { min: 490, max: null })).toBeCloseTo(0.989, 3);
  });

  it("limit ≤ −5.40, y −5.47, u 0.05: 0.919", () => {
    const measured = { value: -5.47, standardUncertainty: 0.05, degreesOfFreedom: INFINITE };
    expect(conformanceProbability(measured, { min: null, max: -5.4 })).toBeCloseTo(0.919, 3);
  });
});
