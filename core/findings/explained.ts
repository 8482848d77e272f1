// A run judged and explained: what its explanation leaves open is not passed.
import type { RowVerdict, RunDocument, RunResult } from "../documents.ts";
import { decide } from "../judge/decision.ts";
import { judge } from "../judge/result.ts";
import type { Unit } from "../unit.ts";
import { DEG_PER_RPM_US } from "./delay.ts";
import type { Findings, PossibleDelay } from "./finding.ts";
import { findingsOf } from "./findings.ts";

export interface Explained {
  readonly result: RunResult;
  readonly findings: Findings;
}

/** Total: whatever part of a run there is. Documents in their order. */
export function explained(unit: Unit, documents: readonly RunDocument[]): Explained {
  const judged = judge(unit, documents);
  const findings = findingsOf(unit, documents, judged);
  const { possibleDelay } = findings;
  // By hand there is no rig between the contacts and the reader's eye.
  const isByHand = documents.some((one) => one.type === "start" && one.rig.byHand !== undefined);
  const isOpen = possibleDelay !== undefined && !isByHand;
  return { result: isOpen ? leftOpen(judged, possibleDelay) : judged, findings };
}

/**
 * Late edges make the advance read less than it is: travel beyond its limit would pass. A row of the
 * speed curve that is within only without the delay is unproven.
 */
export function leftOpen(result: RunResult, delay: PossibleDelay): RunResult {
  const topRpm = Math.max(0, ...result.speed.rising.map(({ x }) => x));
  const rows = result.rows.map((row) => (staysWithin(row, topRpm, delay) ? row : open(row)));
  const isOpen = rows.some(({ isOpenByDelay }) => isOpenByDelay);
  const verdict = isOpen && result.verdict === "within" ? "unproven" : result.verdict;
  return { ...result, verdict, rows };
}

function staysWithin(
  { about, unit, verdict, measured, expandedUncertainty, limits, x }: RowVerdict,
  topRpm: number,
  { us, referenceRpm }: PossibleDelay,
): boolean {
  const isAdvance = about === "speed" && unit === "deg" && verdict === "within";
  if (!isAdvance || measured === null) return true;
  const lateDeg = DEG_PER_RPM_US * us * ((x ?? topRpm) - referenceRpm);
  return decide(measured + lateDeg, expandedUncertainty ?? 0, limits) === "within";
}

function open(row: RowVerdict): RowVerdict {
  return { ...row, verdict: "unproven", isOpenByDelay: true };
}
