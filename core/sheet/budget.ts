// The uncertainty budget of one reading in plain words, for command and page. Pure.
import { combined } from "../angles/budget.ts";
import type { CurvePoint, PartName, UncertaintyPart } from "../documents.ts";
import { fixed } from "./figures.ts";

const PART_WORDS: Readonly<Record<PartName, string>> = {
  "between readings": "where between two readings it begins",
  sensor: "vacuum sensor",
  repeatability: "turns that differ from one another",
  tick: "rounding to the ticks of the rig's clock",
  interpolation: "speed that bends between two pulses",
  drift: "drift during the reading",
  reference: "the reference reading, from which advance counts",
  pickup: "places of the pickup's edges",
  "ripple not seen": "ripple of the drive that the pickup cannot see",
  "ripple elsewhere": "that ripple at the places the advance has moved the lobes to",
  zero: "reference, delay and unseen ripple together, as the slow readings tell them",
  delay: "delay of the trigger input",
  speed: "the speed, by the slope of the curve",
  reading: "the degree wheel or the timing light, read by eye",
  vacuum: "the vacuum, by the slope of the curve",
  together: "all parts together; the version that recorded it did not keep them apart",
};

/** One line of a budget as page and command show it. */
export interface BudgetLine {
  readonly part: string;
  /** Distributor degrees, four digits after the point. */
  readonly standardUncertainty: string;
  /** `∞` where it is known. */
  readonly degreesOfFreedom: string;
  readonly shape: UncertaintyPart["shape"];
  readonly standsIn: "this reading" | "all readings";
}

/** Largest first. */
export function budgetLines({ budget }: Pick<CurvePoint, "budget">): readonly BudgetLine[] {
  return [...budget]
    .sort((a, b) => b.standardUncertainty - a.standardUncertainty)
    .map(({ name, standardUncertainty, degreesOfFreedom, shape, shared }) => ({
      part: PART_WORDS[name],
      standardUncertainty: fixed(standardUncertainty, 4),
      degreesOfFreedom: degreesOfFreedom === null ? "∞" : fixed(degreesOfFreedom, 0),
      shape,
      standsIn: shared ? "all readings" : "this reading",
    }));
}

export interface BudgetSums {
  readonly standardUncertainty: string;
  readonly coverageFactor: string;
  readonly expandedUncertainty: string;
}

export function budgetSums(point: Pick<CurvePoint, "budget" | "coverageFactor">): BudgetSums {
  const standardUncertainty = combined(point.budget);
  return {
    standardUncertainty: fixed(standardUncertainty, 4),
    coverageFactor: fixed(point.coverageFactor, 2),
    expandedUncertainty: fixed(point.coverageFactor * standardUncertainty, 4),
  };
}
