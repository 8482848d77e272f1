// A run judged and explained: what its explanation leaves open is not passed.
import type { RowVerdict, RunDocument, RunResult, Verdict } from "../documents.ts";
import { decide } from "../judge/decision.ts";
import { gather } from "../judge/gathered.ts";
import { judge, wholeVerdict } from "../judge/result.ts";
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
  if (possibleDelay === undefined || isByHand) return { result: judged, findings };
  const rows = leftOpen(judged, possibleDelay);
  const verdict = wholeVerdict(rows, gather(unit, documents).ended);
  return { result: { ...judged, rows, verdict }, findings };
}

/**
 * Late edges make the advance read less than it is: travel beyond its limit would pass, and a sound
 * unit would be blamed for its rig. What is within only as read is unproven; so is what is outside
 * only as read, where the delay is likely.
 */
export function leftOpen(
  { rows, speed }: Pick<RunResult, "rows" | "speed">,
  delay: PossibleDelay,
): readonly RowVerdict[] {
  const topRpm = Math.max(0, ...speed.rising.map(({ x }) => x));
  return rows.map((row): RowVerdict => {
    const { verdict } = row;
    const counts = verdict === "within" || (verdict === "outside" && delay.isLikely);
    if (!counts || withoutDelay(row, topRpm, delay) === verdict) return row;
    return { ...row, verdict: "unproven", isOpenByDelay: true };
  });
}

function withoutDelay(
  { about, unit, verdict, measured, expandedUncertainty, limits, x }: RowVerdict,
  topRpm: number,
  { us, referenceRpm }: PossibleDelay,
): Verdict {
  if (about !== "speed" || unit !== "deg" || measured === null) return verdict;
  const lateDeg = DEG_PER_RPM_US * us * ((x ?? topRpm) - referenceRpm);
  return decide(measured + lateDeg, expandedUncertainty ?? 0, limits);
}
