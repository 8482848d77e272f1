// The law of propagation: sums by hand, correlations, and what it refuses.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combine, propagate, sensitivitiesOf } from "../../core/uncertainty/combine.ts";

const INFINITE = Number.POSITIVE_INFINITY;
const input = (
  name: string,
  value: number,
  standardUncertainty: number,
  degreesOfFreedom = INFINITE,
) => ({
  name,
  value,
  standardUncertainty,
  degreesOfFreedom,
});

describe("combining", () => {
  it("adds squares: 3 and 4 make 5, with k of the normal distribution", () => {
    const found = combine(10, [input("a", 0, 3), input("b", 0, 2)], [1, -2]);
    expect(found).toEqual({
      value: 10,
      standardUncertainty: 5,
      degreesOfFreedom: INFINITE,
      coverageFactor: expect.closeTo(1.959964, 6),
      expandedUncertainty: expect.closeTo(9.79982, 5),
      budget: [
        { name: "a", sensitivity: 1, contribution: 3, degreesOfFreedom: INFINITE },
        { name: "b", sensitivity: -2, contribution: 4, degreesOfFreedom: INFINITE },
      ],
    });
  });

  // JCGM 100 § 5.2.2: fully correlated contributions add with their signs (example of § 5.2.2, ten
  // resistors calibrated with one standard: u = Σ u(R_i); from memory).
  it.each([
    [1, 1, 7],
    [1, -1, 1],
    [-1, 1, 1],
    [0, 1, 5],
  ])("correlation %d, second sensitivity %d: %d", (coefficient, sensitivity, expected) => {
    const inputs = [input("a", 0, 3), input("b", 0, 4)];
    const correlations = [{ between: ["a", "b"], coefficient }] as const;
    expect(combine(0, inputs, [1, sensitivity], { correlations }).standardUncertainty).toBeCloseTo(
      expected,
      12,
    );
  });

  it("takes the fewest degrees of freedom for what is correlated", () => {
    const inputs = [input("a", 0, 3, 5), input("b", 0, 4, 50), input("c", 0, 0, 2)];
    const correlations = [{ between: ["a", "b"], coefficient: 0.5 }] as const;
    expect(combine(0, inputs, [1, 1, 1], { correlations }).degreesOfFreedom).toBeCloseTo(5, 12);
  });

  it("refuses what cannot be", () => {
    const inputs = [input("a", 0, 1), input("b", 0, 1), input("c", 0, 1)];
    const pair = (first: string, second: string, coefficient: number) => ({
      between: [first, second] as const,
      coefficient,
    });
    expect(() => combine(0, inputs, [1, 1])).toThrow('"c" has no sensitivity');
    expect(() => combine(0, [input("a", 0, -1)], [1])).toThrow("no uncertainty");
    expect(() => combine(0, inputs, [1, 1, 1], { correlations: [pair("a", "d", 1)] })).toThrow(
      'no input is called "d"',
    );
    expect(() => combine(0, inputs, [1, 1, 1], { correlations: [pair("a", "b", 1.1)] })).toThrow(
      "correlation 1.1",
    );
    const contrary = [pair("a", "b", -1), pair("b", "c", -1), pair("a", "c", -1)];
    expect(() => combine(0, inputs, [1, 1, 1], { correlations: contrary })).toThrow(
      "negative variance",
    );
  });
});

describe("sensitivities by difference", () => {
  // d(x² y)/dx = 2 x y = 12, /dy = x² = 9, exact for a central difference of a quadratic.
  it("are the slopes, also where an input has no uncertainty", () => {
    const model = ([x = 0, y = 0]: readonly number[]) => x * x * y;
    const found = sensitivitiesOf(model, [input("x", 3, 0.1), input("y", 2, 0)]);
    expect(found[0]).toBeCloseTo(12, 9);
    expect(found[1]).toBeCloseTo(9, 6);
    expect(sensitivitiesOf(([x = 0]) => Math.sin(x), [input("x", 0, 0)])[0]).toBeCloseTo(1, 9);
  });

  it("scale: a result in another unit has its uncertainty in that unit and the same k", () => {
    const size = fc.double({ min: 0.001, max: 1000, noNaN: true });
    fc.assert(
      fc.property(size, size, size, fc.integer({ min: 1, max: 40 }), (unit, a, b, degrees) => {
        const inputs = [input("a", 2, a, degrees), input("b", 5, b)];
        const plain = propagate(([x = 0, y = 0]) => x - 3 * y, inputs);
        const scaled = propagate(([x = 0, y = 0]) => unit * (x - 3 * y), inputs);
        expect(scaled.standardUncertainty / (unit * plain.standardUncertainty)).toBeCloseTo(1, 6);
        expect(scaled.coverageFactor).toBeCloseTo(plain.coverageFactor, 6);
        const other = propagate(([y = 0, x = 0]) => x - 3 * y, inputs.toReversed());
        expect(other.standardUncertainty / plain.standardUncertainty).toBeCloseTo(1, 12);
      }),
    );
  });
});
