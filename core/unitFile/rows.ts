// Converts the rows of a specification, in the words and units of a manual, to limits.
import { said } from "../said.ts";
import type { BandRow, Limits, PrintedScales, Shaft } from "../unit.ts";
import type { VacuumUnit } from "../units.ts";
import { endsOf, figureAt, singleAt, wordingOf } from "./figures.ts";
import type { Place } from "./place.ts";
import type { FigureFile, RowFile } from "./schema.ts";

/** How the figures of a row are meant. */
export interface RowScales {
  readonly printed: PrintedScales;
  readonly xWords: `${Shaft} rpm` | VacuumUnit;
  readonly xMax: number;
  readonly degreeWords: string;
  /** Distributor rpm or pascals from the file's. */
  toX(x: number): number;
  /** Distributor degrees from the file's. */
  toDeg(degrees: number): number;
  readonly retard: boolean;
  readonly initialDeg: number;
  /** In the file's degrees; null where the band states none. */
  readonly toleranceDeg: number | null;
  /** In distributor degrees. */
  readonly workshopToleranceDeg: number;
}

export interface ScaledRow {
  readonly file: RowFile;
  readonly scales: RowScales;
  readonly place: Place;
}

export interface ConvertedRows {
  readonly rows: readonly BandRow[];
  readonly workshopToleranceUsed: boolean;
}

/** Limits in distributor degrees, advance or retard alike positive, with the words for them. */
interface Wanted {
  readonly limits: Limits;
  readonly words: string;
  readonly workshopToleranceUsed: boolean;
}

interface Converted extends ConvertedRows {
  readonly kind: BandRow["kind"];
  /** Where the row stands in the order, in rpm or pascals. */
  readonly position: number;
}

/** More than any unit has: the longest travel of weights and capsule together is under 40°. */
const DEGREES_MAX = 60;

const PLACES = ["at", "noneBelow", "start", "endBy"] as const;

/** @throws FILE_INVALID */
export function convertRows(rows: readonly ScaledRow[]): ConvertedRows {
  const converted: Converted[] = [];
  for (const { file, scales, place } of rows) {
    const next = convertRow(file, scales, place);
    checkOrder(converted, next, place);
    converted.push(next);
  }
  return {
    rows: converted.flatMap((one) => one.rows).sort((a, b) => positionOf(a) - positionOf(b)),
    workshopToleranceUsed: converted.some((one) => one.workshopToleranceUsed),
  };
}

function positionOf(row: BandRow): number {
  return row.kind === "start" ? row.fromX : (row.x ?? Number.POSITIVE_INFINITY);
}

function checkOrder(before: readonly Converted[], next: Converted, place: Place): void {
  const previous = before.at(-1);
  if (previous !== undefined && next.position < previous.position) {
    place.fail(said("this row stands below the one before. Put the rows in rising order"));
  }
  const same = before.filter((one) => one.kind === next.kind);
  if (next.kind !== "at" && same.length > 0) {
    place.fail(said("there is already a row with {}", next.kind === "end" ? "endBy" : next.kind));
  }
  if (same.some((one) => one.position === next.position)) {
    place.fail(said("there is already a row at this place"));
  }
}

function convertRow(file: RowFile, scales: RowScales, place: Place): Converted {
  const given = PLACES.filter((key) => file[key] !== undefined);
  if (given.length !== 1) {
    place.fail(
      said("a row has exactly one of {}; this one has {}", PLACES.join(", "), given.length),
    );
  }
  const { at, noneBelow, start, endBy } = file;
  if (at !== undefined) return atRow(file, at, scales, place);
  if (noneBelow !== undefined) return noneBelowRow(file, noneBelow, scales, place);
  if (start !== undefined) return startRow(file, start, scales, place);
  return endRow(file, endBy ?? null, scales, place);
}

function atRow(file: RowFile, at: FigureFile, scales: RowScales, place: Place): Converted {
  const [from, to] = endsOf(figureAt(at, place.in("at")));
  if (from < to) return reachedRow(file, at, scales, place);
  const x = convertX(from, scales, place.in("at"));
  const wanted = wantedOf(file, scales, place);
  const printed = file.printed ?? `${wanted.words} at ${wordingOf(at)} ${scales.xWords}`;
  return {
    kind: "at",
    position: x,
    rows: [{ kind: "at", printed, x, limitsDeg: signed(wanted.limits, scales) }],
    workshopToleranceUsed: wanted.workshopToleranceUsed,
  };
}

