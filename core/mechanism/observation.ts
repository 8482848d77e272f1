// What a form is fitted to: the readings, and beside them every error that readings share as a parameter.
import type { Bounds, Observations } from "../fit/problem.ts";
import type { Branch } from "../unit.ts";
import { type BranchReading, isSideways, ownDeg } from "./branchReading.ts";

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

/** A problem with its shared errors: parameters are the form's, then one for each error. */
export interface Observation {
  readonly start: readonly number[];
  readonly predict: (parameters: readonly number[]) => readonly number[];
  /** The readings' values and uncertainties, then a line that holds each error to 0 by its own. */
  readonly observed: (modelErrorDeg: number) => Observations;
}

/** Generalised least squares, written as ordinary ones. */
export function observation<Form>(problem: Problem<Form>): Observation {
  const { readings, start, formOf, copies } = problem;
  const errors = [...sharedErrors(readings), restingShort(readings)];
  const sidewaysUncertainty = sidewaysX(problem);
  const none = [0, ...errors.map(() => 0)];
  return {
    start: [...start, ...none],
    predict: (parameters) => {
      const form = formOf(parameters.slice(0, start.length));
      const sizes = parameters.slice(start.length);
      const [sideways = 0, ...others] = sizes;
      const degs = readings.map(({ point, branch }, i) =>
        errors.reduce(
          (sum, error, k) => sum + (others[k] ?? 0) * (error[i] ?? 0),
          problem.predict(form, point.x - sideways * sidewaysUncertainty, branch),
        ),
      );
      return [...degs, ...sizes];
    },
    observed: (modelErrorDeg) => ({
      values: [...readings.map(({ point }) => point.advanceDeg), ...none],
      standardUncertainties: [
        ...readings.map(({ point, isOnSlope }) =>
          Math.hypot(ownDeg(point), isOnSlope ? Math.sqrt(copies) * modelErrorDeg : 0),
        ),
        ...none.map(() => 1),
      ],
    }),
  };
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
