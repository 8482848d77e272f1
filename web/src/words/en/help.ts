// The Help place in English: mechanism, readings, the work in order, cautions, keyboard.
import type { GroupId, SectionId } from "../../help/sections.ts";
import { findingHelp } from "./helpFindings.ts";

interface Section {
  readonly title: string;
  readonly text: readonly string[];
}

const sections: Readonly<Record<SectionId, Section>> = {
  weights: {
    title: "Weights against springs",
    text: [
      "A plate turns with the shaft. On it hang weights, each on a pivot of its own, and springs hold them in. The faster it turns, the harder the weights pull outward, with the square of the speed: twice the speed, four times the pull.",
      "Where the pull becomes more than springs and friction hold, the weights swing out, and their pins push the cam's foot round in the direction in which the shaft turns. The cam then meets the contacts earlier: that is the centrifugal advance.",
      "The first spring pulls from the start. The second has a long loop and hangs slack until the cam has turned so far that the play is used up; from there both pull, and the curve goes on less steeply. That corner is the knee. A stop ends the travel: beyond it more speed brings nothing more.",
    ],
  },
  capsule: {
    title: "The vacuum capsule",
    text: [
      "A diaphragm closes a small can. Vacuum from the engine pulls it in against a spring, a rod goes with it and pulls the breaker plate round, against the shaft's rotation for advance. The cam is the same as before; the contacts have come to meet it.",
      "Nothing moves until the vacuum holds more than the spring's load at rest. From there the plate follows the vacuum in a straight line, up to a stop in the capsule. Some capsules pull the other way and retard.",
      "The capsule feels how far the pressure is below that of the room. So vacuum is given here as kilopascals below ambient.",
    ],
  },
  contacts: {
    title: "Contacts, lobes, dwell",
    text: [
      "Each lobe of the cam lifts the rubbing block and so parts the contacts. The moment they part is the spark: that is the angle which is measured, for each lobe and each turn.",
      "Between two sparks the contacts are shut for a while, so that the coil can fill. The angle the shaft turns while they are shut is the dwell. A smaller gap makes more dwell, and a later spark: with even flanks one distributor degree more of dwell moves the opening half a distributor degree later.",
      "Magnetic, Hall and optical triggers have no gap to set in this way, but their edges are timed just as the contacts' are.",
    ],
  },
  reference: {
    title: "The reference",
    text: [
      "Advance is counted from where the spark stands at a low speed, before the weights lift and without vacuum. This first reading is the reference, and every later angle is the difference from it. At the end the rig goes back there: what is left over then has not returned to zero.",
      "All figures are those of the distributor's shaft unless it says crankshaft. On most engines the crankshaft turns twice as fast: 10 distributor degrees at 1000 distributor rpm are 20 crankshaft degrees at 2000 engine rpm.",
    ],
  },
  branches: {
    title: "Rising and falling",
    text: [
      "Each place is read twice: once coming from below, once coming from above. Friction holds the weights back on the way out and holds them out on the way in, so the falling curve lies above the rising one. The gap between them is friction, and a wide one is a finding.",
    ],
  },
  band: {
    title: "The band",
    text: [
      "What the manual prints are rows: at this speed, so many degrees, give or take so much. Each row is judged at its own place, and both branches are judged where the specification does not say otherwise. Between the rows nothing is printed, so nothing is judged.",
    ],
  },
  doubt: {
    title: "What ± means",
    text: [
      "No reading is exact. The figure after ± says how far the true value may be from the reading: in 95 of 100 cases it lies within. It is made up of all that is known to blur a reading, such as the pickup, the spread from turn to turn, the speed and the vacuum. Under “How sure is a reading?” a record lists the parts.",
    ],
  },
  verdicts: {
    title: "Within, outside, too close to call",
    text: [
      "Within: the reading and all of its ± lie inside the limits. Outside: all of it lies beyond one. Too close to call: a limit runs through the ±, so that neither is proved.",
      "Too close to call is not a polite word for outside. It says that this rig, on this day, cannot tell. Measure again, find what makes the ± wide, or change the unit so that the reading comes clear of the limit.",
      "The verdict is about the unit, the ending is about the run: a run that was stopped or lost its rig judges nothing it did not measure.",
    ],
  },
  hold: {
    title: "The hold test",
    text: [
      "The pump draws the capsule to its test vacuum, the valve shuts, and after a moment of settling the vacuum is watched on the clock. A tight capsule stays where it is. Through a narrow passage the vacuum falls quickly at first and then ever more slowly; through a pinhole it falls along a straight line as long as the vacuum is high.",
      "Prove the hose first: plugged at its end it must hold as well as a good capsule.",
    ],
  },
  lobes: {
    title: "Lobe spacing",
    text: [
      "The sparks should be equally far apart round the turn, or as far as the unit's maker wanted. What each lobe is off, the mean taken out, says who is to blame: a pattern that swells and shrinks once in the turn is a bent shaft or the rig's own coupling; one lobe out of line is a worn cam; a spread that changes from turn to turn is play in bush or drive.",
    ],
  },
  dwell: {
    title: "Dwell",
    text: [
      "Dwell is read at every speed. It should hardly change. Dwell that falls at high speed belongs to a contact spring too weak to follow the cam; dwell that jumps about belongs to a loose bush. Set the gap before a curve is measured: a change of gap moves every angle.",
    ],
  },
  order: {
    title: "The work in its order",
    text: [
      "Job card: note owner, vehicle, numbers, and how drive dog and rotor stand to each other, before anything is taken apart.",
      "By hand: does the cam turn and spring back? Feel for side play and end float.",
      "As received: measure before cleaning, if it is safe to turn. This curve is the only witness of how the engine ran.",
      "Clean, oil bushes, free the weights; contacts, their spring, their gap. Dwell comes before advance.",
      "Speed sweep, then the hold test and the vacuum sweep. The run does this by itself, in the order that fits the unit.",
      "Findings: what is wrong, the likeliest first. What one fault hides is named as not testable.",
      "Change one thing, and measure again.",
      "The sheets: one for the workshop, one page for the owner, a tag for the unit.",
      "On the engine: set the timing anew, and check the gap once more.",
    ],
  },
  change: {
    title: "Changing springs, posts, stop",
    text: [
      "A stronger spring makes its part of the curve begin later and rise less. A post bent outward loads a spring without making it stiffer: the same curve, later. A longer loop on the second spring puts the knee farther up. A bush on the stop shortens the travel.",
      "“What to change” works out from the measured curve which of the workshop's springs, and which bend, would bring it into the band, and how likely. It can only be as good as the reading of the unit that lies before it: cure dry weights first.",
    ],
  },
  cautions: {
    title: "Cautions",
    text: [
      "A spindle at thousands of turns a minute hurts and kills. These stand before every run, and they are meant each time.",
      "The stop on this page is a software stop. It is not an emergency stop: one that is hard-wired and takes the power from the drive must be in reach.",
    ],
  },
  keyboard: {
    title: "Keyboard",
    text: ["Everything can be done without a mouse."],
  },
  hints: {
    title: "The invented job and its hints",
    text: [
      "An invented job leads once through the work on the stand-in rig. Nothing on a real rig moves, and the cautions and Start stay yours.",
    ],
  },
};