/**
 * "5° at 800 to 1000 rpm": on a rising curve the same as at most 5° at 800 rpm and at least 5° at
 * 1000 rpm.
 */
function reachedRow(file: RowFile, at: FigureFile, scales: RowScales, place: Place): Converted {
  const [from, to] = endsOf(figureAt(at, place.in("at")));
  const { degrees } = file;
  if (
    degrees === undefined ||
    file.tolerance !== undefined ||
    file.min !== undefined ||
    file.max !== undefined
  ) {
    return place.fail(
      said("a row with a range in `at` needs one figure in `degrees`, without tolerance"),
    );
  }
  const value = convertDegrees(singleAt(degrees, place.in("degrees")), scales, place.in("degrees"));
  const fromX = convertX(from, scales, place.in("at"));
  const toX = convertX(to, scales, place.in("at"));
  const words = `${wordingOf(degrees)} ${degreeWords(scales)}`;
  const printed = file.printed ?? `${words} reached at ${wordingOf(at)} ${scales.xWords}`;
  const limits = (min: number | null, max: number | null) => signed({ min, max }, scales);
  return {
    kind: "at",
    position: fromX,
    rows: [
      { kind: "at", printed, x: fromX, limitsDeg: limits(null, value) },
      { kind: "at", printed, x: toX, limitsDeg: limits(value, null) },
    ],
    workshopToleranceUsed: false,
  };
}

function noneBelowRow(file: RowFile, at: FigureFile, scales: RowScales, place: Place): Converted {
  for (const key of ["degrees", "min"] as const) {
    if (file[key] !== undefined) place.in(key).fail(said("a row with noneBelow takes `max` only"));
  }
  if (file.max !== undefined && file.tolerance !== undefined) {
    place.in("tolerance").fail(said("give either `max` or `tolerance`, not both"));
  }
  const x = convertX(singleAt(at, place.in("noneBelow")), scales, place.in("noneBelow"));
  // Without a figure, "no advance" is 0 with the tolerance of any other row.
  const wanted =
    file.max === undefined
      ? wantedOf({ ...file, degrees: scales.initialDeg }, scales, place)
      : wantedOf(file, scales, place);
  const limits = { min: null, max: wanted.limits.max };
  const none = scales.retard ? "no retard" : "no advance";
  return {
    kind: "noneBelow",
    position: x,
    rows: [
      {
        kind: "noneBelow",
        printed: file.printed ?? `${none} below ${wordingOf(at)} ${scales.xWords}: ${wanted.words}`,
        x,
        limitsDeg: signed(limits, scales),
      },
    ],
    workshopToleranceUsed: wanted.workshopToleranceUsed,
  };
}

function startRow(file: RowFile, start: FigureFile, scales: RowScales, place: Place): Converted {
  for (const key of ["degrees", "min", "max", "tolerance"] as const) {
    if (file[key] !== undefined) place.in(key).fail(said("a row with start takes no degrees"));
  }
  const [from, to] = endsOf(figureAt(start, place.in("start")));
  if (from === to) {
    place
      .in("start")
      .fail(said("a single figure cannot be met exactly. Write a range, or use noneBelow"));
  }
  const fromX = convertX(from, scales, place.in("start"));
  const toX = convertX(to, scales, place.in("start"));
  const what = scales.retard ? "retard" : "advance";
  const printed = file.printed ?? `${what} starts at ${wordingOf(start)} ${scales.xWords}`;
  return {
    kind: "start",
    position: fromX,
    rows: [{ kind: "start", printed, fromX, toX }],
    workshopToleranceUsed: false,
  };
}

function endRow(
  file: RowFile,
  endBy: FigureFile | null,
  scales: RowScales,
  place: Place,
): Converted {
  const wanted = wantedOf(file, scales, place);
  const where = endBy === null ? "" : ` by ${wordingOf(endBy)} ${scales.xWords}`;
  const x =
    endBy === null ? null : convertX(singleAt(endBy, place.in("endBy")), scales, place.in("endBy"));
  const what = scales.retard ? "largest" : "largest advance";
  const printed = file.printed ?? `${what} ${wanted.words}${where}`;
  return {
    kind: "end",
    position: x ?? Number.POSITIVE_INFINITY,
    rows: [{ kind: "end", printed, x, limitsDeg: signed(wanted.limits, scales) }],
    workshopToleranceUsed: wanted.workshopToleranceUsed,
  };
}

