// Every printed row as received, before and after a change, as a table of the sheet. Pure.
import type { RowVerdict, RunResult, Verdict } from "../documents.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { type EarlierRun, type RowOverRuns, rowsOverRuns } from "./earlier.ts";
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
  const heads = ["of", "as printed", "limits", "branch", ...earlier.map(runText), "after"];
  const verdicts = [...earlier.map(({ result }) => result), present].map(({ verdict }) => verdict);
  return [
    {
      caption: `Every printed row ${earlier.map(({ name }) => name).join(", ")} and after the change, in distributor figures (close: too close to call)`,
      groups: [],
      columns: heads.map((head) => ({ head, align: "left" as const })),
      rows: [
        {
          cells: ["verdict", "", "", "", ...verdicts.map(verdictText)],
          strong: true,
        },
        ...besideOneAnother(rowsOverRuns(earlier, present)).map(({ row, runs, isSecond }) => ({
          cells: [
            // What is printed stands once for both branches.
            ...(isSecond
              ? ["", "", ""]
              : [subjectOf(row, unit), row.printed, limitsAt(row, vacuumUnit)]),
            row.branch ?? "",
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

/** A row's falling branch comes right after its rising one. */
function besideOneAnother(
  rows: readonly RowOverRuns[],
): readonly (RowOverRuns & { readonly isSecond: boolean })[] {
  return rows.flatMap((first, index) => {
    const isAlike = ({ row }: RowOverRuns) => printedKey(row) === printedKey(first.row);
    if (rows.findIndex(isAlike) < index) return [];
    return rows.filter(isAlike).map((one, place) => ({ ...one, isSecond: place > 0 }));
  });
}

function printedKey({ about, capsule, printed, x, limits }: RowVerdict): string {
  return JSON.stringify([about, capsule, printed, x, limits.min, limits.max]);
}
