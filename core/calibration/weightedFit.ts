// What a check's readings say of the rig: the fit, what it leaves over, and whether that is noise. Pure.
import { fitLinear } from "../fit/leastSquares.ts";
import { effectiveDegreesOfFreedom } from "../uncertainty/coverage.ts";

/** `coefficients` and `covariance` in the order of the columns; `residuals` are measured minus fitted. */
export interface WeightedFit {
  readonly coefficients: readonly number[];
  /** By the given standard uncertainties alone: not scaled by what is left over. */
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
}

/**
 * Fits values[i] = Σ rows[i][k] · coefficient[k], weighted by 1/standardUncertainties[i]². Null where
 * the rows do not determine every coefficient.
 */
export function fitWeighted(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  standardUncertainties: readonly number[],
): WeightedFit | null {
  const fit = fitLinear(rows, { values, standardUncertainties });
  if (!fit.converged) return null;
  const { parameters, covariance, residualSum, degreesOfFreedom } = fit;
  const residuals = rows.map(
    (row, i) =>
      (values[i] as number) - row.reduce((sum, x, k) => sum + x * (parameters[k] as number), 0),
  );
  return {
    coefficients: parameters,
    covariance,
    residuals,
    chiSquare: residualSum,
    degreesOfFreedom,
  };
}

/**
 * By how much the readings scatter more about the fit than their uncertainties say, at least 1 (the
 * Birge ratio, R. T. Birge, Phys. Rev. 40 (1932) 207; from memory). It widens what the fit says.
 */
export function inflation({ chiSquare, degreesOfFreedom }: WeightedFit): number {
  return degreesOfFreedom === 0 ? 1 : Math.max(1, Math.sqrt(chiSquare / degreesOfFreedom));
}

/** Standard normal quantile at 0.999. */
const Z_999 = 3.0902;

/**
 * What chi-square exceeds once in a thousand by noise alone: the approximation of E. B. Wilson and
 * M. M. Hilferty (1931; from memory), within 4 % of the tables even at one degree of freedom.
 */
export function chiSquareLimit(degreesOfFreedom: number): number {
  const ninth = 2 / (9 * degreesOfFreedom);
  return degreesOfFreedom * (1 - ninth + Z_999 * Math.sqrt(ninth)) ** 3;
}

/** One contribution to a combined standard uncertainty. */
export interface Part {
  readonly standardUncertainty: number;
  /** Null: without limit. */
  readonly degreesOfFreedom: number | null;
}

/** Of uncorrelated parts together (JCGM 100, 5.1.2 and G.4.1). */
export function combined(parts: readonly Part[]): Part {
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    parts.map((part) => ({
      ...part,
      degreesOfFreedom: part.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
    })),
  );
  return {
    standardUncertainty: Math.hypot(...parts.map((part) => part.standardUncertainty)),
    degreesOfFreedom: Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null,
  };
}
