// One reading of a curve as a fit takes it, and which part of its uncertainty is its own.
import type { CurvePoint, UncertaintyPart } from "../documents.ts";
import type { Branch } from "../unit.ts";

export interface BranchReading {
  readonly point: CurvePoint;
  readonly branch: Branch;
  /** What the common error of all readings makes of no advance, as far as the lowest show it. */
  readonly restDeg: number;
  /** Between rest and stop, where the form's own error shows. */
  readonly isOnSlope: boolean;
}

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
export function isSideways({ name }: UncertaintyPart): boolean {
  return name === "speed" || name === "vacuum";
}

/** Of the errors of the angle that a reading shares with others. */
export function sharedDeg({ budget }: CurvePoint): number {
  const shared = budget.filter((one) => one.shared && !isSideways(one));
  return Math.hypot(...shared.map(({ standardUncertainty }) => standardUncertainty));
}