const groups: Readonly<Record<GroupId, string>> = {
  mechanism: "The mechanism",
  readings: "The readings",
  work: "The work",
  findings: "What findings mean",
  rest: "Cautions, keyboard, hints",
};

export const help = {
  title: "Help",
  contents: "On this page",
  toContents: "To the contents",
  groups,
  sections,
  findings: findingHelp,
  findingsNote:
    "Solid: speed or vacuum rising, with the fault. Dashed: falling. Dotted: the sound unit. For a specification on another scale it is what was printed. All are of one invented unit, with faults large enough to be seen.",
  inCurve: "How it shows",
  toDo: "What to do",
  keys: [
    ["Escape", "while a run is on: stops the motor (software stop), from anywhere on the page"],
    ["Tab, Shift + Tab", "to the next thing and back"],
    ["Enter, Space", "presses a button, ticks a box, opens what is folded"],
    ["Arrow keys", "move a slider or a choice by one step"],
    ["Page Up, Page Down, Home, End", "move a slider by a large step, or to its ends"],
  ],
  figure: {
    invented: "Drawn from the physics of the stand-in rig, on an invented unit.",
    arrow: "The arrow says which way the shaft turns. Dashed: without vacuum.",
    frame:
      "Seen as if one turned with the shaft; the arrow says which way it turns. Dashed: at rest.",
    play: "Run up and down",
    pause: "Pause",
    fault: "With this fault",
    sound: "none, sound",
    speed: "Speed, distributor rpm",
    vacuum: "Vacuum from the pump, kPa",
    turned: "Shaft turned by, degrees",
    gap: "Contact gap, mm",
    xSpeed: "distributor rpm",
    xVacuum: "kPa below ambient",
    xSeconds: "seconds after the valve shut",
    xLobes: "lobe",
    yDegrees: "degrees",
    yKilopascals: "kPa",
    yDwell: "dwell, degrees",
    yOpenings: "openings seen, %",
    keyRising: "solid: rising",
    keyFalling: "dashed: falling",
    keySound: "dotted: sound",
    keyNow: "cross: now",
    rising: "speed rising",
    falling: "speed falling",
    vacuumRising: "vacuum rising",
    vacuumFalling: "vacuum falling",
    weightsTitle: "Weights, springs and cam from above",
    weightsSay: (speed: string, branch: string, swing: string, advance: string) =>
      `${speed}, ${branch}: the weights have swung out by ${swing}, the cam is turned by ${advance}.`,
    springPulls: (number: string, load: string) => `Spring ${number} pulls with ${load} N.`,
    springSlack: (number: string, play: string) =>
      `Spring ${number} is slack, ${play} mm of play are left.`,
    springGone: (number: string) => `Spring ${number} is missing.`,
    atStop: "The cam is at its stop.",
    capsuleTitle: "Capsule and breaker plate from above",
    capsuleSay: (wanted: string, got: string, branch: string, pull: string, plate: string) =>
      `The pump is to draw ${wanted}, the capsule has ${got}, ${branch}: the rod is pulled in by ${pull} mm, the plate is turned by ${plate}.`,
    contactsTitle: "Cam and contacts from above, the lift drawn four times as large",
    contactsSay: (turned: string, isOpen: boolean, dwell: string, opens: string) =>
      `Turned by ${turned}: the contacts are ${isOpen ? "open" : "shut"}. Dwell is ${dwell} of the 90° between two lobes; they part at ${opens}.`,
    open: "open",
    shut: "shut",
    verdictsTitle: "Three readings with their ±, held against the limits of one row",
    verdictSay: (value: string, doubt: string, verdict: string) =>
      `${value} ± ${doubt}: ${verdict}`,
    curveTitle: "Advance over speed",
    vacuumTitle: "Advance over vacuum",
    holdTitle: "Vacuum after the valve shut",
    keyHold: "Dotted: tight. Solid: through a narrow passage. Dashed: through a pinhole.",
    printed: "bars: limits at the printed rows",
  },
};

export type HelpWords = typeof help;
