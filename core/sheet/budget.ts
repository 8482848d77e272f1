// The uncertainty budget of one reading: its parts in plain words, and as a table of text. Pure.
import { combined } from "../angles/budget.ts";
import type { CurvePoint, PartName, RunDocument, UncertaintyPart } from "../documents.ts";
import { BobweightError } from "../errors.ts";
import { resultOf, startDocumentOf } from "./curves.ts";
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
  "ripple elsewhere": "the same ripple where the advance has moved the lobes to",
  zero: "reference, delay and unseen ripple together, as the slow readings tell them",
  delay: "delay of the trigger input",
  speed: "the speed, by the slope of the curve",
  vacuum: "the vacuum, by the slope of the curve",
  together: "all parts together; the version that recorded it did not keep them apart",
};

/** One line of a budget as sheet, page and command show it. */
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

/**
 * The rising reading of the speed sweep nearest to `atRpm`, or where that is null the one known worst,
 * with its budget. @throws RECORD_INCOMPLETE where the record has no such reading
 */
export function budgetText(documents: readonly RunDocument[], atRpm: number | null): string {
  const { unit, recordId } = startDocumentOf(documents);
  const point = pointAt(resultOf(documents).speed.rising, atRpm);
  if (point === null) {
    throw new BobweightError(
      "RECORD_INCOMPLETE",
      `Record ${recordId} has no rising reading of the speed sweep.`,
    );
  }
  const sums = budgetSums(point);
  const rows = [
    ["standard uncertainty °", "degrees of freedom", "shape", "stands in", "part"],
    ...budgetLines(point).map((line) => [
      line.standardUncertainty,
      line.degreesOfFreedom,
      line.shape,
      line.standsIn,
      line.part,
    ]),
  ];
  return [
    `${unit.description}, record ${recordId}`,
    `advance ${fixed(point.advanceDeg, 3)}° ± ${sums.expandedUncertainty}° (distributor) at ${fixed(point.x, 1)} rpm, rising`,
    "",
    ...aligned(rows),
    "",
    `combined standard uncertainty ${sums.standardUncertainty}°`,
    `coverage factor for 95 % ${sums.coverageFactor}`,
    `expanded uncertainty ${sums.expandedUncertainty}°`,
    "",
  ].join("\n");
}

function pointAt(points: readonly CurvePoint[], atRpm: number | null): CurvePoint | null {
  const expanded = (one: CurvePoint) => one.coverageFactor * one.standardUncertaintyDeg;
  return points.reduce<CurvePoint | null>((best, one) => {
    if (best === null) return one;
    const better =
      atRpm === null
        ? expanded(one) > expanded(best)
        : Math.abs(one.x - atRpm) < Math.abs(best.x - atRpm);
    return better ? one : best;
  }, null);
}

/** Columns two blanks apart; the last one is not filled up. */
function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => row[i]?.length ?? 0)));
  return rows.map((row) =>
    row.map((cell, i) => (i === row.length - 1 ? cell : cell.padEnd(widths[i] ?? 0))).join("  "),
  );
}
