// Every printed row as received, before and after a change, as a table of the sheet. Pure.
import type { RowVerdict, RunResult, Verdict } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
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
  const heads = [
    "of",
    "as printed, and its limits",
    ...earlier.map(runText),
    `after${targetText(hasOwnTarget(unit))}`,
  ];
  const verdicts = [...earlier.map(({ result }) => result), present].map(({ verdict }) => verdict);
  return [
    {
      caption: `Every printed row ${earlier.map(({ name }) => name).join(", ")} and after the change, in distributor figures (close: too close to call)`,
      groups: [],
      columns: heads.map((head) => ({ head, align: "left" as const })),
      rows: [
        {
          cells: ["verdict", "", ...verdicts.map(verdictText)],
          strong: true,
        },
        ...besideOneAnother(rowsOverRuns(earlier, present)).map(({ row, runs, place }) => ({
          cells: [
            subjectAt(row, place, unit),
            printedAt(row, place, vacuumUnit),
            ...runs.map((one) => (one === null ? "–" : measuredText(one, vacuumUnit, SHORT_WORDS))),
          ],
          strong: runs.at(-1)?.verdict !== "within",
        })),
      ],
    },
  ];
}

function runText({ name, startedUtc, isByHand, isOwnTarget }: EarlierRun): string {
  const how = isByHand ? ", by hand" : "";
  return `${name}, ${dateText(startedUtc)}${how}${targetText(isOwnTarget)}`;
}

function targetText(isOwnTarget: boolean): string {
  return isOwnTarget ? ", to the user's own target" : "";
}

function verdictText(verdict: Verdict | null): string {
  return verdict === null ? "not judged" : VERDICT_WORDS[verdict];
}

/** Where a printed row was judged on both branches, falling comes right after rising. */
type Place = "only" | "first" | "second";

function besideOneAnother(
  rows: readonly RowOverRuns[],
): readonly (RowOverRuns & { readonly place: Place })[] {
  return rows.flatMap((first, index) => {
    const isAlike = ({ row }: RowOverRuns) => printedKey(row) === printedKey(first.row);
    if (rows.findIndex(isAlike) < index) return [];
    const alike = rows.filter(isAlike);
    const places: readonly Place[] = alike.length === 1 ? ["only"] : ["first"];
    return alike.map((one, i) => ({ ...one, place: places[i] ?? "second" }));
  });
}

function printedKey({ about, capsule, printed, x, limits }: RowVerdict): string {
  return JSON.stringify([about, capsule, printed, x, limits.min, limits.max]);
}

function subjectAt(row: RowVerdict, place: Place, unit: Unit): string {
  if (place === "second") return row.branch ?? "";
  const subject = subjectOf(row, unit);
  return row.branch === null ? subject : `${subject}, ${row.branch}`;
}

/** What is printed stands once for both branches, its limits below. */
function printedAt(row: RowVerdict, place: Place, vacuumUnit: VacuumUnit): string {
  const limits = limitsAt(row, vacuumUnit);
  if (place === "first") return row.printed;
  return place === "second" ? limits : `${row.printed} (${limits})`;
}
