// The verdict in plain words, and the table of every printed row against what was measured. Pure.

import type { EndDocument, RowVerdict, RunResult, Verdict } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { ENGLISH } from "../speech/english.ts";
import type { PaperSpeech, Speech } from "../speech/speech.ts";
import { toldText } from "../told.ts";
import type { Unit } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { limitsText, measuredNumber, notZero, rpmText, short, unitSign } from "./figures.ts";
import type { Block, Table } from "./model.ts";

export function verdictBlock(
  end: EndDocument | null,
  result: RunResult,
  unit: Unit,
  say: Speech = ENGLISH,
): Block {
  const { verdict } = result;
  const { verdicts } = say;
  const details = endingDetails(end, say);
  if (verdict !== null) details.push(verdicts.explained(verdict));
  else if (end?.ending === "completed") {
    details.push(verdicts.noRow);
  }
  details.push(...countDetails(result, say));
  const text =
    verdict === null ? verdicts.notJudged : verdicts.headline(verdict, hasOwnTarget(unit));
  return { kind: "verdict", verdict, text, details };
}

function countDetails({ rows, rowsNotMeasured }: RunResult, { verdicts }: Speech): string[] {
  const count = (verdict: Verdict, measured: boolean) =>
    rows.filter((row) => row.verdict === verdict && (row.measured !== null) === measured).length;
  const outside = count("outside", true) + count("outside", false);
  const missing = count("unproven", false);
  const details: string[] = [];
  if (rows.length > missing) {
    details.push(
      verdicts.counts(
        rows.length - missing,
        count("within", true),
        outside,
        count("unproven", true),
      ),
    );
  }
  if (rows.some(({ isOpenByDelay }) => isOpenByDelay)) details.push(verdicts.openByDelay);
  if (missing > 0) details.push(verdicts.missing(missing));
  if (rowsNotMeasured > 0) {
    details.push(verdicts.rowsNotMeasured(rowsNotMeasured));
  }
  return details;
}

function endingDetails(end: EndDocument | null, say: Speech): string[] {
  const { verdicts } = say;
  if (end === null) return [verdicts.noEnd];
  if (end.ending === "completed") return [];
  return [verdicts.notComplete(end.ending, end.reason === null ? "" : toldText(end.reason, say))];
}

/** Rising and falling of one printed row stand side by side. */
export function judgementTable(
  unit: Unit,
  rows: readonly RowVerdict[],
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): Table[] {
  if (rows.length === 0) return [];
  const { rows: words } = say.sheet;
  const heads = [words.of, words.printed, words.limits, words.rising, words.falling];
  const text = (row: RowVerdict | undefined) =>
    measuredText(row, vacuumUnit, say.verdicts.word, say);
  return [
    {
      caption: words.caption,
      groups: [],
      columns: heads.map((head) => ({ head, align: "left" as const })),
      rows: rowGroups(rows).map((group) => ({
        cells: [
          subjectOf(group[0], unit, say),
          say.verdicts.row(group[0].printed),
          limitsAt(group[0], vacuumUnit, say),
          text(group.find(({ branch }) => branch !== "falling")),
          text(group.find(({ branch }) => branch === "falling")),
        ],
        strong: group.some(({ verdict }) => verdict !== "within"),
      })),
    },
  ];
}

type Group = [RowVerdict, ...RowVerdict[]];

function rowGroups(rows: readonly RowVerdict[]): Group[] {
  const groups = new Map<string, Group>();
  for (const row of rows) {
    const key = JSON.stringify([row.about, row.capsule, row.printed, row.x]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  return [...groups.values()];
}

export function subjectOf(
  { about, capsule }: RowVerdict,
  unit: Unit,
  { sheet: { rows: words } }: PaperSpeech,
): string {
  const several = unit.capsules.length > 1;
  const name = several && capsule !== null ? unit.capsules[capsule]?.name : undefined;
  return name === undefined ? words.about(about) : `${name}, ${words.about(about)}`;
}

export function limitsAt(
  { limits, unit, about, x }: RowVerdict,
  vacuumUnit: VacuumUnit,
  say: PaperSpeech,
): string {
  const text = limitsText(limits, unit, vacuumUnit, say);
  if (x === null) return text;
  const byVacuum = about === "vacuum" || about === "hold";
  const place = byVacuum
    ? `${short(vacuumFromPascals(x, vacuumUnit), say)} ${vacuumUnit}`
    : rpmText(x, say);
  return say.sheet.rows.limitsAt(text, place);
}

export function measuredText(
  row: RowVerdict | undefined,
  vacuumUnit: VacuumUnit,
  verdictWord: (verdict: Verdict) => string,
  say: PaperSpeech,
): string {
  if (row === undefined) return "";
  const { rows: words } = say.sheet;
  const verdict = verdictWord(row.verdict);
  if (row.measured === null) {
    if (row.verdict !== "outside") return say.papers.notMeasured;
    return row.about === "return" ? words.doesNot(verdict) : words.neverReached(verdict);
  }
  const number = (value: number) => measuredNumber(value, row.unit, vacuumUnit, say);
  const { expandedUncertainty } = row;
  const uncertainty =
    expandedUncertainty === null ? "" : ` ± ${notZero(number(expandedUncertainty))}`;
  return `${number(row.measured)}${uncertainty}${unitSign(row.unit, vacuumUnit, say)}: ${verdict}`;
}