function wantedOf(file: RowFile, scales: RowScales, place: Place): Wanted {
  const { degrees, min, max, tolerance } = file;
  if (degrees !== undefined) {
    if (min !== undefined || max !== undefined) {
      place.fail(said("give either `degrees` or `min` and `max`, not both"));
    }
    return aroundFigure(degrees, tolerance, scales, place);
  }
  if (tolerance !== undefined && file.noneBelow === undefined) {
    place.in("tolerance").fail(said("a tolerance needs one figure in `degrees`"));
  }
  const least = min === undefined ? null : singleAt(min, place.in("min"));
  const most = max === undefined ? null : singleAt(max, place.in("max"));
  if (least === null && most === null) place.fail(said("`degrees`, `min` or `max` is missing"));
  if (least !== null && most !== null && least > most) {
    place.in("min").fail(said("{} is above `max`, {}. Swap them", least, most));
  }
  const limits = {
    min: least === null ? null : convertDegrees(least, scales, place.in("min")),
    max: most === null ? null : convertDegrees(most, scales, place.in("max")),
  };
  const text = (figure: FigureFile | undefined) => (figure === undefined ? "" : wordingOf(figure));
  const words =
    least === null
      ? `at most ${text(max)}`
      : most === null
        ? `at least ${text(min)}`
        : `${text(min)} to ${text(max)}`;
  return { limits, words: `${words} ${degreeWords(scales)}`, workshopToleranceUsed: false };
}

function aroundFigure(
  degrees: FigureFile,
  own: number | undefined,
  scales: RowScales,
  place: Place,
): Wanted {
  const here = place.in("degrees");
  const figure = figureAt(degrees, here);
  if (figure.kind !== "single") {
    if (own !== undefined)
      place.in("tolerance").fail(said("`degrees` already says how far it may be off"));
    const middle = figure.kind === "range" ? null : figure.value;
    const [from, to] = endsOf(figure);
    // The lower end of "0 ± 1" is below zero and may be.
    const limits =
      middle === null
        ? { min: convertDegrees(from, scales, here), max: convertDegrees(to, scales, here) }
        : around(convertDegrees(middle, scales, here), scales.toDeg(to - middle));
    const words = `${wordingOf(degrees)} ${degreeWords(scales)}`;
    return { limits, words, workshopToleranceUsed: false };
  }
  const value = convertDegrees(figure.value, scales, here);
  const printedTolerance = own ?? scales.toleranceDeg;
  const text = wordingOf(degrees);
  if (printedTolerance !== null) {
    return {
      limits: around(value, scales.toDeg(printedTolerance)),
      words: `${text} ± ${printedTolerance} ${degreeWords(scales)}`,
      workshopToleranceUsed: false,
    };
  }
  const added = scales.workshopToleranceDeg;
  return {
    limits: around(value, added),
    words: `${text} ${degreeWords(scales)} (± ${added} distributor degrees by the workshop)`,
    workshopToleranceUsed: true,
  };
}

function around(value: number, tolerance: number): Limits {
  return { min: value - tolerance, max: value + tolerance };
}

function degreeWords(scales: RowScales): string {
  const retard = scales.retard ? " retard" : "";
  const initial =
    scales.initialDeg === 0 ? "" : ` with initial timing of ${scales.initialDeg} included`;
  return `${scales.degreeWords}${retard}${initial}`;
}

function convertDegrees(degrees: number, scales: RowScales, place: Place): number {
  const without = degrees - scales.initialDeg;
  if (without < 0) {
    place.fail(
      said("{} is less than the initial timing that it includes, {}", degrees, scales.initialDeg),
    );
  }
  const converted = scales.toDeg(without);
  if (converted > DEGREES_MAX) {
    place.fail(
      said("{} is more than {} distributor degrees, which no unit has", degrees, DEGREES_MAX),
    );
  }
  return converted;
}

function convertX(x: number, scales: RowScales, place: Place): number {
  if (x < 0) place.fail(said("{} is negative", x));
  const converted = scales.toX(x);
  if (converted > scales.xMax) {
    const { xWords } = scales;
    const isSpeed = xWords === "distributor rpm" || xWords === "crankshaft rpm";
    place.fail(said("{} {} is more than there can be", x, isSpeed ? said(xWords) : xWords));
  }
  return converted;
}

/** Retard is negative advance, so its least is the limit above. */
function signed({ min, max }: Limits, scales: RowScales): Limits {
  if (!scales.retard) return { min, max };
  return { min: max === null ? null : 0 - max, max: min === null ? null : 0 - min };
}
