// Weighted least squares, linear and nonlinear, with the covariance of what was fitted.
import { type Factored, factor, norm, normalInverse, solve } from "./orthogonal.ts";
import {
  type Bounds,
  type Fit,
  inverseUncertainties,
  type Model,
  type NoFit,
  type Observations,
  scaledColumns,
  times,
} from "./problem.ts";
import { RANK_TOLERANCE, Search } from "./search.ts";

const MOST_STEPS = 500;

/**
 * Parameters p that bring `design` p closest to the observations; one row of `design` for each
 * observation. By Householder's QR: normal equations would square the condition number.
 */
export function fitLinear(
  design: readonly (readonly number[])[],
  observations: Observations,
): Fit | NoFit {
  const scales = inverseUncertainties(observations);
  const count = design[0]?.length ?? 0;
  const nothing = Array.from({ length: count }, () => 0);
  if (!enough(observations, count)) {
    return { converged: false, reason: "too few observations", parameters: nothing };
  }
  const values = times(observations.values, scales);
  const factored = factor(scaledColumns(design, scales, count), values, RANK_TOLERANCE);
  if (!factored.fullRank) {
    return { converged: false, reason: "parameters cannot be told apart", parameters: nothing };
  }
  const residualSum = norm(factored.turned.slice(count)) ** 2;
  const free = nothing.map(() => true);
  return finished(factored, free, solve(factored), residualSum, observations);
}

/** Without known uncertainties one observation more than parameters is needed to estimate them. */
function enough(observations: Observations, parameters: number): boolean {
  const spare = observations.values.length - parameters;
  return spare > 0 || (spare === 0 && observations.standardUncertainties !== undefined);
}

function finished(
  factored: Factored,
  free: readonly boolean[],
  parameters: readonly number[],
  residualSum: number,
  observations: Observations,
): Fit {
  const degreesOfFreedom = observations.values.length - factored.triangle.length;
  const variance = observations.standardUncertainties ? 1 : residualSum / degreesOfFreedom;
  const inverse = normalInverse(factored);
  const place = free.map((_, at) => free.slice(0, at).filter(Boolean).length);
  const covariance = free.map((rowFree, i) =>
    free.map((columnFree, j) =>
      rowFree && columnFree ? variance * (inverse[place[i] ?? 0]?.[place[j] ?? 0] ?? 0) : 0,
    ),
  );
  const atBound = free.map((one) => !one);
  return { converged: true, parameters, covariance, residualSum, degreesOfFreedom, atBound };
}

/**
 * Levenberg and Marquardt's search from `start` for the parameters that bring `model` closest to
 * the observations (Marquardt 1963; damping as Nielsen 1999, from memory). It finds the lowest
 * place downhill of the start, which need not be the lowest of all. A parameter that would leave
 * its bounds is held there while the slope presses it against them. Models with corners (a knee, a
 * stop) may have their least on a corner, where no slope vanishes: the search then does not converge,
 * and `mostSteps` says how long to try.
 */
export function fitNonlinear(
  model: Model,
  start: readonly number[],
  observations: Observations,
  bounds: Bounds = { lower: [], upper: [] },
  mostSteps = MOST_STEPS,
): Fit | NoFit {
  const search = new Search(model, observations, bounds, start);
  if (!enough(observations, start.length)) return search.failed("too few observations");
  if (!Number.isFinite(search.residualSum)) {
    return search.failed("model is not a number at the start");
  }
  for (let step = 0; step < mostSteps; step++) {
    const { free, columns, factored } = search.slopes();
    if (search.isSettled(columns, factored)) {
      if (!factored.fullRank) return search.failed("parameters cannot be told apart");
      return finished(factored, free, search.parameters, search.residualSum, observations);
    }
    if (!search.descend(free, columns)) break;
  }
  return search.failed("does not converge");
}
