// A run as the sheet sees it: its start, its end, its result, and how far a curve travels. Pure.

import type {
  CurvePoint,
  EndDocument,
  RigFindings,
  RunDocument,
  RunResult,
  StartDocument,
} from "../documents.ts";
import { BobweightError } from "../errors.ts";
import { judge } from "../judge/result.ts";
import { type Start, startOf } from "../judge/start.ts";

/** @throws BUG where the documents do not begin with a start. */
export function startDocumentOf(documents: readonly RunDocument[]): StartDocument {
  const start = documents[0];
  if (start?.type === "start") return start;
  throw new BobweightError("BUG", "A run's documents do not begin with its start.");
}

/** Null while the run goes on, or where the program died. */
export function endDocumentOf(documents: readonly RunDocument[]): EndDocument | null {
  return documents.findLast((document) => document.type === "end") ?? null;
}

/** What the whole run told of the rig; null where it did not come to that. */
export function rigFindingsOf(documents: readonly RunDocument[]): RigFindings | null {
  return documents.find((document) => document.type === "final")?.rig ?? null;
}

/** As judged at the end, or from as much as there is. */
export function resultOf(documents: readonly RunDocument[]): RunResult {
  return endDocumentOf(documents)?.result ?? judge(startDocumentOf(documents).unit, documents);
}

/** Where a curve begins, is halfway, and how far it goes. */
export interface Travel {
  readonly begins: Start;
  /** Null where the lowest reading is past it. */
  readonly halfwayX: number | null;
  /** The largest advance, or retard, and the first reading that is not told from it. */
  readonly endDeg: number;
  readonly endX: number;
}

/** Of a rising curve, its start found as the judge finds it. Null where it never clearly leaves zero. */
export function travelOf(curve: readonly CurvePoint[], sweep: "speed" | "vacuum"): Travel | null {
  const farthest = Math.max(0, ...curve.map(({ advanceDeg }) => Math.abs(advanceDeg)));
  const end = curve.find(({ advanceDeg }) => Math.abs(advanceDeg) === farthest);
  if (end === undefined) return null;
  const sign = end.advanceDeg < 0 ? -1 : 1;
  const turned = curve.map((point) => ({
    ...point,
    advanceDeg: sign * point.advanceDeg,
    xStandardUncertainty: 0,
  }));
  const begins = startOf(turned, sweep === "speed" ? 2 : 1);
  if (begins === null || begins.kind === "above") return null;
  return {
    begins,
    halfwayX: crossing(turned, farthest / 2),
    endDeg: end.advanceDeg,
    endX: curve.find((point) => isAlike(point, end))?.x ?? end.x,
  };
}

/** Within the expanded uncertainty of the two's difference, taken as independent (JCGM 100 § 5.1.2). */
function isAlike(point: CurvePoint, end: CurvePoint): boolean {
  const expandedDeg = (one: CurvePoint) => one.coverageFactor * one.standardUncertaintyDeg;
  const apartDeg = Math.abs(end.advanceDeg - point.advanceDeg);
  return apartDeg <= Math.hypot(expandedDeg(point), expandedDeg(end));
}

/** Where straight lines between the points first rise past a level. */
function crossing(points: readonly CurvePoint[], levelDeg: number): number | null {
  for (let i = 1; i < points.length; i++) {
    const before = points[i - 1] as CurvePoint;
    const after = points[i] as CurvePoint;
    if (before.advanceDeg < levelDeg && after.advanceDeg >= levelDeg) {
      const part = (levelDeg - before.advanceDeg) / (after.advanceDeg - before.advanceDeg);
      return before.x + part * (after.x - before.x);
    }
  }
  return null;
}
