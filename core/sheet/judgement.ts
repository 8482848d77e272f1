// The verdict in plain words, and the table of every printed row against what was measured. Pure.

import type { EndDocument, RowVerdict, RunResult, Verdict } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import { toldText } from "../told.ts";
import type { Unit } from "../unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { fixed, limitsText, measuredNumber, notZero, short, unitSign } from "./figures.ts";
import type { Block, Table } from "./model.ts";

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  within: "within",
  outside: "OUTSIDE",
  unproven: "too close to call",
};

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
): Table[] {
  if (rows.length === 0) return [];
  return [
    {
      caption: "Every printed row against what was measured, in distributor figures",
      groups: [],
      columns: ["of", "as printed", "limits", "rising, or measured once", "falling"].map(
        (head) => ({ head, align: "left" as const }),
      ),
      rows: rowGroups(rows).map((group) => ({
        cells: [
          subjectOf(group[0], unit),
          group[0].printed,
          limitsAt(group[0], vacuumUnit),
          measuredText(
            group.find(({ branch }) => branch !== "falling"),
            vacuumUnit,
          ),
          measuredText(
            group.find(({ branch }) => branch === "falling"),
            vacuumUnit,
          ),
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

export function subjectOf({ about, capsule }: RowVerdict, unit: Unit): string {
  const several = unit.capsules.length > 1;
  const name = several && capsule !== null ? unit.capsules[capsule]?.name : undefined;
  return name === undefined ? about : `${name}, ${about}`;
}

export function limitsAt({ limits, unit, about, x }: RowVerdict, vacuumUnit: VacuumUnit): string {
  const text = limitsText(limits, unit, vacuumUnit);
  if (x === null) return text;
  const byVacuum = about === "vacuum" || about === "hold";
  const place = byVacuum
    ? `${short(vacuumFromPascals(x, vacuumUnit))} ${vacuumUnit}`
    : `${fixed(x, 0)} rpm`;
  return `${text} at ${place}`;
}

export function measuredText(
  row: RowVerdict | undefined,
  vacuumUnit: VacuumUnit,
  verdictWords = VERDICT_WORDS,
): string {
  if (row === undefined) return "";
  const verdict = verdictWords[row.verdict];
  if (row.measured === null) {
    if (row.verdict !== "outside") return "not measured";
    return row.about === "return" ? `it does not: ${verdict}` : `never reached: ${verdict}`;
  }
  const number = (value: number) => measuredNumber(value, row.unit, vacuumUnit);
  const { expandedUncertainty } = row;
  const uncertainty =
    expandedUncertainty === null ? "" : ` ± ${notZero(number(expandedUncertainty))}`;
  return `${number(row.measured)}${uncertainty}${unitSign(row.unit, vacuumUnit)}: ${verdict}`;
}
