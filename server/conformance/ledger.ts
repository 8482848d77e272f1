// What a test of a rig found out, clause by clause of firmware-protocol.md.

/** `not tested`: nothing was seen that would tell. */
export type Verdict = "holds" | "broken" | "not tested";

/** One thing that a clause asks for, and what became of it. */
export interface Finding {
  /** Its number in firmware-protocol.md, such as `4.5`. */
  readonly clause: string;
  /** What was looked at. */
  readonly what: string;
  readonly verdict: Verdict;
  /** Broken: what was seen and what was wanted. Not tested: why. Holds: a figure where there is one, else empty. */
  readonly text: string;
}

/** Collects findings. Broken once is broken; what was seen first is kept, with how often it came. */
export class Ledger {
  private readonly entries = new Map<string, { finding: Finding; breaches: number }>();

  holds(clause: string, what: string, text = ""): void {
    const known = this.entries.get(keyOf(clause, what));
    if (known !== undefined && known.finding.verdict !== "not tested") return;
    this.put({ clause, what, verdict: "holds", text }, 0);
  }

  broken(clause: string, what: string, seen: string, wanted: string): void {
    const known = this.entries.get(keyOf(clause, what));
    if (known?.finding.verdict === "broken") known.breaches++;
    else this.put({ clause, what, verdict: "broken", text: `seen ${seen}; wanted ${wanted}` }, 1);
  }

  /** Where something is known already, that stands. */
  notTested(clause: string, what: string, why: string): void {
    if (this.entries.has(keyOf(clause, what))) return;
    this.put({ clause, what, verdict: "not tested", text: why }, 0);
  }

  /** Holds or is broken, as `good` says; gives `good`. */
  judge(clause: string, what: string, good: boolean, seen: string, wanted: string): boolean {
    if (good) this.holds(clause, what);
    else this.broken(clause, what, seen, wanted);
    return good;
  }

  knows(clause: string): boolean {
    return this.findings.some((finding) => finding.clause === clause);
  }

  isBroken(clause: string): boolean {
    return verdictOf(this.findings.filter((finding) => finding.clause === clause)) === "broken";
  }

  get findings(): readonly Finding[] {
    return [...this.entries.values()].map(({ finding, breaches }) =>
      breaches < 2 ? finding : { ...finding, text: `${finding.text} (${breaches} times)` },
    );
  }

  private put(finding: Finding, breaches: number): void {
    this.entries.set(keyOf(finding.clause, finding.what), { finding, breaches });
  }
}

function keyOf(clause: string, what: string): string {
  return `${clause} ${what}`;
}

/** Of all that a clause asks for: broken where any of it is, and held where some is and none is broken. */
export function verdictOf(findings: readonly Finding[]): Verdict {
  if (findings.some(({ verdict }) => verdict === "broken")) return "broken";
  return findings.some(({ verdict }) => verdict === "holds") ? "holds" : "not tested";
}
