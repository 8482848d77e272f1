// The curves of a run: as judged where it has ended, else from the readings so far. Pure.
import type {
  CapsuleResult,
  CurvePoint,
  EndDocument,
  PointDocument,
  RunDocument,
  RunResult,
  StartDocument,
} from "../documents.ts";
import { BobweightError } from "../errors.ts";
import { type Start, startOf } from "../judge/start.ts";
import type { Branch } from "../unit.ts";
import { COVERAGE_FACTOR } from "./figures.ts";

export interface RunCurves {
  readonly speed: RunResult["speed"];
  readonly capsules: readonly CapsuleResult[];
}

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

export function curvesOf(documents: readonly RunDocument[]): RunCurves {
  const end = endDocumentOf(documents);
  if (end !== null) return { speed: end.result.speed, capsules: end.result.capsules };
  const points = documents.filter((document) => document.type === "point");
  const holds = documents.filter((document) => document.type === "hold");
  const speed = points.filter(({ sweep }) => sweep === "speed");
  return {
    speed: { rising: branchOf(speed, "rising"), falling: branchOf(speed, "falling") },
    capsules: startDocumentOf(documents).unit.capsules.map(({ name }, capsule) => {
      const own = points.filter((point) => point.sweep === "vacuum" && point.capsule === capsule);
      return {
        name,
        rising: branchOf(own, "rising"),
        falling: branchOf(own, "falling"),
        hold: holds.find((hold) => hold.capsule === capsule) ?? null,
      };
    }),
  };
}

function branchOf(points: readonly PointDocument[], branch: Branch): CurvePoint[] {
  return points
    .filter((point) => point.branch === branch)
    .map(({ sweep, targetPa, targetRpm, reading }) => ({
      x: sweep === "vacuum" ? (reading.vacuumPa ?? targetPa ?? 0) : reading.speedRpm,
      targetX: sweep === "vacuum" ? (targetPa ?? 0) : targetRpm,
      advanceDeg: reading.advanceDeg,
      standardUncertaintyDeg: reading.standardUncertaintyDeg,
    }));
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
  const standardDeg = Math.hypot(point.standardUncertaintyDeg, end.standardUncertaintyDeg);
  return Math.abs(end.advanceDeg - point.advanceDeg) <= COVERAGE_FACTOR * standardDeg;
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
