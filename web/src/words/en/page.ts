// The page's own words: the bar, places, the start card, readings by hand, a run while it goes on.
import type { Ending, StepName } from "../../../../core/documents.ts";
import type { Branch, ConnectedContacts, ContactSets, Shaft } from "../../../../core/unit.ts";
import type { PlaceName } from "../../places.svelte.ts";
import { BRANCHES, ENDINGS } from "./shared.ts";

const STEPS: Readonly<Record<StepName, string>> = {
  reference: "Taking the reference, where advance is counted from",
  hold: "Testing whether the capsule holds vacuum",
  vacuum: "Vacuum sweep",
  speed: "Speed sweep",
  return: "Back to the reference: does everything return?",
};
const CONNECTED: Readonly<Record<ConnectedContacts, string>> = {
  both: "Both sets",
  first: "The first set alone",
  second: "The second set alone",
};

export const page = {
  name: "Bobweight",
  skip: "Skip to the work",
  places: {
    title: "Places",
    name: {
      bench: "Bench",
      records: "Records",
      units: "Units and springs",
      settings: "Settings",
      help: "Help",
    } satisfies Record<PlaceName, string>,
  },
  stop: "Stop motor (software)",
  stopKey: "or press Escape",
  notEmergency: "Not an emergency stop: a hard-wired one at the rig is required.",
  ownTarget: "The user's own target, no maker's specification",
  simulation: "Simulation: no real rig, no real unit",
  realRig: (name: string) => `Real rig: ${name}`,
  linkAlive: "Page connected",
  linkLost: "Page not connected, trying again",
  doing: {
    idle: "Nothing is running from here.",
    unknown: "Not connected: what the rig does is not known here.",
    stopUnsent:
      "The stop could not be sent: not connected. If the spindle turns, use the emergency stop at the rig.",
    noEnd:
      "Nothing is running. The last run has no end on record: check at the rig that the motor is off.",
    starting: "Connecting to the rig …",
    stopUnanswered:
      "No answer to the stop. If the spindle turns, use the emergency stop at the rig.",
    stopping: "Stop sent. Waiting for the rig to come to rest …",
    step: (step: StepName, branch: Branch | null) =>
      branch === null ? STEPS[step] : `${STEPS[step]}, ${BRANCHES[branch]}`,
    ended: (ending: Ending) => `${ENDINGS[ending]}. The motor is off.`,
    lastUnknown: (ending: Ending) => `${ENDINGS[ending]}. Check at the rig that the motor is off.`,
  },
  start: {
    title: "Measure a unit",
    rig: "Rig",
    unit: "Unit",
    invented: "An invented example, no real make.",
    contacts: "Contacts connected to the rig",
    connected: (sets: ConnectedContacts) => CONNECTED[sets],
    contactsNote: (arrangement: ContactSets["arrangement"]) =>
      arrangement === "staggered"
        ? "Staggered: each set fires every second lobe. To measure one set, put a card between the contacts of the other."
        : "Overlapped: both sets work on every lobe. To measure one set, put a card between the contacts of the other.",
    scenario: "Simulated unit",
    sound: "Follows the unit's specification",
    pace: "Simulation speed",
    paceOf: (pace: number) => (pace === 1 ? "As in life" : `${pace} times as fast as life`),
    after: "This is a run after a change of",
    afterNone: "none: as it came in",
    more: "Change the plan",
    moreNote: "Empty fields leave the plan that is made from the specification.",
    speeds: "Speeds in distributor rpm, with commas",
    hold: "Hold test, seconds on the clock",
    cautions: "Before the motor turns",
    read: "I have read these. The guard is shut and nobody is near the spindle.",
    button: "Start measuring",
    chooseUnit: "Choose the unit on the rig",
    missing: {
      rig: "Choose a rig first.",
      unit: "Choose the unit first.",
      speeds: "The speeds in the changed plan are not numbers above 0.",
      hold: "The hold test's seconds are not one number above 0.",
      cautions: "Tick the cautions first.",
    },
    observing: "Another page is measuring. You can watch, and stop the motor.",
    addUnit: "Add a unit file",
  },
  byHand: {
    title: "Without a rig",
    note: "A timing light or a degree wheel, and a hand vacuum pump, do for a first look. Nothing moves from here.",
    open: "Type or paste readings taken by hand",
    chooseUnit: "Choose the unit",
    readings: "Readings, a line each",
    form: "What the notes do not tell stays unknown. For example:",
    examples: [
      { line: "1000 9", means: "rpm and degrees, speed rising" },
      { line: "falling", means: "what comes after was read on the way down; rising: up again" },
      { line: "10 inHg 4", means: "vacuum and degrees" },
      { line: "20 inHg held 30 s dropped 2", means: "the pump shut off" },
      { line: "20 inHg reached only 5", means: "it would not build" },
    ],
    means: "Read with",
    meansOf: (means: string) => (means === "timing light" ? "Timing light" : "Degree wheel"),
    degrees: "The degrees are those of the",
    rpm: "The speeds are those of the",
    shaftOf: (shaft: string) => (shaft === "crankshaft" ? "crankshaft (engine)" : "distributor"),
    uncertainty: "A reading may be off by, degrees either way",
    initial: "Initial timing in the degrees, if any",
    vacuumRpm: "Speed while vacuum was read, if it turned",
    camTurns: "Does the cam turn by hand?",
    camSpringsBack: "Does it spring back?",
    answerOf: (answer: string) => (answer === "yes" ? "Yes" : "No"),
    notSaid: "not said",
    button: "Judge these readings",
    unknown: "What is not said stays unknown: few readings never make a unit within specification.",
    missing: {
      unit: "Choose the unit first.",
      readings: "Type at least one reading.",
      means: "Say what they were read with.",
      degrees:
        "Say whose degrees they are: the crankshaft's are twice the distributor's on most engines.",
      rpm: "Say whose speeds they are: the crankshaft turns twice as fast as the distributor on most engines.",
    },
  },
  live: {
    title: "Measuring",
    now: "now",
    wanted: "wanted",
    speed: "Speed, distributor (spindle)",
    advance: (shaft: Shaft) => `Advance, ${shaft}`,
    vacuum: "Vacuum",
    stale: (age: string) => `No news for ${age}: these numbers are old`,
    left: (time: string) => `${time} left`,
    toGo: "To go",
    readings: (done: number, total: number) => `${done} of ${total} readings`,
    nothing: "–",
    large: "Large view",
    small: "Back to all numbers",
    freeze: "Freeze the display",
    unfreeze: "Show the run again",
    frozen: "The display is frozen. The run and its record go on.",
    observer: "You are watching. Another page controls this run.",
  },
  handOver: (waiting: number) =>
    `The workshop's database cannot be reached. ${waiting === 1 ? "One record waits" : `${waiting} records wait`} on this computer and will be handed over by ${waiting === 1 ? "itself" : "themselves"}. Measuring goes on; jobs, lists and papers have to wait.`,
  refused: "Not done",
  unanswered:
    "The program did not answer. Check that it still runs on this computer, then load the page again.",
};
