// Findings in a workshop's words: what it is, what else it may be, and what to look at next. English.
import type { Evidence, Finding, FindingKind, Findings } from "./finding.ts";

interface Words {
  readonly title: string;
  /** What to look at or do next at the bench, which tells it from what looks alike. */
  readonly check: string;
}

const WORDS: Readonly<Record<FindingKind, Words>> = {
  "weights-stuck": {
    title: "Weights or cam stuck, position unknown",
    check:
      "Turn the cam by hand against the shaft: it must move and spring back. Look whether both springs are there: without them the weights lie out at once and read the same.",
  },
  "weights-dry": {
    title: "Weights move dry: wide gap between rising and falling",
    check: "Clean and oil pivots and cam, and measure again before touching a spring.",
  },
  "weights-not-returning": {
    title: "Does not return to zero",
    check:
      "Look for burrs, gummed pivots and bent posts. The engine would kick back when cranking: do not fit it like this.",
  },
  "spring-stretched": {
    title: "Stretched spring: early, parallel",
    check: "Compare its length with a known one, or bring the post back; look at its loops.",
  },
  "spring-light": {
    title: "Light or wrong spring: early and steeper",
    check: "Measure wire, coil diameter and coils, or the rate, and compare with the drawer.",
  },
  "spring-heavy": {
    title: "Heavy spring or wrong pair: late and shallow",
    check: "Measure wire, coil diameter and coils, or the rate, and compare with the drawer.",
  },
  "first-spring-missing": {
    title: "First spring missing or off its post",
    check: "Look at both springs and all four loops.",
  },
  "second-spring-missing": {
    title: "Second spring missing or unhooked",
    check: "Look at both springs and all four loops.",
  },
  "stop-worn": {
    title: "Travel beyond the specification's end: worn stop, or its bush gone",
    check:
      "Turn the cam to its stop by hand and look at slot, pin and bush. Too much advance can hole a piston.",
  },
  "second-spring-loop-worn": {
    title: "Second spring takes up too late: worn loop or post",
    check:
      "Move the cam by hand to where the second spring begins to pull and look at loop and post.",
  },
  "shaft-bush-worn": {
    title: "Worn shaft bush",
    check: "Push the shaft sideways at the rotor's end and feel for play.",
  },
  "shaft-bent": {
    title: "Error once per turn: bent shaft",
    check:
      "Seat the unit in the coupling half a turn round and measure again: what stays with the rig is the rig's.",
  },
  "cam-worn": {
    title: "Worn cam: fixed lobe error",
    check: "Look at the lobes named, and measure each with a dial gauge.",
  },
  "contact-spring-weak": {
    title: "Weak contact spring",
    check: "Weigh the contact spring's tension at the contact.",
  },
  "plate-lead-breaking": {
    title: "Lead or earth of the plate breaks at one position",
    check: "Move the plate by hand with a continuity tester on the lead.",
  },
  "diaphragm-torn": {
    title: "The vacuum does not build: torn diaphragm",
    check:
      "Plug the hose and pump again: if it still does not build, hose or pump leaks, not the capsule.",
  },
  "capsule-leak": {
    title: "The vacuum falls: small leak",
    check: "Plug the hose and repeat the hold test: what still falls is the hose's.",
  },
  "plate-not-following": {
    title: "The vacuum holds and the plate does not move",
    check: "Look whether the rod is on its pin; then move the plate by hand.",
  },
  "plate-sticking": {
    title: "The plate sticks: moves late, returns late",
    check: "Move the plate by hand; clean and oil its bearing.",
  },
  "capsule-spring-wrong": {
    title: "Wrong or tired capsule spring",
    check:
      "Compare the number on the capsule with the specification's; washers or turns may set it.",
  },
  "curve-unexplained": {
    title: "The curve is off in a way that no single fault or pair explains",
    check: "Check the specification first; then clean, oil and measure again.",
  },
  "coupling-runout": {
    title: "Error once per turn: the rig's coupling",
    check: "Seat the unit in the coupling half a turn round and measure again.",
  },
  "condenser-left-on": {
    title: "A condenser across the contacts delays the opening",
    check: "Take the condenser off and measure again. Nothing is said against the unit.",
  },
  "uncorrected-delay": {
    title: "A fixed delay of the rig",
    check: "Calibrate the rig's delay with a locked cam. Nothing is said against the unit.",
  },
  "specification-misread": {
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
      ...evidence.map(evidenceText),
      ...(alike.length === 0
        ? []
        : [`Much alike: ${alike.map((one) => WORDS[one].title).join("; ")}.`]),
    ],
    check,
  };
}

/** What cannot be told until a fault is cured. */
export function hiddenTexts({ notTestable }: Findings): readonly string[] {
  return notTestable.map(
    ({ what, until }) =>
      `Not testable until cured (${WORDS[until].title}): ${what.map((one) => WORDS[one].title).join("; ")}.`,
  );
}

function sureness(strength: number): string {
  const percent = Math.min(99, Math.round(100 * strength));
  if (strength >= 0.9) return `Very likely (${percent} of 100)`;
  return strength >= 0.7 ? `Likely (${percent} of 100)` : `Possible (${percent} of 100)`;
}

function evidenceText({
  figure,
  measured,
  expandedUncertainty,
  expected,
  unit,
  places,
}: Evidence): string {
  const at = places.map(({ x, sweep, branch }) =>
    [branch ?? "", sweep === "vacuum" ? `${(x / 1000).toFixed(1)} kPa` : `${Math.round(x)} rpm`]
      .filter((one) => one !== "")
      .join(" at "),
  );
  const value =
    measured === null
      ? "none"
      : `${figureText(measured, unit)}${expandedUncertainty === null ? "" : ` ± ${figureText(expandedUncertainty, unit)}`}`;
  const wanted =
    expected === null
      ? ""
      : `, expected ${[expected.min, expected.max].map((one) => (one === null ? "…" : figureText(one, unit))).join(" to ")}`;
  return `${figure[0]?.toUpperCase()}${figure.slice(1)}${at.length === 0 ? "" : ` (${at.join(", ")})`}: ${value}${wanted}.`;
}

function figureText(value: number, unit: Evidence["unit"]): string {
  switch (unit) {
    case "deg":
      return `${value.toFixed(2)}°`;
    case "rpm":
      return `${Math.round(value)} rpm`;
    case "Pa":
      return `${(value / 1000).toFixed(2)} kPa`;
    case "share":
      return `${(100 * value).toFixed(1)} %`;
  }
}
