// One search of Levenberg and Marquardt's: where it stands, and how it takes a step.
import { type Factored, factor, norm, solve } from "./orthogonal.ts";
import {
  type Bounds,
  inverseUncertainties,
  type Model,
  type NoFit,
  type Observations,
  scaledColumns,
  times,
} from "./problem.ts";

/** Rank tolerances: rounding leaves 1e-16 of a column, slopes by difference are good to 1e-10. */
export const RANK_TOLERANCE = 1e-13;
const RANK_TOLERANCE_BY_DIFFERENCE = 1e-8;
/** The search ends where the share of the residuals that a step could remove is below this. */
const REMOVABLE_SHARE = 1e-10;
/** Rounding in the residuals, as a share of the observations: nothing below it can be removed. */
const ROUNDING_SHARE = 1e-14;
/** Cube root of the rounding of a double: best for central differences. */
const DIFFERENCE_SHARE = Math.cbrt(Number.EPSILON);
const FIRST_DAMPING = 1e-3;
const MOST_DAMPING = 1e16;

/** Where the search stands: parameters, residuals over uncertainty, damping. */
export class Search {
  parameters: number[];
  residualSum: number;
  #residuals: number[];
  #damping = FIRST_DAMPING;
  #raise = 2;
  readonly #model: Model;
  readonly #values: readonly number[];
  readonly #scales: readonly number[];
  readonly #bounds: Bounds;
  readonly #sizes: readonly number[];

  constructor(model: Model, observations: Observations, bounds: Bounds, start: readonly number[]) {
    this.#model = model;
    this.#values = observations.values;
    this.#scales = inverseUncertainties(observations);
    this.#bounds = bounds;
    this.parameters = start.map((value, at) => this.#inside(value, at));
    this.#sizes = this.parameters.map((value) => Math.abs(value) || 1);
    this.#residuals = this.#residualsAt(this.parameters);
    this.residualSum = norm(this.#residuals) ** 2;
  }

  failed(reason: NoFit["reason"]): NoFit {
    return { converged: false, reason, parameters: this.parameters };
  }

  /** Slopes for the parameters that no bound holds, factored with the residuals. */
  slopes(): { free: boolean[]; columns: number[][]; factored: Factored } {
    const all = this.#model.slopes
      ? scaledColumns(this.#model.slopes(this.parameters), this.#scales, this.parameters.length)
      : this.parameters.map((_, at) => this.#slopeByDifference(at));
    const free = all.map((column, at) => !this.#isPressed(column, at));
    const columns = all.filter((_, at) => free[at]);
    const tolerance = this.#model.slopes ? RANK_TOLERANCE : RANK_TOLERANCE_BY_DIFFERENCE;
    return { free, columns, factored: factor(columns, this.#residuals, tolerance) };
  }

  /** Could no step remove anything worth it? */
  isSettled(columns: readonly number[][], factored: Factored): boolean {
    const enough = REMOVABLE_SHARE * norm(this.#residuals) + ROUNDING_SHARE * this.#size();
    if (factored.fullRank) return norm(factored.turned.slice(0, columns.length)) <= enough;
    return columns.every((column) => {
      const along = column.reduce((sum, one, i) => sum + one * (this.#residuals[i] ?? 0), 0);
      return Math.abs(along) <= enough * norm(column);
    });
  }

  /** Goes one step that is not up, damping more until there is one; false if there is none. */
  descend(free: readonly boolean[], columns: readonly number[][]): boolean {
    while (this.#damping < MOST_DAMPING) {
      const step = this.#dampedStep(columns);
      let next = 0;
      const trial = this.parameters.map((value, at) =>
        free[at] ? this.#inside(value + (step[next++] ?? 0), at) : value,
      );
      const residuals = this.#residualsAt(trial);
      const residualSum = norm(residuals) ** 2;
      if (residualSum <= this.residualSum + this.#rounding()) {
        this.#accept(trial, residuals, residualSum, columns, step);
        return true;
      }
      this.#damping *= this.#raise;
      this.#raise *= 2;
    }
    return false;
  }

  #accept(
    parameters: number[],
    residuals: number[],
    residualSum: number,
    columns: readonly number[][],
    step: readonly number[],
  ): void {
    const foreseen = this.#residuals.map((residual, i) =>
      columns.reduce((rest, column, k) => rest - (column[i] ?? 0) * (step[k] ?? 0), residual),
    );
    const hoped = this.residualSum - norm(foreseen) ** 2;
    // Below rounding the sum cannot tell a good step from a bad one: trust the slopes.
    const gain = hoped > this.#rounding() ? (this.residualSum - residualSum) / hoped : 1;
    const trust = Math.min(Math.max(gain, 0), 1);
    this.#damping *= Math.max(1 / 10, 1 - (2 * trust - 1) ** 3);
    this.#raise = 2;
    this.parameters = parameters;
    this.#residuals = residuals;
    this.residualSum = residualSum;
  }

  /** Marquardt's damping in units of each column's length, as rows below the slopes. */
  #dampedStep(columns: readonly number[][]): number[] {
    const root = Math.sqrt(this.#damping);
    const lengthened = columns.map((column, k) => [
      ...column,
      ...columns.map((_, row) => (row === k ? root * (norm(column) || 1) : 0)),
    ]);
    const rightHand = [...this.#residuals, ...columns.map(() => 0)];
    return solve(factor(lengthened, rightHand, 0));
  }

  #residualsAt(parameters: readonly number[]): number[] {
    const predicted = this.#model.predict(parameters);
    return this.#values.map(
      (value, i) => (value - (predicted[i] ?? Number.NaN)) * (this.#scales[i] ?? 0),
    );
  }

  #slopeByDifference(at: number): number[] {
    const value = this.parameters[at] ?? 0;
    const reach = DIFFERENCE_SHARE * (Math.abs(value) || (this.#sizes[at] ?? 1));
    const high = this.#inside(value + reach, at);
    const low = this.#inside(value - reach, at);
    const above = this.#model.predict(this.parameters.with(at, high));
    const below = this.#model.predict(this.parameters.with(at, low));
    const slope = above.map((one, i) => (one - (below[i] ?? 0)) / (high - low));
    return times(slope, this.#scales);
  }

  /** At a bound, with less residual beyond it? */
  #isPressed(column: readonly number[], at: number): boolean {
    const value = this.parameters[at] ?? 0;
    const wish = column.reduce((sum, one, i) => sum + one * (this.#residuals[i] ?? 0), 0);
    const { lower, upper } = this.#bounds;
    return (value === lower[at] && wish <= 0) || (value === upper[at] && wish >= 0);
  }

  #inside(value: number, at: number): number {
    const { lower, upper } = this.#bounds;
    const floor = lower[at] ?? Number.NEGATIVE_INFINITY;
    return Math.min(Math.max(value, floor), upper[at] ?? Number.POSITIVE_INFINITY);
  }

  #size(): number {
    return norm(times(this.#values, this.#scales));
  }

  /** Of the residual sum. Close to the end, steps still mend the parameters where the sum shows nothing. */
  #rounding(): number {
    return ROUNDING_SHARE * norm(this.#residuals) * this.#size();
  }
}
