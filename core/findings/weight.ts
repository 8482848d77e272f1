// What an explanation weighs: how likely it was beforehand, and how likely it makes the readings.
import type { CurveFault } from "./curveFaults.ts";
import type { Explained } from "./evidence.ts";

/** Of a curve that is off in a way that no fault explains. An assumption, no source. */
export const UNEXPLAINED_PRIOR = 0.0005;

export interface Candidate {
  readonly faults: readonly CurveFault[];
  /** False where the curve is off besides in a way that no fault explains. */
  readonly isExplained: boolean;
  /** How the specification was misread, or null. */
  readonly part: string | null;
  readonly prior: number;
}

export type Weighed = Candidate & Explained;

/** Readings err together in ways that no covariance here has: they count for less. An assumption, no source. */
export const COUNTS_FOR = 0.8;

export function weightOf({ prior, logEvidence }: Weighed): number {
  return Math.log(prior) + COUNTS_FOR * logEvidence;
}
