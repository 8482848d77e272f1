// One form fitted to readings: its own scatter in, errors that readings share carried along beside it.
import type { CurvePoint } from "../documents.ts";
import { fitLinear, fitNonlinear } from "../fit/leastSquares.ts";
import type { Bounds, Observations } from "../fit/problem.ts";
import { coverageFactor } from "../uncertainty/coverage.ts";
import type { Branch } from "../unit.ts";
import type { ToldFigure } from "./fitted.ts";

export interface BranchReading {
  readonly point: CurvePoint;
  readonly branch: Branch;
}

/** A form as a vector of the parameters that are free. */
export interface Problem<Form> {
  readonly readings: readonly BranchReading[];
  readonly start: readonly number[];
  readonly bounds: Bounds;
  readonly formOf: (parameters: readonly number[]) => Form;
  readonly predict: (form: Form, x: number, branch: Branch) => number;
}

export interface FormFit<Form> {
  readonly problem: Problem<Form>;
  readonly parameters: readonly number[];
  readonly form: Form;
  /** Of residual over weight. */
  readonly squares: number;
  readonly degreesOfFreedom: number;
  readonly modelErrorDeg: number;
}

/** Below this a form's error is of no interest to anybody, and no reading is to outweigh all others. */
const LEAST_DEG = 0.01;

function ownDeg({ point }: BranchReading): number {
  return Math.sqrt(
    point.budget
      .filter(({ shared }) => !shared)
      .reduce((sum, { standardUncertainty }) => sum + standardUncertainty ** 2, LEAST_DEG ** 2),
  );
}

function observed(readings: readonly BranchReading[], modelErrorDeg: number): Observations {
  return {
    values: readings.map(({ point }) => point.advanceDeg),
    standardUncertainties: readings.map((one) => Math.hypot(ownDeg(one), modelErrorDeg)),
  };
}

function predicted<Form>(problem: Problem<Form>, parameters: readonly number[]): number[] {
  const form = problem.formOf(parameters);
  return problem.readings.map(({ point, branch }) => problem.predict(form, point.x, branch));
}

/** Null where no best place is found. A search that ends on a corner of the form has found one too. */
export function fitForm<Form>(
  problem: Problem<Form>,
  modelErrorDeg = 0,
  start = problem.start,
): FormFit<Form> | null {
  const { readings, bounds, formOf } = problem;
  const observations = observed(problem.readings, modelErrorDeg);
  const model = { predict: (parameters: readonly number[]) => predicted(problem, parameters) };
  const fit = fitNonlinear(model, start, observations, bounds);
  if (!fit.converged && fit.reason !== "does not converge") return null;
  const { parameters } = fit;
  const squares = predicted(problem, parameters).reduce(
    (sum, deg, i) =>
      sum +
      (((observations.values[i] ?? 0) - deg) / (observations.standardUncertainties?.[i] ?? 1)) ** 2,
    0,
  );
  return {
    problem,
    parameters,
    form: formOf(parameters),
    squares,
    degreesOfFreedom: readings.length - parameters.length,
    modelErrorDeg,
  };
}

const MODEL_ERROR_ROUNDS = 12;

/**
 * The form's own error is what must be added to the readings' uncertainties, in quadrature, for the
 * squares to come to their degrees of freedom (Mandel and Paule 1970, from memory).
 */
export function withModelError<Form>(first: FormFit<Form>): FormFit<Form> {
  if (first.squares <= first.degreesOfFreedom || first.degreesOfFreedom < 1) return first;
  let best = first;
  let [low, high] = [0, 0];
  for (let round = 0; round < MODEL_ERROR_ROUNDS; round++) {
    const error = high === 0 ? Math.max(LEAST_DEG, 2 * low) : (low + high) / 2;
    const fit = fitForm(first.problem, error, best.parameters);
    if (fit === null) break;
    if (fit.squares > fit.degreesOfFreedom) low = error;
    else {
      high = error;
      best = fit;
    }
  }
  return best;
}

/** Evaluates figures of a fitted form with their uncertainties; null where parameters cannot be told apart. */
export function figuresFrom<Form>(
  fit: FormFit<Form>,
): ((value: (form: Form) => number) => ToldFigure) | null {
  const { problem, parameters, modelErrorDeg, degreesOfFreedom } = fit;
  const design = slopes(problem, parameters);
  const observations = observed(problem.readings, modelErrorDeg);
  const own = fitLinear(design, observations);
  if (!own.converged || degreesOfFreedom < 1) return null;
  const scale = Math.max(1, fit.squares / degreesOfFreedom);
  const shifts = sharedErrors(problem.readings).map(
    (values) => fitLinear(design, { ...observations, values }).parameters,
  );
  const factor = coverageFactor(0.95, degreesOfFreedom);
  return (value) => {
    const here = value(fit.form);
    const gradient = parameters.map((parameter, at) => {
      const reach = stepOf(parameter);
      const moved = (by: number) => value(problem.formOf(parameters.with(at, parameter + by)));
      return (moved(reach) - moved(-reach)) / (2 * reach);
    });
    const dot = (column: readonly number[]) =>
      gradient.reduce((sum, one, at) => sum + one * (column[at] ?? 0), 0);
    const variance = scale * dot(own.covariance.map((row) => dot(row)));
    const shared = shifts.reduce((sum, shift) => sum + dot(shift) ** 2, 0);
    return {
      value: here,
      standardUncertainty: Math.sqrt(Math.max(0, variance) + shared),
      coverageFactor: factor,
    };
  };
}

function stepOf(parameter: number): number {
  return 1e-5 * Math.max(Math.abs(parameter), 1e-2);
}

function slopes<Form>(problem: Problem<Form>, parameters: readonly number[]): number[][] {
  const columns = parameters.map((parameter, at) => {
    const reach = stepOf(parameter);
    const above = predicted(problem, parameters.with(at, parameter + reach));
    const below = predicted(problem, parameters.with(at, parameter - reach));
    return above.map((deg, i) => (deg - (below[i] ?? 0)) / (2 * reach));
  });
  return problem.readings.map((_, i) => columns.map((column) => column[i] ?? 0));
}

/** One list of degrees for each error that stands in many readings alike, at one standard uncertainty of it. */
function sharedErrors(readings: readonly BranchReading[]): number[][] {
  const shared = readings.map(({ point }) => point.budget.filter((one) => one.shared));
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

/** Akaike's criterion with its correction for few readings (Hurvich and Tsai 1989, from memory). */
export function criterion<Form>({ squares, problem, parameters }: FormFit<Form>): number {
  const count = problem.readings.length;
  // The variance is a parameter too.
  const free = parameters.length + 1;
  const spare = count - free - 1;
  if (spare < 1) return Number.POSITIVE_INFINITY;
  return (
    count * Math.log(Math.max(squares / count, LEAST_SQUARES)) + 2 * free * (1 + (free + 1) / spare)
  );
}

/** Squares so far below what the uncertainties lead one to expect speak for no form. */
const LEAST_SQUARES = 0.05;
