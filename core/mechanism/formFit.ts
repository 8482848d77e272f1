// One form fitted to readings: their own scatter as weights, errors that they share as parameters beside it.
import type { CurvePoint, UncertaintyPart } from "../documents.ts";
import { fitLinear, fitNonlinear } from "../fit/leastSquares.ts";
import type { Bounds, Observations } from "../fit/problem.ts";
import { coverageFactor } from "../uncertainty/coverage.ts";
import type { Branch } from "../unit.ts";
import type { ToldFigure } from "./fitted.ts";

export interface BranchReading {
  readonly point: CurvePoint;
  readonly branch: Branch;
  /** What the common error of all readings makes of no advance, as far as the lowest show it. */
  readonly restDeg: number;
  /** Between rest and stop, where the form's own error shows. */
  readonly isOnSlope: boolean;
}

/** A form as a vector of the parameters that are free. */
export interface Problem<Form> {
  readonly readings: readonly BranchReading[];
  readonly start: readonly number[];
  readonly bounds: Bounds;
  readonly formOf: (parameters: readonly number[]) => Form;
  readonly predict: (form: Form, x: number, branch: Branch) => number;
  /** Other forms that the readings do not speak against, each with its share of 1; the chosen one first. */
  readonly rivals: readonly { readonly form: Form; readonly share: number }[];
  /** How often each place was read on the slope, so that its readings err alike about the form. */
  readonly copies: number;
}

export interface FormFit<Form> {
  readonly form: Form;
  /** Standard deviation about the form beyond the readings' own, degrees. */
  readonly modelErrorDeg: number;
  /** A figure of the form with its uncertainty. */
  readonly figure: (value: (form: Form) => number) => ToldFigure;
}

/** From a start that is nearly there. */
const STEPS = 15;
/** No reading is to outweigh all others. */
const LEAST_DEG = 0.01;

/** Of what differs from reading to reading. */
export function ownDeg({ budget }: CurvePoint): number {
  return Math.sqrt(
    budget
      .filter(({ shared }) => !shared)
      .reduce((sum, { standardUncertainty }) => sum + standardUncertainty ** 2, LEAST_DEG ** 2),
  );
}

/** An error of speed or vacuum moves all readings along the curve: what degrees it makes is for the form to say. */
function isSideways({ name }: UncertaintyPart): boolean {
  return name === "speed" || name === "vacuum";
}

/** Of the errors of the angle that a reading shares with others. */
export function sharedDeg({ budget }: CurvePoint): number {
  const shared = budget.filter((one) => one.shared && !isSideways(one));
  return Math.hypot(...shared.map(({ standardUncertainty }) => standardUncertainty));
}

/** Standard uncertainty of all speeds or vacuums together: what it makes of the angle, over the slope. */
function sidewaysX<Form>({ readings, formOf, start, predict }: Problem<Form>): number {
  const form = formOf(start);
  const each = readings.flatMap(({ point: { x, budget }, branch, isOnSlope }) => {
    const deg = Math.hypot(
      ...budget.filter(isSideways).map(({ standardUncertainty }) => standardUncertainty),
    );
    const reach = 1e-3 * x;
    const rise = predict(form, x + reach, branch) - predict(form, x - reach, branch);
    return isOnSlope && rise !== 0 ? [deg / Math.abs(rise / (2 * reach))] : [];
  });
  return each.sort((a, b) => a - b)[each.length >> 1] ?? 0;
}

/** One list of degrees for each error that stands in many readings alike, at one standard uncertainty of it. */
function sharedErrors(readings: readonly BranchReading[]): number[][] {
  const shared = readings.map(({ point }) =>
    point.budget.filter((one) => one.shared && !isSideways(one)),
  );
  const names = [...new Set(shared.flatMap((parts) => parts.map(({ name }) => name)))];
  return names.map((name) =>
    shared.map((parts) =>
      Math.sqrt(
        parts
          .filter((one) => one.name === name)
          .reduce((sum, { standardUncertainty }) => sum + standardUncertainty ** 2, 0),
      ),
    ),
  );
}

/** What friction holds comes to rest a little short of where it was going, either way. An assumption, no source. */
const SHORT_DEG = 0.01;

function restingShort(readings: readonly BranchReading[]): number[] {
  return readings.map(({ branch, isOnSlope }) =>
    isOnSlope ? (branch === "rising" ? -SHORT_DEG : SHORT_DEG) : 0,
  );
}

/**
 * Generalised least squares: each shared error is a parameter of its own, which a line of observation
 * holds to zero by its standard uncertainty. Null where no best place is found; a search that ends on
 * a corner of the form has found one.
 */
export function fitForm<Form>(problem: Problem<Form>): FormFit<Form> | null {
  const { readings } = problem;
  const shared = [...sharedErrors(readings), restingShort(readings)];
  const sidewaysUncertainty = sidewaysX(problem);
  const count = problem.start.length;
  const predict = (parameters: readonly number[]) => {
    const form = problem.formOf(parameters.slice(0, count));
    const [sideways = 0, ...errors] = parameters.slice(count);
    return [
      ...readings.map(({ point, branch }, i) =>
        shared.reduce(
          (sum, error, k) => sum + (errors[k] ?? 0) * (error[i] ?? 0),
          problem.predict(form, point.x - sideways * sidewaysUncertainty, branch),
        ),
      ),
      sideways,
      ...errors,
    ];
  };
  const observed = (modelErrorDeg: number): Observations => ({
    values: [...readings.map(({ point }) => point.advanceDeg), 0, ...shared.map(() => 0)],
    standardUncertainties: [
      ...readings.map(({ point, isOnSlope }) =>
        Math.hypot(ownDeg(point), isOnSlope ? Math.sqrt(problem.copies) * modelErrorDeg : 0),
      ),
      1,
      ...shared.map(() => 1),
    ],
  });
  const search = (start: readonly number[], modelErrorDeg: number) => {
    const fit = fitNonlinear({ predict }, start, observed(modelErrorDeg), problem.bounds, STEPS);
    return fit.converged || fit.reason === "does not converge" ? fit.parameters : null;
  };
  const start = [...problem.start, 0, ...shared.map(() => 0)];
  const onSlope = readings.filter((one) => one.isOnSlope).length;
  const degreesOfFreedom = Math.max(1, onSlope - count);
  const errorAt = (parameters: readonly number[]) =>
    modelErrorDeg(readings, predict(parameters), degreesOfFreedom);
  const first = search(start, errorAt(start));
  const parameters = first && search(first, errorAt(first));
  if (parameters === null) return null;
  const error = errorAt(parameters);
  const own = fitLinear(slopes(predict, parameters), observed(error));
  if (!own.converged) return null;
  const form = problem.formOf(parameters.slice(0, count));
  const factor = coverageFactor(0.95, degreesOfFreedom);
  const figure = (value: (form: Form) => number): ToldFigure => {
    const of = (all: readonly number[]) => value(problem.formOf(all.slice(0, count)));
    const gradient = parameters.map((parameter, at) => {
      const reach = stepOf(parameter);
      const moved = (by: number) => of(parameters.with(at, parameter + by));
      return (moved(reach) - moved(-reach)) / (2 * reach);
    });
    const variance = dot(
      gradient,
      own.covariance.map((row) => dot(row, gradient)),
    );
    return {
      value: value(form),
      standardUncertainty: Math.sqrt(Math.max(0, variance) + betweenForms(problem, value)),
      coverageFactor: factor,
    };
  };
  return { form, modelErrorDeg: error, figure };
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
