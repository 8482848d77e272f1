// Weighted fits and degrees of freedom against worked examples.
import { describe, expect, it } from "vitest";
import {
  chiSquareLimit,
  combined,
  fitWeighted,
  inflation,
} from "../../core/calibration/weightedFit.ts";

describe("a straight line", () => {
  // JCGM 100:2008, example H.3, calibration of a thermometer (table and results from memory; they
  // agree only if both are right). t in °C, correction b in °C, line about t0 = 20 °C.
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const s = 0.0035;
  const fit = fitWeighted(
    t.map((at) => [1, at - 20]),
    b,
    b.map(() => s),
  );
  if (fit === null) throw new Error("two columns of eleven rows");

  it("has the printed intercept, slope and their uncertainties", () => {
    expect(fit.coefficients[0]).toBeCloseTo(-0.1712, 4);
    expect(fit.coefficients[1]).toBeCloseTo(0.00218, 5);
    expect(Math.sqrt(fit.covariance[0]?.[0] ?? 0)).toBeCloseTo(0.0029, 4);
    expect(Math.sqrt(fit.covariance[1]?.[1] ?? 0)).toBeCloseTo(0.00067, 5);
    const [[c00 = 0, c01 = 0] = [], [, c11 = 0] = []] = fit.covariance;
    expect(c01 / Math.sqrt(c00 * c11)).toBeCloseTo(-0.93, 2);
  });

  it("leaves the printed scatter over nine degrees of freedom", () => {
    expect(fit.degreesOfFreedom).toBe(9);
    expect(s * Math.sqrt(fit.chiSquare / 9)).toBeCloseTo(0.0035, 4);
  });

  it("predicts the correction at 30 °C with the printed uncertainty", () => {
    const [y1 = 0, y2 = 0] = fit.coefficients;
    expect(y1 + y2 * 10).toBeCloseTo(-0.1494, 4);
    const [[c00 = 0, c01 = 0] = [], [, c11 = 0] = []] = fit.covariance;
    expect(Math.sqrt(c00 + 20 * c01 + 100 * c11)).toBeCloseTo(0.0041, 4);
  });
});

describe("a fit", () => {
  it("weighs by uncertainty: the mean of 1 ± 1 and 3 ± 2 is 1.4 ± 0.894", () => {
    const fit = fitWeighted([[1], [1]], [1, 3], [1, 2]);
    expect(fit?.coefficients[0]).toBeCloseTo(1.4, 12);
    expect(Math.sqrt(fit?.covariance[0]?.[0] ?? 0)).toBeCloseTo(0.894427, 6);
    expect(fit?.chiSquare).toBeCloseTo(0.8, 12);
    expect(fit?.residuals.map((one) => Math.round(one * 10) / 10)).toEqual([-0.4, 1.6]);
  });

  it("is null where the rows do not tell the columns apart", () => {
    expect(
      fitWeighted(
        [
          [1, 2],
          [1, 2],
          [1, 2],
        ],
        [1, 2, 3],
        [1, 1, 1],
      ),
    ).toBeNull();
    expect(fitWeighted([[1, 2]], [1], [1])).toBeNull();
    expect(fitWeighted([[0], [0]], [1, 2], [1, 1])).toBeNull();
  });

  it("tells columns of very different size apart", () => {
    const rows = [1, 2, 3, 4].map((x) => [1e-6 * x, 1e6 / x]);
    const values = rows.map(([a = 0, b = 0]) => 5e6 * a + 2e-6 * b);
    const fit = fitWeighted(rows, values, [1, 1, 1, 1]);
    expect(fit?.coefficients[0]).toBeCloseTo(5e6, 3);
    expect(fit?.coefficients[1]).toBeCloseTo(2e-6, 15);
  });

  it("widens where readings scatter more than they say, and never narrows", () => {
    const fit = { coefficients: [], covariance: [], residuals: [] };
    expect(inflation({ ...fit, chiSquare: 36, degreesOfFreedom: 4 })).toBe(3);
    expect(inflation({ ...fit, chiSquare: 1, degreesOfFreedom: 4 })).toBe(1);
    expect(inflation({ ...fit, chiSquare: 0, degreesOfFreedom: 0 })).toBe(1);
  });
});

describe("chi-square that noise exceeds once in a thousand", () => {
  // Tables of the distribution (from memory): 10.828, 16.266, 29.588, 45.315.
  it.each([
    [1, 10.828],
    [3, 16.266],
    [10, 29.588],
    [20, 45.315],
  ])("at %i degrees of freedom is %f within 4 %%", (degreesOfFreedom, table) => {
    expect(Math.abs(chiSquareLimit(degreesOfFreedom) / table - 1)).toBeLessThan(0.04);
  });
});

describe("combined uncertainty", () => {
  // JCGM 100:2008, example H.1: an end gauge of 50 mm. Standard uncertainties in nm.
  it("has the printed size and effective degrees of freedom", () => {
    const length = 50_000_623;
    const { standardUncertainty, degreesOfFreedom } = combined([
      { standardUncertainty: 25, degreesOfFreedom: 18 },
      { standardUncertainty: 9.7, degreesOfFreedom: 25.6 },
      { standardUncertainty: length * 0.1 * 0.58e-6, degreesOfFreedom: 50 },
      { standardUncertainty: length * 11.5e-6 * 0.029, degreesOfFreedom: 2 },
    ]);
    expect(standardUncertainty).toBeCloseTo(31.71, 2);
    expect(degreesOfFreedom).toBeCloseTo(16.66, 1);
  });

  it("has no limit where no part has one", () => {
    const part = { standardUncertainty: 3, degreesOfFreedom: null };
    expect(combined([part, { ...part, standardUncertainty: 4 }])).toEqual({
      standardUncertainty: 5,
      degreesOfFreedom: null,
    });
  });
});
