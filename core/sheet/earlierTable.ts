// Every printed row as received, before and after a change, as a table of the sheet. Pure.
import type { RowVerdict, RunResult, Verdict } from "../documents.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { type EarlierRun, rowsOverRuns } from "./earlier.ts";
import { dateText } from "./figures.ts";
import { limitsAt, measuredText, subjectOf, VERDICT_WORDS } from "./judgement.ts";
import type { Table } from "./model.ts";

/** Three verdicts have to stand side by side. */
const SHORT_WORDS: Readonly<Record<Verdict, string>> = { ...VERDICT_WORDS, unproven: "close" };

/** `earlier`: one at least. */
export function earlierTable(
  unit: Unit,
  earlier: readonly EarlierRun[],
  present: RunResult,
  vacuumUnit: VacuumUnit,
): Table[] {
  const heads = ["of", "as printed", "limits", ...earlier.map(runText), "after"];
  const verdicts = [...earlier.map(({ result }) => result), present].map(({ verdict }) => verdict);
  return [
    {
      caption: `Every printed row ${earlier.map(({ name }) => name).join(", ")} and after the change, in distributor figures (close: too close to call)`,
      groups: [],
      columns: heads.map((head) => ({ head, align: "left" as const })),
      rows: [
        {
          cells: ["verdict", "", "", ...verdicts.map(verdictText)],
          strong: true,
        },
        ...rowsOverRuns(earlier, present).map(({ row, runs }) => ({
          cells: [
            withBranch(row, unit),
            row.printed,
            limitsAt(row, vacuumUnit),
            ...runs.map((one) => (one === null ? "–" : measuredText(one, vacuumUnit, SHORT_WORDS))),
          ],
          strong: runs.at(-1)?.verdict !== "within",
        })),
      ],
    },
  ];
}

function runText({ name, startedUtc, isByHand }: EarlierRun): string {
  return `${name}, ${dateText(startedUtc)}${isByHand ? ", by hand" : ""}`;
}

function verdictText(verdict: Verdict | null): string {
  return verdict === null ? "not judged" : VERDICT_WORDS[verdict];
}

function withBranch(row: RowVerdict, unit: Unit): string {
  const subject = subjectOf(row, unit);
  return row.branch === null ? subject : `${subject}, ${row.branch}`;
}
