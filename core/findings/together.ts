// Which faults a unit may have at once, and which of them would not show beside others.
import type { Comparison } from "./comparison.ts";
import type { CurveFault } from "./curveFaults.ts";
import type { FindingKind } from "./finding.ts";
import type { Weighed } from "./weight.ts";

export function goTogether(one: CurveFault, other: CurveFault): boolean {
  if (one.kind === other.kind && (one.part === other.part || !isSpring(one.kind))) return false;
  const both = [one, other];
  // A cam that is stuck hides all but what is not the unit's.
  if (both.some(({ kind }) => kind === "weights-stuck")) {
    return both.some(({ subject }) => subject === "rig");
  }
  // Of one spring only one thing can be told, and a missing one has no load to lose.
  const onFirst = both.filter(({ kind, part }) => /first|both/.test(part ?? kind));
  const onSecond = both.filter(
    ({ kind, part }) => /second|both/.test(part ?? kind) || kind === "second-spring-loop-worn",
  );
  return onFirst.length < 2 && onSecond.length < 2;
}

function isSpring(kind: FindingKind): boolean {
  return kind.startsWith("spring-");
}

/** A fault that moves no reading by more than this, though it were a large one, is not seen. */
const UNSEEN_DEG = 0.2;
/** A large one, as a standard normal number. */
const LARGE = 1;
/** Readings that are as likely with a fault as without it, within this logarithm, say nothing of it. */
const SAYS_NOTHING = 1;

/** Kinds of which no fault that may be there as well would show: a stop that is never met, springs of a stuck cam. */
export function unseenBeside(
  best: Weighed,
  explained: readonly Weighed[],
  faults: readonly CurveFault[],
  asPrinted: Comparison,
): FindingKind[] {
  const { faults: there, part, sizes, predicted, logEvidence } = best;
  if (!best.isExplained || there.length === 0 || part !== null) return [];
  const besides = faults.filter((one) => there.every((other) => goTogether(one, other)));
  const moves = (one: CurveFault) =>
    asPrinted
      .predict([one, ...there], [LARGE, ...sizes])
      .some((deg, i) => Math.abs(deg - (predicted[i] as number)) > UNSEEN_DEG);
  const isTold = (one: CurveFault) => {
    const both = explained.find(
      (other) =>
        other.isExplained &&
        other.faults.length === there.length + 1 &&
        [one, ...there].every((fault) => other.faults.includes(fault)),
    );
    return both === undefined || Math.abs(both.logEvidence - logEvidence) > SAYS_NOTHING;
  };
  const shown = new Set(besides.filter((one) => moves(one) && isTold(one)).map(({ kind }) => kind));
  const kinds = new Set(besides.map(({ kind }) => kind));
  return [...kinds].filter((kind) => !shown.has(kind) && there.every((one) => one.kind !== kind));
}
