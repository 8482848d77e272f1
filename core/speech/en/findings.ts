// Findings in a workshop's words: what it is, what else it may be, and what to look at next.
import type { Evidence, FindingKind } from "../../findings/finding.ts";

/** `about`: in a word or two. `check`: what to look at or do next, which tells it from what looks alike. */
const KINDS = {
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
} satisfies Readonly<
  Record<FindingKind, { readonly about: string; readonly title: string; readonly check: string }>
>;

const FIGURES: Readonly<Record<Evidence["figure"], string>> = {
  advance: "Advance",
  "start of advance": "Start of advance",
  "gap between rising and falling": "Gap between rising and falling",
  return: "Return",
  "lobe error": "Lobe error",
  "random spread": "Random spread",
  bounce: "Bounce",
  "missing openings": "Missing openings",
  dwell: "Dwell",
  "vacuum reached": "Vacuum reached",
  "drop in the hold": "Drop in the hold",
};

export const findings = {
  heading: "Findings",
  nothing: "Nothing was found wrong by the readings of this run.",
  next: (check: string) => `Next: ${check}`,
  kind: KINDS,
  /** Of which spring, or how a specification was misread, as core/findings says it. */
  part: (part: string) => part,
  veryLikely: (percent: number) => `Very likely (${percent} of 100)`,
  likely: (percent: number) => `Likely (${percent} of 100)`,
  possible: (percent: number) => `Possible (${percent} of 100)`,
  unitOrRig: "; unit or rig, which is not told yet",
  alike: (titles: string) => `Much alike: ${titles}.`,
  notTestable: (until: string, about: string) =>
    `Not testable until that is cured (${until}): ${about}.`,
  outside: (places: string) => `Advance outside its limits: ${places}.`,
  itsStart: "its start",
  rising: (places: string) => `rising at ${places}`,
  falling: (places: string) => `falling at ${places}`,
  figure: (figure: Evidence["figure"]) => FIGURES[figure],
  none: "none",
  between: (min: string, max: string) => `, wanted ${min} to ${max}`,
  atLeast: (min: string) => `, wanted at least ${min}`,
  atMost: (max: string) => `, wanted at most ${max}`,
  seeToFirst: (title: string, check: string) => `See to this first: ${title}. ${check}`,
};
