// What a fit says of itself: covariance, bounds, refusals; and a second opinion on the same data.
import fc from "fast-check";
import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { describe, expect, it } from "vitest";
import { fitLinear, fitNonlinear } from "../../core/fit/leastSquares.ts";
import type { Fit, NoFit } from "../../core/fit/problem.ts";
import { Draws } from "../uncertainty/draws.ts";

function fitted(outcome: Fit | NoFit): Fit {
  if (!outcome.converged) throw new Error(outcome.reason);
  return outcome;
}

const xs = Array.from({ length: 12 }, (_, i) => i / 2);
const line = xs.map((x) => [1, x]);
const decay = ([height = 0, rate = 0, floor = 0]: readonly number[]) =>
  xs.map((x) => height * Math.exp(-rate * x) + floor);

describe("linear fit", () => {
  // Weighted mean: Σ w y / Σ w with variance 1 / Σ w; here (10/1 + 13/4) / (1 + 1/4) = 10.6 and 0.8.
  it("is the weighted mean for one column of ones", () => {
    const outcome = fitLinear([[1], [1]], { values: [10, 13], standardUncertainties: [1, 2] });
    expect(outcome).toEqual({
      converged: true,
      parameters: [expect.closeTo(10.6, 12)],
      covariance: [[expect.closeTo(0.8, 12)]],
      residualSum: expect.closeTo(0.36 + 1.44, 12),
      degreesOfFreedom: 1,
      atBound: [false],
    });
  });

  // By hand for x = −1, 0, 1: variances s²/3 and s²/2, s² the residual sum 1.5 over one degree.
  it("scales the covariance by the residuals where no uncertainty is known", () => {
    const outcome = fitLinear(
      [
        [1, -1],
        [1, 0],
        [1, 1],
      ],
      { values: [1.5, 0, 1.5] },
    );
    expect(outcome).toEqual({
      converged: true,
      parameters: [expect.closeTo(1, 12), expect.closeTo(0, 12)],
      covariance: [
        [expect.closeTo(0.5, 12), expect.closeTo(0, 12)],
        [expect.closeTo(0, 12), expect.closeTo(0.75, 12)],
      ],
      residualSum: expect.closeTo(1.5, 12),
      degreesOfFreedom: 1,
      atBound: [false, false],
    });
  });

  it("refuses columns that depend on each other, and too few observations", () => {
    const dependent = xs.map((x) => [1, x, 2 * x + 1]);
    expect(fitLinear(dependent, { values: xs })).toMatchObject({
      converged: false,
      reason: "parameters cannot be told apart",
    });
    expect(
      fitLinear(
        xs.map((x) => [x, 0]),
        { values: xs },
      ),
    ).toMatchObject({
      reason: "parameters cannot be told apart",
    });
    expect(
      fitLinear(
        [
          [1, 2],
          [1, 3],
        ],
        { values: [1, 2] },
      ),
    ).toMatchObject({
      converged: false,
      reason: "too few observations",
    });
    const known = { values: [1, 2], standardUncertainties: [0.1, 0.1] };
    expect(
      fitLinear(
        [
          [1, 2],
          [1, 3],
        ],
        known,
      ),
    ).toMatchObject({ converged: true, degreesOfFreedom: 0 });
  });

  it("refuses an observation without uncertainty among others that have one", () => {
    const observations = { values: [1, 2, 3], standardUncertainties: [1, 0, 1] };
    expect(() => fitLinear([[1], [1], [1]], observations)).toThrow(
      "no standard uncertainty above 0",
    );
  });

  it("leaves residuals at right angles to every column, whatever the data", () => {
    const value = fc.double({ min: -1000, max: 1000, noNaN: true });
    const size = fc.double({ min: 0.1, max: 10, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(value, value, size), { minLength: 4, maxLength: 20 }),
        (rows) => {
          const design = rows.map(([x], i) => [1, x, i]);
          const values = rows.map(([, y]) => y);
          const outcome = fitLinear(design, {
            values,
            standardUncertainties: rows.map(([, , u]) => u),
          });
          if (!outcome.converged) return;
          const [a = 0, b = 0, c = 0] = outcome.parameters;
          const across = [0, 1, 2].map((k) =>
            rows.reduce(
              (sum, [x, y, u], i) =>
                sum + ((design[i]?.[k] ?? 0) * (y - a - b * x - c * i)) / u ** 2,
              0,
            ),
          );
          for (const one of across) expect(Math.abs(one)).toBeLessThan(1e-3);
        },
      ),
    );
  });
});

