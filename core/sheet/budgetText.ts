// The uncertainty budget of one reading as a table of text. Pure.
import type { CurvePoint, RunDocument } from "../documents.ts";
import { BobweightError } from "../errors.ts";
import { alignedText } from "./alignedText.ts";
import { budgetLines, budgetSums } from "./budget.ts";
import { resultOf, startDocumentOf } from "./curves.ts";
import { fixed } from "./figures.ts";

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
    alignedText(rows),
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
