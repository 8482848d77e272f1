// Rows of a specification typed as a manual prints them: "0 at 550, 14 at 2300", "5¼–7 at 1600 engine rpm".
// A scale that a line does not name stays unknown here: nothing is assumed.
import { said } from "../said.ts";
import type { Shaft } from "../unit.ts";
import { parseFigure, pascalsFrom, type VacuumUnit } from "../units.ts";
import type { Place } from "./place.ts";
import type { RowFile } from "./schema.ts";

/** One line, with the scales that its own words name; null where they name none. */
export interface PrintedLine {
  readonly text: string;
  /** Which way it says the spark goes; null where it does not. */
  readonly acts: "advance" | "retard" | null;
  readonly row: RowFile;
  readonly hasDegrees: boolean;
  readonly degrees: Shaft | null;
  readonly rpm: Shaft | null;
  readonly vacuum: VacuumUnit | null;
  /** Whether it says that its places are speeds, of whichever shaft. */
  readonly isSpeed: boolean;
  /** Then initial timing is part of its degrees. */
  readonly beforeTopDeadCentre: boolean;
}

interface Degrees {
  readonly figure: string;
  readonly shaft: Shaft | null;
  readonly beforeTopDeadCentre: boolean;
}

interface Where {
  readonly figure: string;
  readonly shaft: Shaft | null;
  readonly vacuum: VacuumUnit | null;
  readonly isSpeed: boolean;
}

const SHAFT = /\b(distributor|dist|crankshaft|crank|engine)\b\.?/;
const DEGREE_WORDS = /°|\b(?:degrees?|deg)\b\.?|\badvance\b|\bretard\b/g;
const TOP_DEAD_CENTRE = /\b(?:before top dead cent(?:re|er)|b\.?t\.?d\.?c)\b\.?/;
const SPEED_WORD = /\brpm\b|r\.p\.m\.?|\brev\/min\b|\br\/min\b/;
const VACUUM_WORDS: readonly (readonly [VacuumUnit, string])[] = [
  ["inHg", String.raw`(?:\bin\.?|\bins\.?|\binch|\binches|") ?(?:of )?(?:hg|mercury)\b`],
  ["mmHg", String.raw`\bmm\.? ?(?:of )?(?:hg|mercury)\b`],
  ["cmHg", String.raw`\bcm\.? ?(?:of )?(?:hg|mercury)\b`],
  ["kPa", String.raw`\bkpa\b`],
  ["mbar", String.raw`\bmbar\b`],
  ["psi", String.raw`\bpsi\b`],
  ["Pa", String.raw`\bpa\b`],
];
const PLACE_UNIT = [SPEED_WORD.source, ...VACUUM_WORDS.map(([, words]) => words)].join("|");

const NONE = "none|no advance|no retard";
const UP_TO = "below|under|up to";
const MOST = String.raw`(?:max\.?|maximum|full|largest)(?: advance| retard)?`;
const ARROW = "(?: ?[:→=] ?| )";

const SLASH_FORM = /^(\d+(?:\.\d+)?)°? ?\/ ?(\d+(?:\.\d+)?.*)$/;
const NONE_FORM = new RegExp(`^(.+?) (?:${UP_TO}) (.+)$`);
const NONE_LAST_FORM = new RegExp(`^(?:${UP_TO}) (.+?)${ARROW}(${NONE}|0°?)$`);
const START_FORM = /^(?:(?:advance|retard) )?(?:starts?|begins?)(?: at| from| between)? (.+)$/;
const MOST_FORM = new RegExp(`^${MOST}:? (.+?)(?: (?:at|by) (.+))?$`);
const MOST_LAST_FORM = /^(.+?) (?:max\.?|maximum)(?: advance| retard)?(?: (?:at|by) (.+))?$/;
const AT_FORM = /^(.+?) at (.+)$/;
const PLACE_FIRST_FORM = new RegExp(`^(.+?(?:${PLACE_UNIT}))${ARROW}(.+)$`);

/** Lines in the text's own order, parted by line ends, semicolons or commas. @throws FILE_INVALID */
export function printedLines(text: string, place: Place): readonly PrintedLine[] {
  if (/\d,\d/.test(text)) {
    place.fail(
      said(
        "a comma between digits parts decimals in one country and thousands in the next. Write 5.25 and 2300",
      ),
    );
  }
  const lines = text.split(/[;,\r\n]+/).map((line) => line.trim());
  return lines.filter((line) => line !== "").map((line) => printedLine(line, place));
}

function printedLine(text: string, place: Place): PrintedLine {
  const plain = text.toLowerCase().replaceAll("@", " at ").replace(/\s+/g, " ").trim();
  for (const form of FORMS) {
    const line = form(plain, place);
    if (line !== null) return { text, acts: actsIn(plain), ...line };
  }
  return place.fail(
    said(
      '{} is no line such as "14 at 2300", "5¼–7 at 1600 engine rpm", "9 at 250 mmHg", "no advance below 400", "starts at 350–450" or "max 14 by 2400"',
      JSON.stringify(text),
    ),
  );
}

type Line = Omit<PrintedLine, "text" | "acts">;

function actsIn(plain: string): PrintedLine["acts"] {
  if (/\bretard\b/.test(plain)) return "retard";
  return /\badvance\b/.test(plain) ? "advance" : null;
}

/** Of several readings of a line the first that makes sense of all its words. */
const FORMS: readonly ((plain: string, place: Place) => Line | null)[] = [
  (plain, place) => valueLine(SLASH_FORM.exec(plain), 1, 2, place),
  noneLine,
  startLine,
  (plain, place) => mostLine(MOST_FORM.exec(plain) ?? MOST_LAST_FORM.exec(plain), place),
  (plain, place) => valueLine(AT_FORM.exec(plain), 1, 2, place),
  (plain, place) => valueLine(PLACE_FIRST_FORM.exec(plain), 2, 1, place),
];

