import { describe, expect, it } from "vitest";
import { speedMisreadings, vacuumMisreadings } from "../../core/findings/misreadings.ts";
import type { Nominal } from "../../core/findings/nominal.ts";

const NOMINAL: Nominal = {
  power: 2,
  knots: [
    { advanceDeg: 0, load: 250_000 },
    { advanceDeg: 10, load: 1_000_000 },
    { advanceDeg: 14, load: 1_690_000 },
  ],
  stopDeg: 14,
  endX: 1300,
  halfWidthDeg: 1,
  startDoubt: 20,
  endDoubtShare: 0.06,
};
const partsOf = (all: readonly { readonly part: string }[]) => [
  ...new Set(all.map(({ part }) => part)),
];

describe("what a specification may have been meant to be", () => {
  it("is the other shaft than the one that was said", () => {
    const scales = { degrees: "crankshaft", x: "distributor", includesInitial: false } as const;
    const found = speedMisreadings(NOMINAL, scales, 2);
    expect(partsOf(found)).toEqual([
      "the degrees are distributor degrees",
      "the speeds are engine speeds",
      "initial timing is included",
    ]);
    expect(found[0]?.nominal.stopDeg).toBe(28);
    expect(found[1]?.nominal.endX).toBe(650);
    expect(found[1]?.nominal.knots[0]?.load).toBe(62_500);
  });

  it("is both at once where both were said to be of one shaft", () => {
    const scales = { degrees: "distributor", x: "distributor", includesInitial: true } as const;
    expect(partsOf(speedMisreadings(NOMINAL, scales, 2))).toEqual([
      "the degrees are crankshaft degrees",
      "the speeds are engine speeds",
      "all figures are the crankshaft's",
    ]);
  });

  it("is any where nothing is known of what was said", () => {
    expect(partsOf(speedMisreadings(NOMINAL, null, 2))).toHaveLength(7);
  });

  it("is no matter of shafts where both turn alike", () => {
    expect(partsOf(speedMisreadings(NOMINAL, null, 1))).toEqual(["initial timing is included"]);
  });

  it("is the unit of vacuum whose figures are of a size", () => {
    const scales = { degrees: "distributor", x: "inHg", includesInitial: false } as const;
    const [found, ...others] = vacuumMisreadings({ ...NOMINAL, power: 1 }, scales, 1);
    expect(others).toEqual([]);
    expect(found?.part).toBe("the vacuums are kilopascals");
    // One inch of mercury is 3386.39 Pa (NIST SP 811, table of conversion factors).
    expect(found?.nominal.endX).toBeCloseTo(1300 / 3.38639, 3);
  });

  it("has the same probability beforehand, however many it is shared among", () => {
    const sum = (all: readonly { readonly prior: number }[]) =>
      all.reduce((total, { prior }) => total + prior, 0);
    expect(sum(speedMisreadings(NOMINAL, null, 2))).toBeCloseTo(
      sum(speedMisreadings(NOMINAL, null, 1)),
      12,
    );
  });
});
