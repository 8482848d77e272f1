// Bar: rows that manuals print, typed as lines, stand at the right place on the right scale.
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { BobweightError } from "../../core/errors.ts";
import type { BandRow } from "../../core/unit.ts";
import { unitFromFile } from "../../core/unitFile.ts";
import {
  DOUBTS,
  type Doubt,
  type Expected,
  PRINTED_ENTRIES,
  type PrintedEntry,
} from "../manual/printed.ts";

/** Vacuums are expected to the thousandth of a pascal or so. */
const SAME_SHARE = 1e-7;

interface Typed {
  /** Rows read, or 1 for a doubt. */
  readonly rows: number;
  readonly isDoubt: boolean;
  /** Each with what was typed. */
  readonly errors: readonly string[];
}

async function job(index: number): Promise<Typed> {
  const entry = PRINTED_ENTRIES[index];
  if (entry !== undefined) {
    return { rows: entry.rows.length, isDoubt: false, errors: errorsOf(entry) };
  }
  const doubt = DOUBTS[index - PRINTED_ENTRIES.length];
  if (doubt === undefined) throw new Error("there are no further lines");
  return { rows: 1, isDoubt: true, errors: assumedIn(doubt) };
}

function bandRows(
  about: PrintedEntry["about"],
  typed: PrintedEntry["typed"],
  driveRatio = 2,
): readonly BandRow[] {
  const block = { source: "a manual", ...typed };
  const file = {
    description: "typed from a manual",
    lobes: 4,
    rotation: "cw",
    driveRatio,
    ...(about === "speed" ? { speed: block } : { capsules: [{ name: "capsule", ...block }] }),
  };
  const unit = unitFromFile(file, "typed");
  const band = about === "speed" ? unit.speedBand : unit.capsules[0]?.band;
  return band?.rows ?? [];
}

function errorsOf({ source, about, typed, driveRatio, rows }: PrintedEntry): readonly string[] {
  try {
    const read = bandRows(about, typed, driveRatio);
    if (read.length !== rows.length) return [`${source}: ${read.length} rows`];
    return rows.flatMap((expected, i) => {
      const row = read[i] as BandRow;
      return isSame(row, expected)
        ? []
        : [`${source}: ${JSON.stringify(figuresOf(row))} for ${JSON.stringify(expected)}`];
    });
  } catch (thrown) {
    return [`${source}: ${thrown instanceof BobweightError ? thrown.what : String(thrown)}`];
  }
}

function figuresOf(row: BandRow): Expected {
  if (row.kind === "start") return [row.kind, row.fromX, row.toX];
  return [row.kind, row.x, row.limitsDeg.min, row.limitsDeg.max];
}

function isSame(row: BandRow, expected: Expected): boolean {
  const read = figuresOf(row);
  return (
    read.length === expected.length &&
    expected.every((value, i) => {
      const one = read[i];
      if (typeof value !== "number" || typeof one !== "number") return one === value;
      return Math.abs(one - value) <= SAME_SHARE * Math.max(1, Math.abs(value));
    })
  );
}

/** What was taken for granted where the scale had to be asked for. */
function assumedIn({ about, typed, asks }: Doubt): readonly string[] {
  const text = JSON.stringify(typed);
  try {
    const rows = bandRows(about, typed);
    return [`${text} was read without asking: ${JSON.stringify(rows.map(figuresOf))}`];
  } catch (thrown) {
    if (!(thrown instanceof BobweightError)) return [`${text}: ${String(thrown)}`];
    return thrown.what.includes(asks) ? [] : [`${text}: asked for something else: ${thrown.what}`];
  }
}

const COUNT = PRINTED_ENTRIES.length + DOUBTS.length;

export const manual: Bar<Typed> = {
  name: "manual",
  counts: { short: COUNT, long: COUNT },
  job,
  figures: (results): readonly Figure[] => [
    none(
      "manual rows typed as lines: scale errors",
      results.filter(({ isDoubt }) => !isDoubt),
    ),
    none(
      "lines whose scale is in doubt: not asked for",
      results.filter(({ isDoubt }) => isDoubt),
    ),
    ...results.flatMap(({ errors }) => errors.map((text) => beside("… error", text, 1))),
  ],
};

function none(what: string, results: readonly Typed[]): Figure {
  const errors = results.reduce((sum, one) => sum + one.errors.length, 0);
  const count = results.reduce((sum, one) => sum + one.rows, 0);
  return { what, measured: String(errors), limit: "0", count, met: count > 0 && errors === 0 };
}
