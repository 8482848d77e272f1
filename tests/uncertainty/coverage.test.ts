// Laws that coverage factors and Welch–Satterthwaite's degrees of freedom obey for any input.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  coverageFactor,
  effectiveDegreesOfFreedom,
  studentCdf,
} from "../../core/uncertainty/coverage.ts";

const INFINITE = Number.POSITIVE_INFINITY;
const probability = fc.double({ min: 0.01, max: 0.999, noNaN: true });
const degrees = fc.oneof(
  fc.double({ min: 1, max: 200, noNaN: true }),
  fc.double({ min: 1, max: 16, noNaN: true }).map((power) => 10 ** power),
  fc.constant(INFINITE),
);
const part = fc.record({
  standardUncertainty: fc.double({ min: 1e-9, max: 1e6, noNaN: true }),
  degreesOfFreedom: degrees,
});

describe("coverage factor", () => {
  it("falls as the degrees of freedom rise and never below the normal one", () => {
    fc.assert(
      fc.property(probability, degrees, degrees, (p, a, b) => {
        const few = coverageFactor(p, Math.min(a, b));
        const many = coverageFactor(p, Math.max(a, b));
        expect(few).toBeGreaterThanOrEqual(many * (1 - 1e-12));
        expect(many).toBeGreaterThanOrEqual(coverageFactor(p, INFINITE) * (1 - 1e-12));
      }),
    );
  });

  it("holds the probability that was asked for", () => {
    fc.assert(
      fc.property(probability, degrees, (p, degreesOfFreedom) => {
        const k = coverageFactor(p, degreesOfFreedom);
        const held = studentCdf(k, degreesOfFreedom) - studentCdf(-k, degreesOfFreedom);
        expect(held).toBeCloseTo(p, 11);
      }),
    );
  });

  it("refuses what has no answer", () => {
    expect(() => coverageFactor(0.95, 0.5)).toThrow("fewer than one");
    expect(() => coverageFactor(0.95, Number.NaN)).toThrow("fewer than one");
    expect(() => coverageFactor(1, 10)).toThrow("not between 0 and 1");
    expect(() => coverageFactor(0, 10)).toThrow("not between 0 and 1");
  });
});

describe("effective degrees of freedom", () => {
  // n equal parts of ν degrees each have n ν: the formula by hand, (n u²)² / (n u⁴ / ν).
  it("add up for equal parts", () => {
    const equal = { standardUncertainty: 0.3, degreesOfFreedom: 7 };
    expect(effectiveDegreesOfFreedom([equal, equal, equal])).toBeCloseTo(21, 12);
  });

  it("are those of the only part that counts, and infinite where none does", () => {
    const known = { standardUncertainty: 2e-160, degreesOfFreedom: 4 };
    expect(effectiveDegreesOfFreedom([known, { ...known, standardUncertainty: 0 }])).toBe(4);
    expect(effectiveDegreesOfFreedom([{ standardUncertainty: 0, degreesOfFreedom: 4 }])).toBe(
      INFINITE,
    );
    expect(
      effectiveDegreesOfFreedom([{ standardUncertainty: 1, degreesOfFreedom: INFINITE }]),
    ).toBe(INFINITE);
  });

  it("lie between the fewest and the sum, whatever the order and the unit", () => {
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 6 }),
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        (parts, unit) => {
          const found = effectiveDegreesOfFreedom(parts);
          const each = parts.map(({ degreesOfFreedom }) => degreesOfFreedom);
          expect(found).toBeGreaterThanOrEqual(Math.min(...each) * (1 - 1e-9));
          expect(found).toBeLessThanOrEqual(each.reduce((sum, one) => sum + one, 0) * (1 + 1e-9));
          const turned = effectiveDegreesOfFreedom(
            parts
              .map(({ standardUncertainty, degreesOfFreedom }) => ({
                standardUncertainty: unit * standardUncertainty,
                degreesOfFreedom,
              }))
              .reverse(),
          );
          // Infinity / Infinity is not a number; compare only what is finite.
          if (found === INFINITE) expect(turned).toBe(INFINITE);
          else expect(turned / found).toBeCloseTo(1, 9);
        },
      ),
    );
  });
});
