// What is fitted to what, and what comes of it: the words that the linear and the nonlinear fit share.
import { BobweightError } from "../errors.ts";

export interface Fit {
  readonly converged: true;
  readonly parameters: readonly number[];
  /**
   * From the observations' standard uncertainties where they were given, else scaled by the
   * residuals. A parameter held by a bound has none: zeros.
   */
  readonly covariance: readonly (readonly number[])[];
  /** Sum of squares of residual over standard uncertainty (over 1 where none was given). */
  readonly residualSum: number;
  /** Observations less free parameters. */
  readonly degreesOfFreedom: number;
  /** For each parameter: is it held by a bound? */
  readonly atBound: readonly boolean[];
}

export interface NoFit {
  readonly converged: false;
  readonly reason:
    | "too few observations"
    | "parameters cannot be told apart"
    | "model is not a number at the start"
    | "does not converge";
  /** Where the search stood. */
  readonly parameters: readonly number[];
}

export interface Observations {
  readonly values: readonly number[];
  /** One for each value, all above 0; left out where they are equal and not known. */
  readonly standardUncertainties?: readonly number[];
}

/** One lower and one upper end for each parameter; infinite where there is none. */
export interface Bounds {
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

export interface Model {
  /** What the parameters predict for every observation. */
  readonly predict: (parameters: readonly number[]) => readonly number[];
  /** Slopes: one row for each observation, in it one for each parameter. By difference if left out. */
  readonly slopes?: (parameters: readonly number[]) => readonly (readonly number[])[];
}

/** 1 / standard uncertainty of each observation, or 1. */
export function inverseUncertainties(observations: Observations): number[] {
  const { values, standardUncertainties } = observations;
  const scales = values.map(
    (_, i) => 1 / (standardUncertainties ? (standardUncertainties[i] ?? 0) : 1),
  );
  if (scales.every((scale) => scale > 0 && Number.isFinite(scale))) return scales;
  throw new BobweightError(
    "BUG",
    "an observation to be fitted has no standard uncertainty above 0.",
  );
}

/** Columns of a matrix given by rows, each row times its scale. */
export function scaledColumns(
  rows: readonly (readonly number[])[],
  scales: readonly number[],
  count: number,
): number[][] {
  return Array.from({ length: count }, (_, k) =>
    rows.map((row, i) => (row[k] ?? 0) * (scales[i] ?? 0)),
  );
}

export function times(values: readonly number[], scales: readonly number[]): number[] {
  return values.map((value, i) => value * (scales[i] ?? 0));
}
