// Findings in a workshop's words: what it is, what else it may be, and what to look at next. English.

import type {
  Evidence,
  EvidencePlace,
  Finding,
  FindingKind,
  Findings,
} from "../findings/finding.ts";
import { fixed } from "./figures.ts";

interface Words {
  /** What it is about, in a word or two. */
  readonly about: string;
  readonly title: string;
  /** What to look at or do next at the bench, which tells it from what looks alike. */
  readonly check: string;
}

const WORDS: Readonly<Record<FindingKind, Words>> = {
  "weights-stuck": {
    about: "weights",
    title: "Weights or cam stuck, position unknown",
    check:
      "Turn the cam by hand against the shaft: it must move and spring back. Look whether both springs are there: without them the weights lie out at once and read the same.",
  },
  "weights-dry": {
    about: "friction",
    title: "Weights move dry: wide gap between rising and falling",
    check: "Clean and oil pivots and cam, and measure again before touching a spring.",
  },
  "weights-not-returning": {
    about: "return to zero",
    title: "Does not return to zero",
    check:
      "Look for burrs, gummed pivots and bent posts. The engine would kick back when cranking: do not fit it like this.",
  },
  "spring-stretched": {
    about: "springs",
    title: "Stretched spring: early, parallel",
    check: "Compare its length with a known one, or bring the post back; look at its loops.",
  },
  "spring-light": {
    about: "springs",
    title: "Light or wrong spring: early and steeper",
    check: "Measure wire, coil diameter and coils, or the rate, and compare with the drawer.",
  },
  "spring-heavy": {
    about: "springs",
    title: "Heavy spring or wrong pair: late and shallow",
    check: "Measure wire, coil diameter and coils, or the rate, and compare with the drawer.",
  },
  "first-spring-missing": {
    about: "springs",
    title: "First spring missing or off its post",
    check: "Look at both springs and all four loops.",
  },
  "second-spring-missing": {
    about: "springs",
    title: "Second spring missing or unhooked",
    check: "Look at both springs and all four loops.",
  },
  "stop-worn": {
    about: "travel",
    title: "Travel beyond the specification's end: worn stop, or its bush gone",
    check:
      "Turn the cam to its stop by hand and look at slot, pin and bush. Too much advance can hole a piston.",
  },
  "second-spring-loop-worn": {
    about: "springs",
    title: "Second spring takes up too late: worn loop or post",
    check:
      "Move the cam by hand to where the second spring begins to pull and look at loop and post.",
  },
  "shaft-bush-worn": {
    about: "bush",
    title: "Worn shaft bush",
    check: "Push the shaft sideways at the rotor's end and feel for play.",
  },
  "shaft-bent": {
    about: "shaft",
    title: "Error once per turn: bent shaft",
    check:
      "Seat the unit in the coupling half a turn round and measure again: what stays with the rig is the rig's.",
  },
  "cam-worn": {
    about: "cam",
    title: "Worn cam: fixed lobe error",
    check: "Look at the lobes named, and measure each with a dial gauge.",
  },
  "contact-spring-weak": {
    about: "contact spring",
    title: "Weak contact spring",
    check: "Weigh the contact spring's tension at the contact.",
  },
  "plate-lead-breaking": {
    about: "lead of the plate",
    title: "Lead or earth of the plate breaks at one position",
    check: "Move the plate by hand with a continuity tester on the lead.",
  },
  "diaphragm-torn": {
    about: "diaphragm",
    title: "The vacuum does not build: torn diaphragm",
    check:
      "Plug the hose and pump again: if it still does not build, hose or pump leaks, not the capsule.",
  },
  "capsule-leak": {
    about: "leaks",
    title: "The vacuum falls: small leak",
    check: "Plug the hose and repeat the hold test: what still falls is the hose's.",
  },
  "plate-not-following": {
    about: "plate",
    title: "The vacuum holds and the plate does not move",
    check: "Look whether the rod is on its pin; then move the plate by hand.",
  },
  "plate-sticking": {
    about: "plate",
    title: "The plate sticks: moves late, returns late",
    check: "Move the plate by hand; clean and oil its bearing.",
  },
  "capsule-spring-wrong": {
    about: "capsule spring",
    title: "Wrong or tired capsule spring",
    check:
      "Compare the number on the capsule with the specification's; washers or turns may set it.",
  },
  "curve-unexplained": {
    about: "springs",
    title: "The curve is off in a way that no single fault or pair explains",
    check: "Check the specification first; then clean, oil and measure again.",
  },
  "coupling-runout": {
    about: "coupling",
    title: "Error once per turn: the rig's coupling",
    check: "Seat the unit in the coupling half a turn round and measure again.",
  },
  "condenser-left-on": {
    about: "condenser",
    title: "A condenser across the contacts delays the opening",
    check: "Take the condenser off and measure again. Nothing is said against the unit.",
  },
  "uncorrected-delay": {
    about: "delay",
    title: "A fixed delay of the rig",
    check: "Calibrate the rig's delay with a locked cam. Nothing is said against the unit.",
  },
  "specification-misread": {
    about: "specification",
    title: "The specification is read on another scale than it was printed for",
    check:
      "Look at the manual again: degrees, speeds and vacuum, of which shaft and in which unit.",
  },
};

