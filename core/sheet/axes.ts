// Axes with round marks, and the printed rows as bars in a picture's units. Pure.
import type { RowVerdict } from "../documents.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { Band, BandRow } from "../unit.ts";
import type { Axis, Bar } from "./model.ts";

/** From and to are widened to multiples of a step of 1, 2 or 5 times a power of ten. */
export function roundAxis(
  values: readonly number[],
  marksMost: number,
): Pick<Axis, "min" | "max" | "step"> {
  const low = Math.min(0, ...values);
  const high = Math.max(0, ...values);
  const span = high > low ? high - low : 1;
  const power = 10 ** Math.floor(Math.log10(span / marksMost));
  const step = ([1, 2, 5].find((n) => n * power * marksMost >= span) ?? 10) * power;
  const min = Math.floor(low / step) * step;
  const max = Math.ceil((low + span) / step) * step;
  return { min, max, step };
}

/** Where a band lies, for the axes to take it in: its places and its limits. */
export function extentOf(band: Band | null): { readonly xs: number[]; readonly degs: number[] } {
  const xs: number[] = [];
  const degs: number[] = [];
  for (const row of band?.rows ?? []) {
    if (row.kind === "start") xs.push(row.fromX, row.toX);
    else if (row.x !== null) xs.push(row.x);
    if (row.kind !== "start") {
      degs.push(...[row.limitsDeg.min, row.limitsDeg.max].filter((limit) => limit !== null));
    }
  }
  return { xs, degs };
}

/**
 * One bar a printed row. "None below x" spans from the axis to x, the largest advance from where it
 * must be reached to the end of the picture, a start lies on the zero line.
 *
 * @param inPicture from rpm or pascals to what the axis shows.
 */
export function barsOf(
  band: Band | null,
  rows: readonly RowVerdict[],
  lastX: number,
  axisMaxX: number,
  inPicture: (x: number) => number,
  say: Speech = ENGLISH,
): Bar[] {
  return (band?.rows ?? []).map((row) => ({
    ...placeOf(row, lastX, axisMaxX, inPicture),
    flag: flagOf(
      rows.filter(({ printed }) => printed === row.printed),
      say,
    ),
  }));
}

function placeOf(
  row: BandRow,
  lastX: number,
  axisMaxX: number,
  inPicture: (x: number) => number,
): Omit<Bar, "flag"> {
  switch (row.kind) {
    case "at":
      return { fromX: inPicture(row.x), toX: inPicture(row.x), ...row.limitsDeg };
    case "noneBelow":
      return { fromX: 0, toX: inPicture(row.x), ...row.limitsDeg };
    case "start":
      return { fromX: inPicture(row.fromX), toX: inPicture(row.toX), min: 0, max: 0 };
    case "end":
      return { fromX: inPicture(row.x ?? lastX), toX: axisMaxX, ...row.limitsDeg };
  }
}

function flagOf(rows: readonly RowVerdict[], { verdicts }: Speech): string {
  const { picture: words } = verdicts;
  if (rows.some(({ verdict }) => verdict === "outside")) return words.outside;
  const unproven = rows.filter(({ verdict }) => verdict === "unproven");
  if (unproven.some(({ measured }) => measured !== null)) return words.close;
  return unproven.length > 0 ? words.notMeasured : "";
}
