// The outcome of a rig's test for people and for machines.
import { PROTOCOL_VERSION } from "../../core/codec/rigLines.ts";
import { type Finding, type Verdict, verdictOf } from "./ledger.ts";
import type { RigTestOutcome } from "./rigTest.ts";

interface ClauseReport {
  readonly clause: string;
  readonly verdict: Verdict;
  readonly checks: readonly Omit<Finding, "clause">[];
}

const SHOWN: Readonly<Record<Verdict, string>> = {
  holds: "holds",
  broken: "BROKEN",
  "not tested": "not tested",
};

/** One object, as `--json` prints it. */
export function rigTestReport(rig: string, simulated: boolean, outcome: RigTestOutcome) {
  const { board, agreed, ended } = outcome;
  return {
    rig,
    simulated,
    board,
    protocolVersion: PROTOCOL_VERSION,
    motionAgreed: agreed,
    ended: ended === null ? null : { code: ended.code, text: ended.what },
    clauses: clausesOf(outcome),
  };
}

/** Clause by clause: one line for each, and below it what is broken or was not tested. */
export function rigTestText(rig: string, outcome: RigTestOutcome): string {
  const clauses = clausesOf(outcome);
  const count = (wanted: Verdict) => clauses.filter(({ verdict }) => verdict === wanted).length;
  return [
    `${rig}${outcome.board === null ? "" : ` (${outcome.board})`}, by the clauses of firmware-protocol.md:`,
    ...clauses.flatMap(clauseLines),
    `${count("holds")} hold, ${count("broken")} broken, ${count("not tested")} not tested.`,
  ].join("\n");
}

function clauseLines({ clause, verdict, checks }: ClauseReport): string[] {
  const held = checks.filter((check) => check.verdict === "holds");
  const rest = checks.filter((check) => check.verdict !== "holds");
  const checksHeld = held.length === 0 ? "" : countText(held.length, checks.length);
  const figures = held.map(({ text }) => text).filter((text) => text !== "");
  const after = [checksHeld, ...figures].filter((text) => text !== "").join("; ");
  const head = `${clause.padEnd(6)}${SHOWN[verdict].padEnd(11)}`;
  const [only] = checks;
  if (checks.length === 1 && only?.verdict === "not tested") return [`${head} ${named(only)}`];
  return [
    `${head} ${after}`.trimEnd(),
    ...rest.map(
      (one) => `      ${one.verdict === "broken" ? "broken" : "not tested"}: ${named(one)}`,
    ),
  ];
}

function named({ what, text }: Omit<Finding, "clause">): string {
  return what === "" ? text : `${what}: ${text}`;
}

function countText(held: number, all: number): string {
  if (held < all) return `${held} of ${all} checks hold`;
  return all === 1 ? "1 check" : `${all} checks`;
}

function clausesOf({ findings }: RigTestOutcome): ClauseReport[] {
  const numbers = [...new Set(findings.map(({ clause }) => clause))];
  return numbers.map((clause) => {
    const own = findings.filter((finding) => finding.clause === clause);
    const checks = own.map(({ what, verdict, text }) => ({ what, verdict, text }));
    return { clause, verdict: verdictOf(own), checks };
  });
}
