// Units compared, told apart and converted, in a workshop's words. English.
import type { Refit } from "../refit/advise.ts";
import { capsuleText, chanceText, stepText, wantedText } from "../refit/wording.ts";
import { fixed, notZero, vacuumText } from "../sheet/figures.ts";
import type { VacuumUnit } from "../units.ts";
import type { Conversion, PartChange } from "./conversion.ts";
import type { FurtherReading } from "./further.ts";
import type { Compared, UnitOnFile } from "./nearest.ts";
import type { RowHeld } from "./rows.ts";

/** What no curve tells, whatever it is like. Common practice, no source. */
export const NOT_TOLD: readonly string[] = [
  "mounting: diameter, clamp, depth of the body",
  "drive: gear or dog, its offset, length of the shaft, drive ratio",
  "cap, rotor, leads, condenser and connectors",
  "parts that did not work while it was measured, and parts that were exchanged so that the curve is another's",
];

/** Shown wherever a unit is taken for one on file. */
export const LIKENESS_WARNING =
  "A like curve proves no identity: wrong advance can destroy an engine. What the engine needs, its specification or an engine builder says.";

export function nameOf({ unit, place }: UnitOnFile): string {
  const number = unit.stampedNumber === null ? "" : `, ${unit.stampedNumber}`;
  return `${unit.description}${number} (${unit.invented ? "invented; " : ""}${place})`;
}

/** `isFirst`: the nearest of all. */
export function standingText(
  { standing, rows, share, isAlikeFirst }: Compared,
  isFirst: boolean,
  vacuumUnit: VacuumUnit,
): string {
  const within = rows.filter(({ verdict }) => verdict === "within").length;
  const sentences = [
    `${STANDING[standing]}, ${within} of ${rows.length} rows within.`,
    // A unit that misses a row is not sound, and the share is that of a sound one.
    ...(share === null || standing === "outside"
      ? []
      : [`${percentText(share)} of 100 if it is one of these and sound.`]),
    ...(isAlikeFirst && !isFirst ? ["Not told from the first by these readings."] : []),
    ...missedTexts(rows, vacuumUnit),
    ...(standing === "open"
      ? ["Measured with its own unit file its rows are read at their places."]
      : []),
  ];
  return sentences.join(" ");
}

const STANDING: Readonly<Record<Compared["standing"], string>> = {
  passes: "The curve passes as this one",
  open: "The curve may pass as this one, not all is proved",
  outside: "The curve is not this one's, unless springs, stop or capsule are worn or changed",
  other: "Another unit",
};

function percentText(share: number): string {
  if (share > 0.99) return "Over 99";
  return share < 0.01 ? "Less than 1" : `About ${Math.round(100 * share)}`;
}

/** The row that is missed by most, and how many more are. */
function missedTexts(rows: readonly RowHeld[], vacuumUnit: VacuumUnit): readonly string[] {
  const missed = rows.filter(({ verdict }) => verdict === "outside");
  const worst = missed.toSorted((a, b) => beyond(b) - beyond(a))[0];
  if (worst === undefined) return [];
  const read = worst.measured === null ? "never there" : readText(worst, vacuumUnit);
  const more = missed.length > 1 ? `, and ${missed.length - 1} more` : "";
  return [`Missed: "${worst.printed}" (${worst.branch}), ${read}${more}.`];
}

function beyond({ measured, limits: { min, max }, unit }: RowHeld): number {
  if (measured === null) return Number.POSITIVE_INFINITY;
  const far = Math.max((min ?? measured) - measured, measured - (max ?? measured));
  // A degree, 50 rpm and a kilopascal and a half count alike.
  return far / { deg: 1, rpm: 50, Pa: 1500 }[unit];
}

function readText(
  { measured, expandedUncertainty, unit }: RowHeld,
  vacuumUnit: VacuumUnit,
): string {
  const text = (value: number) => figureText(value, unit, vacuumUnit);
  return `read ${text(measured ?? 0)} ± ${notZero(text(expandedUncertainty ?? 0))}`;
}

