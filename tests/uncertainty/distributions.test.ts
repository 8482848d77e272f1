// Coverage factors of sums: closed forms, a simulation with another method, and laws for any parts.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coverageFactor } from "../../core/uncertainty/coverage.ts";
import {
  besselJ0,
  coverageFactorOf,
  type Part,
  type Shape,
} from "../../core/uncertainty/distributions.ts";
import { Draws } from "./draws.ts";

const INFINITE = Number.POSITIVE_INFINITY;
const SHAPES = ["normal", "rectangular", "triangular", "arcsine"] as const;
const known = (shape: Shape, standardUncertainty: number): Part => ({
  shape,
  standardUncertainty,
  degreesOfFreedom: INFINITE,
});

// Abramowitz and Stegun table 9.1 and the first zero; from memory.
it.each([
  [0, 1],
  [1, 0.7651976866],
  [2.4048255577, 0],
  [5, -0.1775967713],
  [10, -0.2459357645],
  [12, 0.0476893108],
  [15, -0.0142244728],
  [20, 0.1670246643],
])("Bessel's J0 of %d", (x, expected) => {
  expect(Math.abs(besselJ0(x) - expected)).toBeLessThan(2e-6);
});

describe("coverage factor of one shape", () => {
  // The distribution functions turned round, with half-widths √3, √6 and √2.
  it.each([0.5, 0.9, 0.95, 0.99])("meets the closed forms at probability %d", (p) => {
    expect(coverageFactorOf([known("normal", 2)], p)).toBeCloseTo(coverageFactor(p, INFINITE), 6);
    const widths = {
      rectangular: p * Math.sqrt(3),
      triangular: Math.sqrt(6) * (1 - Math.sqrt(1 - p)),
      arcsine: Math.SQRT2 * Math.sin((p * Math.PI) / 2),
    };
    for (const shape of ["rectangular", "triangular", "arcsine"] as const) {
      const off = coverageFactorOf([known(shape, 0.2)], p) - widths[shape];
      expect(Math.abs(off), shape).toBeLessThan(1e-4);
    }
  });

  it("is Student's for a normal part of few degrees of freedom", () => {
    for (const degreesOfFreedom of [1, 2, 5.5, 30]) {
      const k = coverageFactorOf([{ shape: "normal", standardUncertainty: 3, degreesOfFreedom }]);
      expect(k / coverageFactor(0.95, degreesOfFreedom)).toBeCloseTo(1, 6);
    }
  });
});

// Two rectangles of half-widths a ≥ b make a trapezium; beyond x ≥ a − b lie (a + b − x)² / (4ab).
it("meets the closed form of two rectangles", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.06, max: 1, noNaN: true }), (b) => {
      const width = 1 + b - Math.sqrt(0.2 * b);
      const parts = [
        known("rectangular", b / Math.sqrt(3)),
        known("rectangular", 1 / Math.sqrt(3)),
      ];
      const combined = Math.sqrt((1 + b * b) / 3);
      expect(coverageFactorOf(parts) * combined).toBeCloseTo(width, 4);
    }),
  );
});

describe("against simulation", () => {
  const mixtures: [string, Part[]][] = [
    ["rectangle with a little noise", [known("rectangular", 1), known("normal", 0.2)]],
    ["noise with a rectangle", [known("rectangular", 0.5), known("normal", 1)]],
    ["arcsine with noise", [known("arcsine", 1), known("normal", 0.1)]],
    ["arcsine with a rectangle", [known("arcsine", 1), known("rectangular", 0.6)]],
    ["arcsines", [known("arcsine", 1), known("arcsine", 0.9)]],
    ["all shapes", SHAPES.map((shape, at) => known(shape, 1 - 0.2 * at))],
  ];
  it.each(mixtures)("%s: holds 95 %", (_name, parts) => {
    const draws = new Draws(20_260_101);
    const width = coverageFactorOf(parts) * Math.hypot(...parts.map((p) => p.standardUncertainty));
    const count = 400_000;
    let inside = 0;
    for (let i = 0; i < count; i++) {
      let sum = 0;
      for (const part of parts) sum += part.standardUncertainty * draws.of(part.shape);
      if (Math.abs(sum) <= width) inside++;
    }
    // Four standard errors of the simulated share.
    expect(Math.abs(inside / count - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / count));
  });

  // Readings whose spread is itself estimated: how often does the interval hold the true value?
  it.each([
    [5, "rectangular", 0.6],
    [5, "arcsine", 1],
    [5, "normal", 0.6],
    [10, "rectangular", 1],
    [10, "arcsine", 4],
  ] as const)(
    "%d degrees of freedom with %s of %d: covers 93.5 to 95.5 %",
    (degreesOfFreedom, shape, size) => {
      const draws = new Draws(7);
      const count = 20_000;
      let inside = 0;
      for (let i = 0; i < count; i++) {
        let squares = 0;
        for (let j = 0; j < degreesOfFreedom; j++) squares += draws.of("normal") ** 2;
        const standardUncertainty = Math.sqrt(squares / degreesOfFreedom);
        const k = coverageFactorOf([
          { shape: "normal", standardUncertainty, degreesOfFreedom },
          known(shape, size),
        ]);
        const error = draws.of("normal") + size * draws.of(shape);
        if (Math.abs(error) <= k * Math.hypot(standardUncertainty, size)) inside++;
      }
      const chance = 3 * Math.sqrt((0.95 * 0.05) / count);
      expect(inside / count).toBeGreaterThan(0.935 - chance);
      expect(inside / count).toBeLessThan(0.955 + chance);
    },
  );
});