/** One finding as text, for sheet, page and terminal. */
export interface FindingText {
  readonly title: string;
  /** How sure it is, and what speaks for it. */
  readonly details: readonly string[];
  readonly check: string;
}

export function findingText(finding: Finding): FindingText {
  const { kind, part, strength, subject, alike, evidence } = finding;
  const { title, check } = WORDS[kind];
  return {
    title: part === null ? title : `${title} (${part})`,
    details: [
      `${sureness(strength)}${subject === "unit or rig" ? "; unit or rig, which is not told yet" : ""}.`,
      ...rowsText(evidence.filter(isRow)),
      ...evidence.filter((one) => !isRow(one)).map(figureSentence),
      ...(alike.length === 0
        ? []
        : [`Much alike: ${alike.map((one) => WORDS[one].title).join("; ")}.`]),
    ],
    check,
  };
}

/** What cannot be told until a fault is cured. */
export function hiddenTexts({ notTestable }: Findings): readonly string[] {
  return notTestable.map(({ what, until }) => {
    const about = [...new Set(what.map((one) => WORDS[one].about))].join(", ");
    return `Not testable until that is cured (${WORDS[until].about}): ${about}.`;
  });
}

function sureness(strength: number): string {
  const percent = Math.min(99, Math.round(100 * strength));
  if (strength >= 0.9) return `Very likely (${percent} of 100)`;
  return strength >= 0.7 ? `Likely (${percent} of 100)` : `Possible (${percent} of 100)`;
}

/** A printed row that is not met: its figures stand among the rows. */
function isRow({ figure }: Evidence): boolean {
  return figure === "advance" || figure === "start of advance";
}

function rowsText(rows: readonly Evidence[]): string[] {
  if (rows.length === 0) return [];
  const starts = rows.some(({ figure }) => figure === "start of advance") ? ["its start"] : [];
  const branches = (["rising", "falling"] as const).flatMap((branch) => {
    const places = rows.flatMap((row) => row.places.filter((place) => place.branch === branch));
    return places.length === 0 ? [] : [`${branch} at ${places.map(placeText).join(", ")}`];
  });
  return [`Advance outside its limits: ${[...starts, ...branches].join("; ")}.`];
}

function placeText({ sweep, x }: EvidencePlace): string {
  return sweep === "vacuum" ? `${(x / 1000).toFixed(1)} kPa` : `${Math.round(x)} rpm`;
}

function figureSentence({
  figure,
  measured,
  expandedUncertainty,
  expected,
  unit,
  places,
}: Evidence): string {
  const name = `${figure[0]?.toUpperCase()}${figure.slice(1)}`;
  const at = places.length === 0 ? "" : ` (${[...new Set(places.map(placeText))].join(", ")})`;
  const value = measured === null ? "none" : figureText(measured, unit);
  const doubt = expandedUncertainty === null ? "" : ` ± ${figureText(expandedUncertainty, unit)}`;
  return `${name}${at}: ${value}${doubt}${wantedText(expected, unit)}.`;
}

function wantedText(expected: Evidence["expected"], unit: Evidence["unit"]): string {
  const { min, max } = expected ?? { min: null, max: null };
  if (min !== null && max !== null) {
    return `, wanted ${figureText(min, unit)} to ${figureText(max, unit)}`;
  }
  if (min !== null) return `, wanted at least ${figureText(min, unit)}`;
  return max === null ? "" : `, wanted at most ${figureText(max, unit)}`;
}

function figureText(value: number, unit: Evidence["unit"]): string {
  switch (unit) {
    case "deg":
      return `${fixed(value, 2)}°`;
    case "rpm":
      return `${fixed(value, 0)} rpm`;
    case "Pa":
      return `${fixed(value / 1000, 2)} kPa`;
    case "share":
      return `${fixed(100 * value, 1)} %`;
  }
}
