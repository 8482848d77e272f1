// How probable it is that the true value lies inside its limits (JCGM 106).
import type { Limits } from "../unit.ts";
import { studentCdf } from "./coverage.ts";

/** A measured value; degrees of freedom 1 to Infinity. */
export interface Measured {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

/**
 * Conformance probability, 0 to 1: the share of the measured value's normal or t distribution that
 * lies inside the limits, nothing being known beforehand. Source: JCGM 106:2012 § 7.3 and 7.4, from
 * memory. Without uncertainty it is 1 or 0; the limits themselves count as inside.
 */
export function conformanceProbability(measured: Measured, limits: Limits): number {
  const min = limits.min ?? Number.NEGATIVE_INFINITY;
  const max = limits.max ?? Number.POSITIVE_INFINITY;
  const { value, standardUncertainty, degreesOfFreedom } = measured;
  if (standardUncertainty === 0) return value >= min && value <= max ? 1 : 0;
  const below = (limit: number): number =>
    studentCdf((limit - value) / standardUncertainty, degreesOfFreedom);
  return below(max) - below(min);
}
