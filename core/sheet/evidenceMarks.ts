// Where on its curves the readings stand that speak for findings, each with the findings' numbers. Pure.
import type { CurvePoint, RunResult } from "../documents.ts";
import type { EvidencePlace, Findings } from "../findings/finding.ts";
import type { Branch } from "../unit.ts";

/** A reading that speaks for findings. */
export interface EvidenceMark {
  /** Distributor rpm or pascals. */
  readonly x: number;
  readonly advanceDeg: number;
  /** Null for the reading after everything. */
  readonly branch: Branch | null;
  /** Counted from 1, in the order in which the findings are told. */
  readonly findings: readonly number[];
}

export type MarkedSweep =
  | { readonly kind: "speed" }
  | { readonly kind: "vacuum"; readonly capsule: number };

/** In the order of the findings; a reading that speaks for several is there once. */
export function evidenceMarks(
  findings: Findings | null,
  result: RunResult,
  sweep: MarkedSweep,
): readonly EvidenceMark[] {
  const marks = new Map<string, EvidenceMark>();
  (findings?.found ?? []).forEach(({ evidence }, index) => {
    // The hold test has a picture of its own: its vacuum is no place on the curve.
    const onCurve = evidence.filter(({ figure }) => figure !== "drop in the hold");
    for (const place of onCurve.flatMap(({ places }) => places)) {
      for (const reading of readingsAt(place, result, sweep)) {
        const key = `${reading.branch} ${reading.x}`;
        const known = marks.get(key)?.findings ?? [];
        marks.set(key, { ...reading, findings: [...new Set([...known, index + 1])] });
      }
    }
  });
  return [...marks.values()];
}

type MarkedReading = Omit<EvidenceMark, "findings">;

function readingsAt(
  { sweep, capsule, branch, x }: EvidencePlace,
  { speed, capsules, returnDeg }: RunResult,
  wanted: MarkedSweep,
): MarkedReading[] {
  if (sweep === "return") {
    const isThere = wanted.kind === "speed" && returnDeg !== null;
    return isThere ? [{ x, advanceDeg: returnDeg, branch: null }] : [];
  }
  if (sweep !== wanted.kind) return [];
  if (wanted.kind === "vacuum" && capsule !== wanted.capsule) return [];
  const curves = wanted.kind === "speed" ? speed : capsules[wanted.capsule];
  const branches = branch === null ? (["rising", "falling"] as const) : [branch];
  return branches.flatMap((one) => {
    const nearest = nearestTo(x, curves?.[one] ?? []);
    if (nearest === null) return [];
    return [{ x: nearest.x, advanceDeg: nearest.advanceDeg, branch: one }];
  });
}

function nearestTo(x: number, points: readonly CurvePoint[]): CurvePoint | null {
  return points.reduce<CurvePoint | null>(
    (best, one) => (best === null || Math.abs(one.x - x) < Math.abs(best.x - x) ? one : best),
    null,
  );
}

/** Numbers of the findings that the hold test of a capsule speaks for. */
export function findingsOfHold(findings: Findings | null, capsule: number): readonly number[] {
  return (findings?.found ?? []).flatMap(({ evidence }, index) =>
    evidence.some(
      ({ figure, places }) =>
        figure === "drop in the hold" && places.some((place) => place.capsule === capsule),
    )
      ? [index + 1]
      : [],
  );
}

/** `1, 3`. */
export function markLabel(findings: readonly number[]): string {
  return findings.join(", ");
}
