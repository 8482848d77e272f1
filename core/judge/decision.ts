// The rule by which a measured value is within, outside, or too close to call.
import type { Verdict } from "../documents.ts";
import type { Limits } from "../unit.ts";

/**
 * Guard band as wide as the expanded uncertainty (ISO 14253-1; ILAC-G8:09/2019 § 4.2.3): within if
 * all of value ± uncertainty is inside the limits, outside if all of it is beyond one, else
 * unproven. The limits themselves still count as inside.
 */
export function decide(value: number, expandedUncertainty: number, limits: Limits): Verdict {
  const min = limits.min ?? Number.NEGATIVE_INFINITY;
  const max = limits.max ?? Number.POSITIVE_INFINITY;
  const low = value - expandedUncertainty;
  const high = value + expandedUncertainty;
  if (low >= min && high <= max) return "within";
  return high < min || low > max ? "outside" : "unproven";
}

const SEVERITY: Readonly<Record<Verdict, number>> = { within: 0, unproven: 1, outside: 2 };

/** The gravest of them; null where there is none. */
export function gravest(verdicts: readonly Verdict[]): Verdict | null {
  let worst: Verdict | null = null;
  for (const verdict of verdicts) {
    if (worst === null || SEVERITY[verdict] > SEVERITY[worst]) worst = verdict;
  }
  return worst;
}