describe("nonlinear fit", () => {
  it("agrees with the linear one on a straight line, covariance and all", () => {
    const values = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8];
    const standardUncertainties = values.map((_, i) => 1 + i / 4);
    const straight = fitted(fitLinear(line, { values, standardUncertainties }));
    const predict = ([a = 0, b = 0]: readonly number[]) => xs.map((x) => a + b * x);
    const found = fitted(fitNonlinear({ predict }, [100, -50], { values, standardUncertainties }));
    straight.parameters.forEach((one, at) => {
      expect(found.parameters[at]).toBeCloseTo(one, 9);
      straight.covariance[at]?.forEach((entry, k) => {
        expect(found.covariance[at]?.[k]).toBeCloseTo(entry, 8);
      });
    });
    expect(found.residualSum).toBeCloseTo(straight.residualSum, 10);
  });

  // The covariance is a promise about repeated measurements: simulate them.
  it("scatters as its covariance says", () => {
    const draws = new Draws(11);
    const truth = [5, 0.7, 1];
    const standardUncertainties = xs.map(() => 0.05);
    const fits = Array.from({ length: 600 }, () => {
      const values = decay(truth).map((value) => value + 0.05 * draws.of("normal"));
      return fitted(fitNonlinear({ predict: decay }, [4, 1, 0], { values, standardUncertainties }));
    });
    truth.forEach((value, at) => {
      const scaled = fits.map(
        (fit) => ((fit.parameters[at] ?? 0) - value) / Math.sqrt(fit.covariance[at]?.[at] ?? 0),
      );
      const square = scaled.reduce((sum, one) => sum + one * one, 0) / fits.length;
      // The mean of 600 squares scatters by √(2/600) = 0.058: four of that.
      expect(Math.abs(square - 1)).toBeLessThan(0.24);
    });
  });

  const fitOfExact = (truth: readonly number[], offs: readonly number[]) => {
    const start = truth.map((value, at) => value * (offs[at] ?? 1));
    return fitNonlinear({ predict: decay }, start, { values: decay(truth) });
  };

  it("finds again what made exact data, from 2,000 starts that are near", () => {
    const draws = new Draws(3);
    const between = (low: number, high: number) => low + (high - low) * draws.share();
    for (let i = 0; i < 2000; i++) {
      const truth = [between(0.5, 3), between(0.3, 1.5), between(0.5, 3)];
      const offs = truth.map(() => between(0.6, 1.6));
      const found = fitted(fitOfExact(truth, offs));
      truth.forEach((value, at) => {
        expect(found.parameters[at]).toBeCloseTo(value, 7);
      });
    }
  });

  // About one search in ten thousand strays to where the model has another shape: it must say so.
  it("refuses rather than be wrong", () => {
    const size = fc.double({ min: 0.5, max: 3, noNaN: true });
    const rate = fc.double({ min: 0.3, max: 4, noNaN: true });
    const off = fc.double({ min: 0.6, max: 1.6, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(size, rate, size), fc.tuple(off, off, off), (truth, offs) => {
        const outcome = fitOfExact(truth, offs);
        if (!outcome.converged) return;
        truth.forEach((value, at) => {
          expect(outcome.parameters[at]).toBeCloseTo(value, 6);
        });
      }),
    );
  });

  it("holds a parameter at its bound and says so", () => {
    const values = xs.map((x, i) => 3 * x + 1 + (i % 2 === 0 ? 0.1 : -0.1));
    const predict = ([a = 0, b = 0]: readonly number[]) => xs.map((x) => a + b * x);
    const bounds = { lower: [-10, -10], upper: [10, 2] };
    const found = fitted(fitNonlinear({ predict }, [0, 0], { values }, bounds));
    // With the slope held at 2 the best height is the mean of the rest: mean(x) + 1 = 3.75.
    expect(found).toMatchObject({
      parameters: [expect.closeTo(3.75, 9), 2],
      degreesOfFreedom: 11,
      atBound: [false, true],
    });
    expect(found.covariance[1]).toEqual([0, 0]);
    const wide = fitted(
      fitNonlinear({ predict }, [0, 0], { values }, { lower: [], upper: [10, 5] }),
    );
    expect(wide.atBound).toEqual([false, false]);
    expect(wide.parameters[1]).toBeCloseTo(3, 1);
  });
});

