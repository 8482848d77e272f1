// Uncertainty parts put together, against the tables of JCGM 100 (G.2) and closed forms.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combined, coverageOf, ownOf, part, scaled, sharedOf } from "../../core/angles/budget.ts";
import type { UncertaintyPart } from "../../core/documents.ts";

describe("combined", () => {
  it("adds squares: 3, 4 and 12 make 13", () => {
    expect(combined([part("tick", 3), part("drift", 4), part("delay", 12)])).toBe(13);
  });

  it("is nothing of no parts", () => {
    expect(combined([])).toBe(0);
  });
});

describe("coverageOf", () => {
  it.each<[string, UncertaintyPart[], number]>([
    ["a normal part known for sure", [part("zero", 0.1)], 1.96],
    ["t for 4 degrees of freedom", [part("repeatability", 0.1, { degreesOfFreedom: 4 })], 2.776],
    ["t for 1, never fewer", [part("repeatability", 0.1, { degreesOfFreedom: 0.2 })], 12.706],
    // 95 % of a half-width of √3 standard deviations.
    ["a rectangle", [part("tick", 0.1, { shape: "rectangular" })], 0.95 * Math.sqrt(3)],
  ])("is that of %s", (_, parts, factor) => {
    expect(coverageOf(parts)).toBeCloseTo(factor, 3);
  });

  it("of two equal rectangles is that of their triangle: (1 − √0.05) · √6", () => {
    const parts = [
      part("tick", 0.1, { shape: "rectangular" }),
      part("drift", 0.1, { shape: "rectangular" }),
    ];
    expect(coverageOf(parts)).toBeCloseTo((1 - Math.sqrt(0.05)) * Math.sqrt(6), 3);
  });
});

const PARTS: readonly UncertaintyPart[] = [
  part("repeatability", 0.3, { degreesOfFreedom: 7 }),
  part("tick", 0.1, { shape: "rectangular" }),
  part("delay", 0.2, { shared: true }),
];

describe("parts of a figure that follows another", () => {
  it("are scaled by the size of the sensitivity and keep all else", () => {
    expect(scaled(PARTS, -2)).toEqual([
      { ...PARTS[0], standardUncertainty: 0.6 },
      { ...PARTS[1], standardUncertainty: 0.2 },
      { ...PARTS[2], standardUncertainty: 0.4 },
    ]);
  });

  it("scale the combined uncertainty alike", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), (sensitivity) => {
        expect(combined(scaled(PARTS, sensitivity))).toBeCloseTo(
          Math.abs(sensitivity) * Math.sqrt(0.14),
          9,
        );
      }),
    );
  });

  it("are either shared with other readings or a reading's own", () => {
    expect(sharedOf(PARTS).map(({ name }) => name)).toEqual(["delay"]);
    expect(ownOf(PARTS).map(({ name }) => name)).toEqual(["repeatability", "tick"]);
  });
});