function figureText(value: number, unit: "deg" | "rpm" | "Pa", vacuumUnit: VacuumUnit): string {
  if (unit === "Pa") return vacuumText(value, vacuumUnit);
  return unit === "rpm" ? `${fixed(value, 0)} rpm` : `${fixed(value, 1)}°`;
}

export function differenceTexts({ differences }: Compared): readonly string[] {
  return differences.map(({ text }) => text);
}

export function furtherText(further: FurtherReading | null, vacuumUnit: VacuumUnit): string {
  if (further === null) {
    return "No further reading is likely to tell it from the first: go by what is stamped, mounting and drive.";
  }
  const { axis, x, oneDeg, otherDeg, toleranceDeg } = further;
  const at = axis === "speed" ? `${fixed(x, 0)} rpm` : vacuumText(x, vacuumUnit);
  return `To tell it from the first read the advance at ${at}: the first has ${fixed(oneDeg, 1)}° there, this one ${fixed(otherDeg, 1)}°, either within ± ${fixed(toleranceDeg, 1)}°.`;
}

/** A likelier advice than this is worth reading. */
const WORTH_TELLING = 0.1;

export function conversionTexts(
  { changes, refit, capsules }: Conversion,
  vacuumUnit: VacuumUnit,
): readonly string[] {
  return [
    ...changes.map((one) => changeText(one, vacuumUnit)),
    ...(refit === null
      ? ["Weights: the curve tells too little to say what to change."]
      : weightsTexts(refit)),
    ...capsules.map((one) => capsuleText(one.name, one)),
  ];
}

function weightsTexts({ advice, wanted }: Refit): readonly string[] {
  const [best] = advice.filter(({ chance }) => chance >= WORTH_TELLING);
  const springs = wanted === null ? [] : [wantedText(wanted)];
  if (best === undefined) {
    return ["Weights: no post, stop or spring that is known does it.", ...springs];
  }
  if (best.steps.length === 0) return ["Weights: leave them as they are."];
  const steps = best.steps.map((step) => stepText(step)).join("; ");
  const rising = best.forecast.filter(({ branch }) => branch === "rising");
  const expected = rising.map(({ x, advanceDeg }) => `${fixed(advanceDeg, 1)}° at ${fixed(x, 0)}`);
  const most = Math.max(...rising.map(({ standardUncertaintyDeg }) => 2 * standardUncertaintyDeg));
  return [
    `Weights: ${steps}. ${chanceText(best.chance)}.`,
    `Expect, rising: ${expected.join(", ")} rpm, either within ± ${fixed(most, 1)}°.`,
    ...springs,
  ];
}

const CHANGE_WORDS: Readonly<Record<PartChange["part"], string>> = {
  "first spring's load at rest": "Advance begins at",
  stop: "Travel is",
  "capsule's spring load": "begins at",
  "capsule's stop": "goes to",
};

function changeText(
  { part, capsule, unit, measured, expandedUncertainty, wanted }: PartChange,
  vacuumUnit: VacuumUnit,
): string {
  const subject = capsule === null ? CHANGE_WORDS[part] : `${capsule} ${CHANGE_WORDS[part]}`;
  const text = (value: number) => figureText(value, unit, vacuumUnit);
  const more =
    part === "first spring's load at rest"
      ? `: the first spring must pull ${wanted > measured ? "more" : "less"} at rest`
      : "";
  return `${subject} ${text(measured)} ± ${notZero(text(expandedUncertainty))}, wanted about ${text(wanted)}${more}${HOW[part]}.`;
}

const HOW: Readonly<Record<PartChange["part"], string>> = {
  "first spring's load at rest": " (another spring, or its post bent)",
  stop: " (file, bush or the other slot)",
  "capsule's spring load": " (washers, screw or turns, else another capsule)",
  "capsule's stop": " (another capsule, or its stop)",
};