function valueLine(
  parts: RegExpExecArray | null,
  degreesAt: number,
  placeAt: number,
  place: Place,
): Line | null {
  const degrees = degreesIn(parts?.[degreesAt]);
  const where = whereIn(parts?.[placeAt], place);
  if (degrees === null || where === null) return null;
  return lineOf({ at: where.figure, degrees: degrees.figure }, degrees, where);
}

function noneLine(plain: string, place: Place): Line | null {
  const first = NONE_FORM.exec(plain);
  const last = NONE_LAST_FORM.exec(plain);
  const none = first?.[1] ?? last?.[2];
  const where = whereIn(first?.[2] ?? last?.[1], place);
  if (none === undefined || where === null) return null;
  const isNone = new RegExp(`^(?:${NONE})$`).test(none) || degreesIn(none)?.figure === "0";
  return isNone ? lineOf({ noneBelow: where.figure }, null, where) : null;
}

/** A single figure for the start cannot be met exactly; it says that there is none below. */
function startLine(plain: string, place: Place): Line | null {
  const where = whereIn(START_FORM.exec(plain)?.[1]?.replace(" and ", " to "), place);
  if (where === null) return null;
  const isSingle = parseFigure(where.figure)?.kind === "single";
  const row = isSingle ? { noneBelow: where.figure } : { start: where.figure };
  return lineOf(row, null, where);
}

function mostLine(parts: RegExpExecArray | null, place: Place): Line | null {
  const degrees = degreesIn(parts?.[1]);
  if (degrees === null) return null;
  if (parts?.[2] === undefined) {
    return lineOf({ endBy: null, degrees: degrees.figure }, degrees, null);
  }
  const where = whereIn(parts[2], place);
  if (where === null) return null;
  return lineOf({ endBy: where.figure, degrees: degrees.figure }, degrees, where);
}

function lineOf(row: RowFile, degrees: Degrees | null, where: Where | null): Line {
  return {
    row,
    hasDegrees: degrees !== null,
    degrees: degrees?.shaft ?? null,
    rpm: where?.shaft ?? null,
    vacuum: where?.vacuum ?? null,
    isSpeed: where?.isSpeed ?? false,
    beforeTopDeadCentre: degrees?.beforeTopDeadCentre ?? false,
  };
}

/** Null where a word is left over that is not known. */
function degreesIn(text: string | undefined): Degrees | null {
  if (text === undefined) return null;
  const beforeTopDeadCentre = TOP_DEAD_CENTRE.test(text);
  const named = SHAFT.exec(text);
  const figure = text
    .replace(TOP_DEAD_CENTRE, " ")
    .replace(SHAFT, " ")
    .replace(DEGREE_WORDS, " ")
    .trim();
  if (parseFigure(figure) === null) return null;
  // The timing mark goes round with the crankshaft.
  const shaft = named === null ? (beforeTopDeadCentre ? "crankshaft" : null) : shaftOf(named);
  return { figure: figure.replace(/\s+/g, " "), shaft, beforeTopDeadCentre };
}

/** @throws FILE_INVALID where a vacuum is given twice and the two do not agree */
function whereIn(text: string | undefined, place: Place): Where | null {
  if (text === undefined) return null;
  const twice = /^(.+?) ?\((.+)\)$/.exec(text);
  if (twice === null) return oneWhere(text);
  const [one, other] = [oneWhere(twice[1] as string), oneWhere(twice[2] as string)];
  if (one === null || other === null) return null;
  if (one.vacuum === null || other.vacuum === null) {
    return place.fail(
      said("{}: only a vacuum can stand twice, in two units that are named", JSON.stringify(text)),
    );
  }
  if (!agree(one, other)) {
    place.fail(said("{}: the two vacuums are not the same", JSON.stringify(text)));
  }
  return one;
}

function oneWhere(text: string): Where | null {
  const named = SHAFT.exec(text);
  const hasSpeedWord = SPEED_WORD.test(text);
  const found = VACUUM_WORDS.find(([, words]) => new RegExp(words).test(text));
  let figure = text.replace(SHAFT, " ").replace(SPEED_WORD, " ");
  if (found !== undefined) figure = figure.replace(new RegExp(found[1], "g"), " ");
  figure = figure
    .replace(/\bvacuum\b/, " ")
    .replace(/\s+/g, " ")
    .trim();
  const isSpeed = named !== null || hasSpeedWord;
  if (parseFigure(figure) === null || (isSpeed && found !== undefined)) return null;
  const shaft = named === null ? null : shaftOf(named);
  return { figure, shaft, vacuum: found?.[0] ?? null, isSpeed };
}

function shaftOf([, word]: RegExpExecArray): Shaft {
  return word?.startsWith("dist") ? "distributor" : "crankshaft";
}

/** As far as both are printed to: within one of the last digit of each. */
function agree(one: Where, other: Where): boolean {
  const [a, b] = [one, other].map(({ figure, vacuum }) => {
    const value = parseFigure(figure);
    if (vacuum === null || value?.kind !== "single") return null;
    const digit = 10 ** -(figure.split(".")[1] ?? "").length;
    return { pa: pascalsFrom(value.value, vacuum), lastPa: pascalsFrom(digit, vacuum) };
  });
  if (a === null || a === undefined || b === null || b === undefined) return false;
  return Math.abs(a.pa - b.pa) <= a.lastPa + b.lastPa;
}
