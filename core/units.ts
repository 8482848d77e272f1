// Conversions between what manuals print and what the program computes with, and the reading of printed figures.

/**
 * Pascals in one unit of vacuum. NIST SP 811 (2008), appendix B.8: conventional inch and millimetre
 * of mercury, pound-force per square inch, millibar. A centimetre of mercury is ten millimetres.
 */
export const PASCALS_PER = {
  Pa: 1,
  kPa: 1000,
  mbar: 100,
  inHg: 3386.389,
  mmHg: 133.3224,
  cmHg: 1333.224,
  psi: 6894.757,
} as const;

export type VacuumUnit = keyof typeof PASCALS_PER;

export const VACUUM_UNITS = ["Pa", "kPa", "mbar", "inHg", "mmHg", "cmHg", "psi"] as const;

/** Vacuum in pascals below ambient. */
export function pascalsFrom(value: number, unit: VacuumUnit): number {
  return value * PASCALS_PER[unit];
}

export function vacuumFromPascals(vacuumPa: number, unit: VacuumUnit): number {
  return vacuumPa / PASCALS_PER[unit];
}

/**
 * Degrees or rpm at the distributor shaft from those at the crankshaft. The shaft turns once in
 * `driveRatio` turns of the crankshaft, so both its angles and its speed are that much smaller
 * (Rootes WSM.143/144 p. 72; TM 10-3930-644-14&P).
 */
export function distributorFromCrankshaft(crankshaft: number, driveRatio: number): number {
  return crankshaft / driveRatio;
}

/** Degrees or rpm at the crankshaft from those at the distributor shaft. */
export function crankshaftFromDistributor(distributor: number, driveRatio: number): number {
  return distributor * driveRatio;
}

/** A figure as a manual prints it. */
export type Figure =
  | { readonly kind: "single"; readonly value: number }
  | { readonly kind: "range"; readonly from: number; readonly to: number }
  | { readonly kind: "plusMinus"; readonly value: number; readonly tolerance: number };

const FIGURE_LENGTH_MAX = 40;

const VULGAR_FRACTIONS: Readonly<Record<string, string>> = {
  "¼": "1/4",
  "½": "1/2",
  "¾": "3/4",
  "⅓": "1/3",
  "⅔": "2/3",
  "⅕": "1/5",
  "⅖": "2/5",
  "⅗": "3/5",
  "⅘": "4/5",
  "⅙": "1/6",
  "⅚": "5/6",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};

/**
 * Reads `5.25`, `5¼`, `5 1/4`, `5-1/4`, ranges such as `5¼ to 7` or `5¼–7`, and `5 ± 1`. Null where
 * the text is none of these. A range may run backwards; the caller knows what that means.
 *
 * A hyphen between a whole number and a proper fraction joins them (`5-1/4` is 5¼: as a range it
 * would run backwards); with blanks around it, it is a dash. A comma is refused, since it parts
 * decimals in one country and thousands in the next.
 */
export function parseFigure(text: string): Figure | null {
  if (text.length > FIGURE_LENGTH_MAX) return null;
  const plain = plainText(text);
  for (const [mark, kind] of [
    ["±", "plusMinus"],
    ["–", "range"],
  ] as const) {
    if (!plain.includes(mark)) continue;
    const parts = plain.split(mark);
    return parts.length === 2 ? pair(kind, parts[0] as string, parts[1] as string) : null;
  }
  const value = parseValue(plain);
  return value === null ? hyphenRange(plain) : { kind: "single", value };
}

function plainText(text: string): string {
  return text
    .replace(/(\d?) ?([¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])/gu, (_, digit: string, mark: string) =>
      digit === "" ? (VULGAR_FRACTIONS[mark] as string) : `${digit} ${VULGAR_FRACTIONS[mark]}`,
    )
    .replaceAll("⁄", "/")
    .replaceAll("°", "")
    .replaceAll("+/-", "±")
    .replace(/\s+to\s+|—|−|\s+-\s+/giu, "–")
    .replace(/\s+/gu, " ")
    .trim();
}

function pair(kind: "range" | "plusMinus", left: string, right: string): Figure | null {
  const first = parseValue(left.trim());
  const second = parseValue(right.trim());
  if (first === null || second === null) return null;
  return kind === "range"
    ? { kind, from: first, to: second }
    : { kind, value: first, tolerance: second };
}

function parseValue(text: string): number | null {
  if (/^\d+(\.\d+)?$/.test(text)) return Number(text);
  const match = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(text);
  if (match === null) return null;
  const whole = match[1] === undefined ? 0 : Number(match[1]);
  const upper = Number(match[2]);
  const lower = Number(match[3]);
  const proper = upper > 0 && upper < lower;
  // "0-1/4" can only be a range.
  const joined = match[1] === undefined || whole > 0;
  return proper && joined ? whole + upper / lower : null;
}

/** `5-7`, `5-1/4-7-1/2`: the one hyphen at which both sides are figures. */
function hyphenRange(plain: string): Figure | null {
  const found: Figure[] = [];
  for (let at = plain.indexOf("-"); at >= 0; at = plain.indexOf("-", at + 1)) {
    const range = pair("range", plain.slice(0, at), plain.slice(at + 1));
    if (range !== null) found.push(range);
  }
  return found.length === 1 ? (found[0] as Figure) : null;
}
