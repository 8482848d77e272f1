// The uncertainty budget of one reading in plain words, for command and page. Pure.
import { combined } from "../angles/budget.ts";
import type { CurvePoint } from "../documents.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import { fixed } from "./figures.ts";

/** One line of a budget as page and command show it. */
export interface BudgetLine {
  readonly part: string;
  /** Distributor degrees, four digits after the point. */
  readonly standardUncertainty: string;
  /** `∞` where it is known. */
  readonly degreesOfFreedom: string;
  readonly shape: string;
  readonly standsIn: string;
}

/** Largest first. */
export function budgetLines(
  { budget }: Pick<CurvePoint, "budget">,
  say: Speech = ENGLISH,
): readonly BudgetLine[] {
  const { budget: words } = say;
  return [...budget]
    .sort((a, b) => b.standardUncertainty - a.standardUncertainty)
    .map(({ name, standardUncertainty, degreesOfFreedom, shape, shared }) => ({
      part: words.part(name),
      standardUncertainty: fixed(standardUncertainty, 4, say),
      degreesOfFreedom: degreesOfFreedom === null ? "∞" : fixed(degreesOfFreedom, 0, say),
      shape: words.shape(shape),
      standsIn: shared ? words.inAll : words.inThis,
    }));
}

export interface BudgetSums {
  readonly standardUncertainty: string;
  readonly coverageFactor: string;
  readonly expandedUncertainty: string;
}

export function budgetSums(
  point: Pick<CurvePoint, "budget" | "coverageFactor">,
  say: Speech = ENGLISH,
): BudgetSums {
  const standardUncertainty = combined(point.budget);
  return {
    standardUncertainty: fixed(standardUncertainty, 4, say),
    coverageFactor: fixed(point.coverageFactor, 2, say),
    expandedUncertainty: fixed(point.coverageFactor * standardUncertainty, 4, say),
  };
}
