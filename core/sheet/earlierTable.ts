// Every printed row as received, before and after a change, as a table of the sheet. Pure.
import type { RowVerdict, RunResult } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import type { PaperSpeech } from "../speech/speech.ts";
import type { Unit } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { type EarlierRun, type RowOverRuns, rowsOverRuns } from "./earlier.ts";
import { dateText } from "./figures.ts";
import { limitsAt, measuredText, subjectOf } from "./judgement.ts";
import type { Table } from "./model.ts";

/** `earlier`: one at least. */
export function earlierTable(
  unit: Unit,
  earlier: readonly EarlierRun[],
  present: RunResult,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): Table[] {
  const { rows, earlier: words } = say.sheet;
  const heads = [
    rows.of,
    words.printed,
    ...earlier.map((run) => runText(run, say)),
    `${words.after}${targetText(hasOwnTarget(unit), say)}`,
  ];
  const verdicts = [...earlier.map(({ result }) => result), present].map(({ verdict }) => verdict);
  return [
    {
      caption: words.caption(earlier.map(({ name }) => words.run(name))),
      groups: [],
      columns: heads.map((head) => ({ head, align: "left" as const })),
      rows: [
        {
          cells: [
            words.verdict,
            "",
            ...verdicts.map((one) => (one === null ? words.notJudged : say.verdicts.word(one))),
          ],
          strong: true,
        },
        ...besideOneAnother(rowsOverRuns(earlier, present)).map(({ row, runs, place }) => ({
          cells: [
            subjectAt(row, place, unit, say),
            printedAt(row, place, vacuumUnit, say),
            ...runs.map((one) =>
              one === null ? "–" : measuredText(one, vacuumUnit, rows.shortVerdict, say),
            ),
          ],
          strong: runs.at(-1)?.verdict !== "within",
        })),
      ],
    },
  ];
}

function runText(
  { name, startedUtc, isByHand, isOwnTarget }: EarlierRun,
  say: PaperSpeech,
): string {
  const how = isByHand ? `, ${say.papers.owner.byHand}` : "";
  const run = say.sheet.earlier.run(name);
  return `${run}, ${dateText(startedUtc, say)}${how}${targetText(isOwnTarget, say)}`;
}

function targetText(isOwnTarget: boolean, { sheet: { earlier: words } }: PaperSpeech): string {
  return isOwnTarget ? `, ${words.toOwnTarget}` : "";
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

function subjectAt(row: RowVerdict, place: Place, unit: Unit, say: PaperSpeech): string {
  const branch = row.branch === null ? "" : say.sheet.earlier[row.branch];
  if (place === "second") return branch;
  const subject = subjectOf(row, unit, say);
  return row.branch === null ? subject : `${subject}, ${branch}`;
}

/** What is printed stands once for both branches, its limits below. */
function printedAt(
  row: RowVerdict,
  place: Place,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): string {
  const limits = limitsAt(row, vacuumUnit, say);
  const printed = say.verdicts.row(row.printed);
  if (place === "first") return printed;
  return place === "second" ? limits : `${printed} (${limits})`;
}