describe("nonlinear fit that has no answer", () => {
  // A straight line is the limit of a (1 − exp(−b x)) for b → 0 and a → ∞: always better further on.
  it("does not settle where the best lies infinitely far off", () => {
    const predict = ([a = 0, b = 0]: readonly number[]) =>
      xs.map((x) => a * (1 - Math.exp(-b * x)));
    const outcome = fitNonlinear({ predict }, [1, 1], { values: xs.map((x) => x * x) });
    expect(outcome).toMatchObject({ converged: false, reason: "does not converge" });
  });

  it("does not converge with slopes that are wrong", () => {
    const slopes = ([, b = 0]: readonly number[]) => xs.map((x) => [-Math.exp(-b * x), 1, 1]);
    const values = decay([5, 0.7, 1]);
    const outcome = fitNonlinear({ predict: decay, slopes }, [1, 1, 1], { values });
    expect(outcome).toMatchObject({ reason: "does not converge", parameters: [1, 1, 1] });
  });

  it("refuses parameters that act only together", () => {
    const predict = ([a = 0, b = 0]: readonly number[]) => xs.map((x) => a * b * x);
    const values = xs.map((x, i) => 3 * x + (i % 2));
    const outcome = fitNonlinear({ predict }, [1, 1], { values });
    expect(outcome).toMatchObject({ converged: false, reason: "parameters cannot be told apart" });
  });

  it("refuses them also where slopes by difference make them look a little different", () => {
    const predict = ([a = 0, b = 0]: readonly number[]) => xs.map((x) => a * Math.exp(b) * x);
    const values = xs.map((x, i) => 3 * x + (i % 2));
    const outcome = fitNonlinear({ predict }, [1, 0.5], { values });
    expect(outcome).toMatchObject({ converged: false, reason: "parameters cannot be told apart" });
  });

  it("refuses too few observations and a model that is not a number", () => {
    const predict = () => [Number.NaN, 1, 1];
    expect(fitNonlinear({ predict }, [1], { values: [1, 2, 3] })).toMatchObject({
      reason: "model is not a number at the start",
    });
    expect(fitNonlinear({ predict: decay }, [1, 1, 1], { values: [1, 2, 3] })).toMatchObject({
      reason: "too few observations",
    });
  });

  it("goes round places where the model is not a number", () => {
    const predict = ([a = 0]: readonly number[]) => xs.map((x) => Math.sqrt(a) * x);
    const found = fitted(fitNonlinear({ predict }, [100], { values: xs.map((x) => 0.5 * x) }));
    expect(found.parameters[0]).toBeCloseTo(0.25, 8);
  });
});

describe("a second opinion", () => {
  // The same noisy data through a public general-purpose library, which is given values already
  // divided by their uncertainties: its own weights did not lead to the least sum when tried.
  it.each([1, 2, 3, 4, 5])("another library comes to the same decay, data %d", (seed) => {
    const draws = new Draws(seed);
    const sizes = xs.map((_, i) => 0.02 + 0.01 * (i % 3));
    const sizeOf = (i: number) => sizes[i] ?? 1;
    const values = decay([4, 0.8, 1.5]).map((value, i) => value + sizeOf(i) * draws.of("normal"));
    const start = [3, 1, 1];
    const ours = fitted(
      fitNonlinear({ predict: decay }, start, { values, standardUncertainties: sizes }),
    );
    const theirs = levenbergMarquardt(
      { x: xs.map((_, i) => i), y: values.map((value, i) => value / sizeOf(i)) },
      (parameters) => (i) => (decay(parameters)[i] ?? 0) / sizeOf(i),
      {
        initialValues: start,
        gradientDifference: 1e-6,
        centralDifference: true,
        maxIterations: 200,
        errorTolerance: 0,
      },
    );
    expect(theirs.parameterError).toBeCloseTo(ours.residualSum, 8);
    theirs.parameterValues.forEach((value, at) => {
      expect(ours.parameters[at]).toBeCloseTo(value, 6);
    });
  });
});
