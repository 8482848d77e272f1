// One form fitted to readings: its own error found, and figures of it with their uncertainties.
import { fitLinear, fitNonlinear } from "../fit/leastSquares.ts";
import { coverageFactor } from "../uncertainty/coverage.ts";
import { type BranchReading, ownDeg } from "./branchReading.ts";
import type { ToldFigure } from "./fitted.ts";
import { observation, type Problem } from "./observation.ts";

export interface FormFit<Form> {
  readonly form: Form;
  /** Standard deviation about the form beyond the readings' own, degrees. */
  readonly modelErrorDeg: number;
  /** A figure of the form with its uncertainty. */
  readonly figure: (value: (form: Form) => number) => ToldFigure;
}

/** From a start that is nearly there. */
const STEPS = 15;
/** Null where no best place is found; a search that ends on a corner of the form has found one. */
export function fitForm<Form>(problem: Problem<Form>): FormFit<Form> | null {
  const { readings, bounds, formOf } = problem;
  const count = problem.start.length;
  const { start, predict, observed } = observation(problem);
  const onSlope = readings.filter((one) => one.isOnSlope).length;
  const degreesOfFreedom = Math.max(1, onSlope - count);
  const errorAt = (parameters: readonly number[]) =>
    modelErrorDeg(readings, predict(parameters), degreesOfFreedom);
  let parameters = start;
  for (let round = 0; round < ROUNDS; round++) {
    const observations = observed(errorAt(parameters));
    const fit = fitNonlinear({ predict }, parameters, observations, bounds, STEPS);
    if (!fit.converged && fit.reason !== "does not converge") return null;
    parameters = fit.parameters;
  }
  const error = errorAt(parameters);
  const linear = fitLinear(slopes(predict, parameters), observed(error));
  if (!linear.converged) return null;
  const factor = coverageFactor(0.95, degreesOfFreedom);
  const formAt = (all: readonly number[]) => formOf(all.slice(0, count));
  return {
    form: formAt(parameters),
    modelErrorDeg: error,
    figure: (value) => ({
      value: value(formAt(parameters)),
      standardUncertainty: Math.sqrt(
        varianceOf((all) => value(formAt(all)), parameters, linear.covariance) +
          betweenForms(problem, value),
      ),
      coverageFactor: factor,
    }),
  };
}

/** The weights know the form's error after the first. */
const ROUNDS = 2;

/** By the slopes of a figure over the parameters (JCGM 100 § 5.2.2, from memory). */
function varianceOf(
  value: (parameters: readonly number[]) => number,
  parameters: readonly number[],
  covariance: readonly (readonly number[])[],
): number {
  const gradient = parameters.map((parameter, at) => {
    const reach = stepOf(parameter);
    const moved = (by: number) => value(parameters.with(at, parameter + by));
    return (moved(reach) - moved(-reach)) / (2 * reach);
  });
  const variance = dot(
    gradient,
    covariance.map((row) => dot(row, gradient)),
  );
  return Math.max(0, variance);
}

/** Variance of a figure by the choice of the form (Buckland, Burnham and Augustin 1997, from memory). */
function betweenForms<Form>({ rivals }: Problem<Form>, value: (form: Form) => number): number {
  const [chosen] = rivals;
  if (chosen === undefined) return 0;
  const here = value(chosen.form);
  return rivals.reduce((sum, { form, share }) => {
    const apart = value(form) - here;
    return Number.isFinite(apart) ? sum + share * apart ** 2 : sum;
  }, 0);
}

function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, i) => sum + value * (other[i] ?? 0), 0);
}

/**
 * The form's own error: what must be added to the readings' uncertainties, in quadrature, for the
 * squares to come to their degrees of freedom (Mandel and Paule 1970, from memory). Scaling all by
 * their ratio would do the same where uncertainties are alike.
 */
function modelErrorDeg(
  readings: readonly BranchReading[],
  predicted: readonly number[],
  degreesOfFreedom: number,
): number {
  const onSlope = readings.flatMap(({ point, isOnSlope }, i) =>
    isOnSlope ? [{ residual: point.advanceDeg - (predicted[i] ?? 0), own: ownDeg(point) }] : [],
  );
  const squares = (error: number) =>
    onSlope.reduce((sum, { residual, own }) => sum + residual ** 2 / (own ** 2 + error ** 2), 0);
  if (squares(0) <= degreesOfFreedom) return 0;
  let [low, high] = [0, MOST_ERROR_DEG];
  for (let round = 0; round < 30; round++) {
    const middle = (low + high) / 2;
    if (squares(middle) > degreesOfFreedom) low = middle;
    else high = middle;
  }
  return high;
}

const MOST_ERROR_DEG = 10;

function stepOf(parameter: number): number {
  return 1e-5 * Math.max(Math.abs(parameter), 1e-2);
}

function slopes(
  predict: (parameters: readonly number[]) => readonly number[],
  parameters: readonly number[],
): number[][] {
  const columns = parameters.map((parameter, at) => {
    const reach = stepOf(parameter);
    const above = predict(parameters.with(at, parameter + reach));
    const below = predict(parameters.with(at, parameter - reach));
    return above.map((deg, i) => (deg - (below[i] ?? 0)) / (2 * reach));
  });
  return (columns[0] ?? []).map((_, i) => columns.map((column) => column[i] ?? 0));
}
