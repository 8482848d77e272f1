// Means, medians and what repeated values tell of their mean, against textbook sums and simulated series.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  belonging,
  drift,
  meanAndSpread,
  meanUncertainty,
  median,
} from "../../core/angles/statistics.ts";
import { Draws } from "../uncertainty/draws.ts";

const VALUES = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), {
  minLength: 1,
  maxLength: 40,
});

describe("median", () => {
  it.each([
    [[3], 3],
    [[9, 1, 5], 5],
    [[10, 9, 2, 1], 5.5],
    [[-1, -10, 100], -1],
    [[2, 10, 100], 10],
  ])("of %j is %d", (values, middle) => {
    expect(median(values)).toBe(middle);
  });

  it("is no number of nothing", () => {
    expect(median([])).toBeNaN();
  });

  it("leaves the list in its order", () => {
    const values = [3, 1, 2];
    median(values);
    expect(values).toEqual([3, 1, 2]);
  });

  it("has as many values below as above", () => {
    fc.assert(
      fc.property(VALUES, (values) => {
        const middle = median(values);
        const below = values.filter((one) => one < middle).length;
        const above = values.filter((one) => one > middle).length;
        expect(Math.max(below, above)).toBeLessThanOrEqual(values.length / 2);
      }),
    );
  });
});

describe("meanAndSpread", () => {
  it("divides by one less than the count (squares sum to 32 over 8 values)", () => {
    const { mean, spread } = meanAndSpread([2, 4, 4, 4, 5, 5, 7, 9]);
    expect(mean).toBe(5);
    expect(spread).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });

  it("knows no spread of a single value", () => {
    expect(meanAndSpread([7])).toEqual({ mean: 7, spread: 0 });
  });
});

describe("belonging", () => {
  it("reaches six standard deviations as the median absolute deviation tells them", () => {
    // Median 3, absolute deviations 2, 1, 0, 1, 97: their median 1, times 1.4826 for a normal law.
    const { middle, width } = belonging(Float64Array.of(1, 2, 3, 4, 100), 0.1);
    expect(middle).toBe(3);
    expect(width).toBeCloseTo(6 * 1.4826, 9);
  });

  it("is never narrower than asked, not even where all values are the same", () => {
    expect(belonging(Float64Array.of(5, 5, 5, 5), 0.3)).toEqual({ middle: 5, width: 0.3 });
  });

  it("is not moved by a few values however wild", () => {
    const sound = Array.from({ length: 21 }, (_, i) => i / 20);
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e9, max: 1e9, noNaN: true }), { maxLength: 8 }),
        (wild) => {
          const { middle, width } = belonging(Float64Array.of(...sound, ...wild), 0);
          // 8 wild ones among 29 shift the median by four places of the sound ones at most.
          expect(Math.abs(middle - 0.5)).toBeLessThanOrEqual(0.2 + 1e-12);
          expect(width).toBeLessThan(6 * 1.4826);
        },
      ),
    );
  });
});

/** First-order series: each value is r times the one before and chance, standard deviation 1. */
function series(draws: Draws, count: number, r: number): number[] {
  let now = draws.of("normal");
  return Array.from({ length: count }, () => {
    now = r * now + Math.sqrt(1 - r * r) * draws.of("normal");
    return now;
  });
}

/** Root mean square of the error of the mean over the uncertainty stated for it; 1 is honest. */
function honesty(count: number, r: number): number {
  const draws = new Draws(20_011);
  const runs = 1500;
  let squares = 0;
  for (let i = 0; i < runs; i++) {
    const values = series(draws, count, r);
    squares += (meanAndSpread(values).mean / meanUncertainty(values).standardUncertainty) ** 2;
  }
  return Math.sqrt(squares / runs);
}

describe("meanUncertainty", () => {
  it("is s/√n with n − 1 degrees of freedom where neighbours do not resemble each other", () => {
    // Jumps to and fro: neighbours unlike each other never make the mean better than chance does.
    const values = Array.from({ length: 100 }, (_, i) => (i % 2 === 0 ? 1 : -1));
    const { standardUncertainty, degreesOfFreedom } = meanUncertainty(values);
    expect(standardUncertainty).toBeCloseTo(Math.sqrt(100 / 99) / 10, 12);
    expect(degreesOfFreedom).toBe(99);
  });

  it("counts neighbours that resemble each other for less", () => {
    // Five times ten values up and ten down: of 99 neighbours 90 are alike, 9 unlike, so the lag-one
    // correlation is 0.82 (81/100 and 1/100 by which it falls short); 0.1 of it may be chance. With
    // r = 0.72 the variance grows by 1.72/0.28.
    const values = Array.from({ length: 100 }, (_, i) => (i % 20 < 10 ? 1 : -1));
    const { standardUncertainty, degreesOfFreedom } = meanUncertainty(values);
    expect(standardUncertainty).toBeCloseTo(0.2491, 4);
    expect(degreesOfFreedom).toBeCloseTo(15.279, 3);
  });

  it.each([
    [200, 0],
    [200, 0.3],
    [400, 0.6],
    [1000, 0.8],
  ])("states for %d values with correlation %d what their mean is truly off by", (count, r) => {
    // Standard deviation of the ratio by 1500 runs: 2 %. Chance taken off the correlation costs some.
    const ratio = honesty(count, r);
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.25);
  });

  it("keeps at least one degree of freedom and one standard uncertainty of the plain mean", () => {
    fc.assert(
      fc.property(VALUES, (values) => {
        const { standardUncertainty, degreesOfFreedom } = meanUncertainty(values);
        const { spread } = meanAndSpread(values);
        expect(degreesOfFreedom).toBeGreaterThanOrEqual(1);
        expect(degreesOfFreedom).toBeLessThanOrEqual(Math.max(1, values.length - 1));
        expect(standardUncertainty).toBeGreaterThanOrEqual(
          (spread / Math.sqrt(values.length)) * (1 - 1e-12),
        );
      }),
    );
  });

  it("finds none in values that are all the same", () => {
    expect(meanUncertainty([4, 4, 4])).toEqual({ standardUncertainty: 0, degreesOfFreedom: 2 });
  });
});

describe("drift", () => {
  it("is the whole change along a straight line, without doubt", () => {
    const { change, standardUncertainty } = drift([1, 1.5, 2, 2.5, 3]);
    expect(change).toBeCloseTo(2, 12);
    expect(standardUncertainty).toBeCloseTo(0, 12);
  });

  it("follows the least-squares line with its own uncertainty", () => {
    // By hand: slope 4.25/10; residuals −0.21, 0.365, −0.76, 1.265, −0.66, their squares 2.79075 over
    // 3 degrees of freedom and 10 for the squares of the places: 0.305 a step, four steps.
    const { change, standardUncertainty } = drift([1, 2, 1.3, 3.75, 2.25]);
    expect(change).toBeCloseTo(1.7, 12);
    expect(standardUncertainty).toBeCloseTo(1.22, 12);
  });

  it("falls as it rises, turned round", () => {
    fc.assert(
      fc.property(VALUES, (values) => {
        const size = Math.max(...values.map(Math.abs));
        const back = drift([...values].reverse()).change;
        expect(Math.abs(drift(values).change + back)).toBeLessThanOrEqual(1e-9 * size);
      }),
    );
  });

  it("says nothing of fewer than three values", () => {
    expect(drift([1, 5])).toEqual({ change: 0, standardUncertainty: 0 });
  });
});