describe("for any parts", () => {
  const part = fc.record({
    shape: fc.constantFrom(...SHAPES),
    // Zero, but nothing so small that it has lost its digits.
    standardUncertainty: fc.oneof(fc.constant(0), fc.double({ min: 1e-9, max: 10, noNaN: true })),
    degreesOfFreedom: fc.oneof(fc.constant(INFINITE), fc.double({ min: 1, max: 100, noNaN: true })),
  });
  const parts = fc.array(part, { minLength: 1, maxLength: 6 });
  const nothing: Part = { shape: "arcsine", standardUncertainty: 0, degreesOfFreedom: 1 };
  const resized = (list: readonly Part[], factor: number) =>
    list.map((one) => ({ ...one, standardUncertainty: factor * one.standardUncertainty }));

  it("neither order, unit nor parts of no size matter", () => {
    fc.assert(
      fc.property(parts, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (list, unit) => {
        const k = coverageFactorOf(list);
        expect(coverageFactorOf(list.toReversed())).toBeCloseTo(k, 5);
        expect(coverageFactorOf(resized(list, unit)) / k).toBeCloseTo(1, 5);
        expect(coverageFactorOf([...list, nothing])).toBeCloseTo(k, 5);
      }),
    );
  });

  it("lies between the single arcsine's and Student's largest", () => {
    fc.assert(
      fc.property(parts, (list) => {
        const few = Math.min(...list.map((one) => one.degreesOfFreedom));
        const k = coverageFactorOf(list);
        // A single arcsine has 1.40985; a trace of noise rounds its edge and takes that to 1.4086.
        expect(k).toBeGreaterThan(1.408);
        expect(k).toBeLessThan(1.03 * coverageFactor(0.95, few));
      }),
    );
  });

  it("changes little where a part changes little", () => {
    fc.assert(
      fc.property(parts, (list) => {
        const [first, ...rest] = list;
        if (first === undefined || first.standardUncertainty < 1e-6) return;
        const nudged = [...resized([first], 1.001), ...rest];
        // Of the fewest degrees of freedom t changes most, 1 to 2: 12.7 to 4.3.
        expect(Math.abs(coverageFactorOf(nudged) / coverageFactorOf(list) - 1)).toBeLessThan(0.01);
      }),
    );
  });

  it("grows with fewer degrees of freedom", () => {
    fc.assert(
      fc.property(parts, (list) => {
        const fewer = list.map((one) => ({
          ...one,
          degreesOfFreedom: Math.max(1, Math.min(1e6, one.degreesOfFreedom) / 2),
        }));
        expect(coverageFactorOf(fewer)).toBeGreaterThanOrEqual(coverageFactorOf(list) - 1e-6);
      }),
    );
  });

  it("refuses a part that is no uncertainty", () => {
    expect(() => coverageFactorOf([known("normal", Number.NaN)])).toThrow(
      "negative or not a number",
    );
    expect(() => coverageFactorOf([known("normal", -1)])).toThrow("negative or not a number");
    expect(coverageFactorOf([])).toBeCloseTo(1.959964, 6);
  });
});

it.each(["normal", "rectangular", "triangular", "arcsine"] as const)(
  "a part that is left out as too small hardly shows beside a %s one when it is just large enough",
  (shape) => {
    const beside = (standardUncertainty: number) =>
      coverageFactorOf([
        { standardUncertainty: 1, degreesOfFreedom: Number.POSITIVE_INFINITY, shape },
        { standardUncertainty, degreesOfFreedom: Number.POSITIVE_INFINITY, shape: "normal" },
      ]);
    expect(Math.abs(beside(0.00101) - beside(0.00099))).toBeLessThan(1e-4);
  },
);
