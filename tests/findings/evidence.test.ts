// Probabilities by readings: against sums that can be done by hand.
import { describe, expect, it } from "vitest";
import { explain, shares, whitened } from "../../core/findings/evidence.ts";
import { probabilityBySize } from "../../core/findings/probability.ts";
import { spreadPlaces } from "../../core/findings/spread.ts";

const UNIT = [
  [1, 0],
  [0, 1],
];

describe("explain", () => {
  it("where the size moves nothing is the density of the readings but for its constant", () => {
    // −(3² + 4²) / 2.
    const found = explain(whitened([3, 4], UNIT), [[0]], () => [0, 0]);
    expect(found.logEvidence).toBeCloseTo(-12.5, 9);
  });

  it("averages over a size that moves readings evenly, as a normal density has it", () => {
    // Reading = size + noise, both of variance 1: variance 2, so −2² / 4 − ln √2.
    const found = explain(whitened([2], [[1]]), [[0]], ([size = 0]) => [size]);
    expect(found.sizes[0]).toBeCloseTo(1, 3);
    expect(found.logEvidence).toBeCloseTo(-1 - Math.log(2) / 2, 4);
  });

  it("counts what stands in both alike once", () => {
    // Variances 2 with covariance 1.5: determinant 1.75, (2, 2) gives 4 × (2 − 1.5) × 2 / 1.75.
    const found = explain(
      whitened(
        [2, 2],
        [
          [2, 1.5],
          [1.5, 2],
        ],
      ),
      [[0]],
      () => [0, 0],
    );
    expect(found.logEvidence).toBeCloseTo(-(4 / 1.75) / 2 - Math.log(1.75) / 2, 9);
  });
});

describe("a wide search", () => {
  // Nothing moves below 0.5, then the reading rises steeply to what was read at 1.25.
  const readings = whitened([3, 3], UNIT);
  const predict = ([size = 0]: readonly number[]) => {
    const deg = 4 * Math.max(0, size - 0.5);
    return [deg, deg];
  };

  it("sees beyond where nothing moves", () => {
    expect(explain(readings, [[-1]], predict).sizes[0]).toBeCloseTo(0, 1);
    const found = explain(readings, [[-1]], predict, "wide");
    // The least of 2 (4 s − 5)² + s².
    expect(found.sizes[0]).toBeCloseTo(40 / 33, 2);
  });

  it("finds the same wherever it begins", () => {
    const from = (start: number) => explain(readings, [[start]], predict, "wide").logEvidence;
    expect(from(3)).toBeCloseTo(from(-3), 6);
  });
});

it("spreads places as normal numbers are", () => {
  const places = spreadPlaces(1000, 9);
  for (let k = 0; k < 9; k++) {
    const numbers = places.map((place) => place[k] as number);
    const mean = numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
    const square = numbers.reduce((sum, one) => sum + one ** 2, 0) / numbers.length;
    expect(mean).toBeCloseTo(0, 1);
    expect(square).toBeCloseTo(1, 0);
    expect(numbers.filter((one) => Math.abs(one) < 1).length / 1000).toBeCloseTo(0.683, 1);
  }
});

it("shares weights that no double could hold", () => {
  expect(shares([-2000, -2000 + Math.log(3)])).toEqual([
    expect.closeTo(0.25, 12),
    expect.closeTo(0.75, 12),
  ]);
});

describe("probabilityBySize", () => {
  const expected = {
    sound: { median: 0.1, spread: 0.5 },
    faulty: { median: 1, spread: 0.5 },
    prior: 0.5,
  };

  it("is even halfway between them in logarithms", () => {
    expect(probabilityBySize(Math.sqrt(0.1), 0, expected)).toBeCloseTo(0.5, 9);
  });

  it("is near 1 and 0 at their medians, and goes back to the prior where the figure is not known", () => {
    expect(probabilityBySize(1, 0.01, expected)).toBeGreaterThan(0.999);
    expect(probabilityBySize(0.1, 0.01, expected)).toBeLessThan(0.001);
    expect(probabilityBySize(0.3, 30, expected)).toBeGreaterThan(0.4);
  });

  it("takes a figure of nothing, badly known, for nothing", () => {
    // A gauge read to half the limit showed no drop: sound capsules lose 3 % of it, leaking ones 150 %.
    const drop = {
      sound: { median: 0.03, spread: 1 },
      faulty: { median: 1.5, spread: 1.3 },
      prior: 0.08,
    };
    expect(probabilityBySize(0, 0.5, drop)).toBeLessThan(0.08);
    expect(probabilityBySize(3, 0.5, drop)).toBeGreaterThan(0.9);
  });
});

it("begins the spread at the 21st of the digits mirrored at the point", () => {
  // 20 is 10100 in base 2 and 202 in base 3: 5/32 and 20/27; 21 is 10101 and 210: 21/32 and 5/27.
  // As normal numbers by the inverse of Python's statistics.NormalDist.
  const [first, second] = spreadPlaces(2, 2);
  expect(first?.[0]).toBeCloseTo(-1.00999, 5);
  expect(first?.[1]).toBeCloseTo(0.645631, 5);
  expect(second?.[0]).toBeCloseTo(0.40225, 5);
  expect(second?.[1]).toBeCloseTo(-0.895779, 5);
});
