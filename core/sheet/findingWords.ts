// Findings as sentences: what it is, how sure, what speaks for it, and what to look at next. Pure.
import type { Evidence, EvidencePlace, Finding, Findings } from "../findings/finding.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { VacuumUnit } from "../units.ts";
import { fixed, rpmText, vacuumText } from "./figures.ts";

/** One finding as text, for sheet, page and terminal. */
export interface FindingText {
  readonly title: string;
  /** How sure it is, and what speaks for it. */
  readonly details: readonly string[];
  readonly check: string;
}

/** How findings are told: in which language, and vacuum in which unit. */
export interface FindingForm {
  readonly say: Speech;
  readonly vacuumUnit: VacuumUnit;
}

const USUAL: FindingForm = { say: ENGLISH, vacuumUnit: "kPa" };

export function findingText(finding: Finding, form: FindingForm = USUAL): FindingText {
  const { kind, part, strength, subject, alike, evidence } = finding;
  const { findings } = form.say;
  const { title, check } = findings.kind[kind];
  return {
    title: part === null ? title : `${title} (${findings.part(part)})`,
    details: [
      `${sureness(strength, form)}${subject === "unit or rig" ? findings.unitOrRig : ""}.`,
      ...rowsText(evidence.filter(isRow), form),
      ...evidence.filter((one) => !isRow(one)).map((one) => figureSentence(one, form)),
      ...(alike.length === 0
        ? []
        : [findings.alike(alike.map((one) => findings.kind[one].title).join("; "))]),
    ],
    check,
  };
}

/** What cannot be told until a fault is cured. */
export function hiddenTexts({ notTestable }: Findings, say: Speech = ENGLISH): readonly string[] {
  const { findings } = say;
  return notTestable.map(({ what, until }) => {
    const about = [...new Set(what.map((one) => findings.kind[one].about))].join(", ");
    return findings.notTestable(findings.kind[until].about, about);
  });
}

function sureness(strength: number, { say: { findings } }: FindingForm): string {
  const percent = Math.min(99, Math.round(100 * strength));
  if (strength >= 0.9) return findings.veryLikely(percent);
  return strength >= 0.7 ? findings.likely(percent) : findings.possible(percent);
}

/** A printed row that is not met: its figures stand among the rows. */
function isRow({ figure }: Evidence): boolean {
  return figure === "advance" || figure === "start of advance";
}

function rowsText(rows: readonly Evidence[], form: FindingForm): string[] {
  if (rows.length === 0) return [];
  const { findings } = form.say;
  const hasStart = rows.some(({ figure }) => figure === "start of advance");
  const branches = (["rising", "falling"] as const).flatMap((branch) => {
    const places = rows.flatMap((row) => row.places.filter((place) => place.branch === branch));
    const texts = places.map((place) => placeText(place, form)).join(", ");
    return places.length === 0 ? [] : [findings[branch](texts)];
  });
  return [findings.outside([...(hasStart ? [findings.itsStart] : []), ...branches].join("; "))];
}

function placeText({ sweep, x }: EvidencePlace, { say, vacuumUnit }: FindingForm): string {
  return sweep === "vacuum" ? vacuumText(x, vacuumUnit, say) : rpmText(x, say);
}

function figureSentence(evidence: Evidence, form: FindingForm): string {
  const { figure, measured, expandedUncertainty, expected, unit, places } = evidence;
  const { findings } = form.say;
  const texts = [...new Set(places.map((place) => placeText(place, form)))];
  const at = places.length === 0 ? "" : ` (${texts.join(", ")})`;
  const value = measured === null ? findings.none : figureText(measured, unit, form);
  const doubt =
    expandedUncertainty === null ? "" : ` ± ${figureText(expandedUncertainty, unit, form)}`;
  const wanted = wantedText(expected, unit, form);
  return `${findings.figure(figure)}${at}: ${value}${doubt}${wanted}.`;
}

function wantedText(
  expected: Evidence["expected"],
  unit: Evidence["unit"],
  form: FindingForm,
): string {
  const { min, max } = expected ?? { min: null, max: null };
  const { findings } = form.say;
  const one = (value: number) => figureText(value, unit, form);
  if (min !== null && max !== null) return findings.between(one(min), one(max));
  if (min !== null) return findings.atLeast(one(min));
  return max === null ? "" : findings.atMost(one(max));
}

function figureText(
  value: number,
  unit: Evidence["unit"],
  { say, vacuumUnit }: FindingForm,
): string {
  switch (unit) {
    case "deg":
      return `${fixed(value, 2, say)}°`;
    case "rpm":
      return rpmText(value, say);
    case "Pa":
      return vacuumText(value, vacuumUnit, say);
    case "share":
      return `${fixed(100 * value, 1, say)} %`;
  }
}
