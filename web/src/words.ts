// Every word of the page, in one place, so that other languages can follow.
import type { Ending, RowVerdict, StepName, Verdict } from "../../core/documents.ts";
import type { Branch, ConnectedContacts, ContactSets } from "../../core/unit.ts";
import type { CurveModel } from "./curveModel.ts";
import type { PlaceName } from "./places.svelte.ts";

const VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "Within specification",
  outside: "Outside specification",
  unproven: "Too close to call",
};
const ROW_VERDICTS: Readonly<Record<Verdict, string>> = {
  within: "within",
  outside: "outside",
  unproven: "too close to call",
};
const VERDICT_EXPLAINED: Readonly<Record<Verdict, string>> = {
  within: "Every printed row that was measured lies inside its limits, uncertainty included.",
  outside: "At least one printed row lies outside its limits, whatever the uncertainty.",
  unproven: "At least one reading lies so near a limit that neither inside nor outside is proved.",
};
const ENDINGS: Readonly<Record<Ending, string>> = {
  completed: "Completed",
  stopped: "Stopped",
  "rig fault": "Ended by a rig fault",
  "link lost": "Ended because the link to the rig was lost",
};
const STEPS: Readonly<Record<StepName, string>> = {
  reference: "Taking the reference, where advance is counted from",
  hold: "Testing whether the capsule holds vacuum",
  vacuum: "Vacuum sweep",
  speed: "Speed sweep",
  return: "Back to the reference: does everything return?",
};
const ABOUT: Readonly<Record<RowVerdict["about"], string>> = {
  speed: "Speed",
  vacuum: "Vacuum",
  dwell: "Dwell",
  scatter: "Lobe spacing",
  hold: "Hold",
  return: "Return",
};
const CONNECTED: Readonly<Record<ConnectedContacts, string>> = {
  both: "Both sets",
  first: "The first set alone",
  second: "The second set alone",
};
const BRANCHES: Readonly<Record<Branch, string>> = { rising: "rising", falling: "falling" };

export const words = {
  locale: "en-GB",
  name: "Bobweight",
  skip: "Skip to the work",
  places: {
    title: "Places",
    name: { bench: "Bench", records: "Records" } satisfies Record<PlaceName, string>,
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
    speed: "Speed, distributor",
    advance: "Advance, distributor",
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
  chart: {
    speed: "Advance over speed",
    vacuum: (name: string) => `Advance over vacuum, ${name}`,
    hold: "Vacuum in the hold test",
    x: { speed: "distributor rpm", vacuum: "kPa below ambient", seconds: "seconds" },
    y: "distributor degrees",
    yVacuum: "kPa below ambient",
    rising: "rising",
    falling: "falling",
    band: "specification",
    liveNow: "now",
    numbers: "Numbers",
    describe: (
      title: string,
      model: CurveModel,
      number: (value: number, digits: number) => string,
    ) =>
      [
        `Chart: ${title}. ${model.table.length} readings so far; the table below has them.`,
        ...(model.fitted.length > 0 ? ["A thin dash-dotted line is the mechanism as fitted."] : []),
        ...model.earlier.map(({ name }) =>
          name === "before"
            ? "A line of paired dots is the rising curve before the change."
            : "A dotted line is the rising curve as received.",
        ),
        ...model.marks.map(
          ({ label, x, y }) =>
            `A diamond marks the reading for finding ${label}: ${number(y, 2)}° at ${number(x, x < 200 ? 1 : 0)}.`,
        ),
      ].join(" "),
    legendRising: "Rising: filled dots, solid line",
    legendFalling: "Falling: open squares, dashed line",
    legendBand: "Bars: limits at the printed rows",
    legendNow: "Cross: now",
    legendReceived: "Dotted line: as received, rising",
    legendBefore: "Paired dots: before the change, rising",
    legendMarks: "Diamonds: readings that speak for the finding of that number",
    legendFitted: "Thin dash-dotted lines: the mechanism as fitted",
  },
  lobes: {
    title: "Lobe spacing",
    lobe: "Lobe",
    off: "Off its place",
    none: "Known after the reference reading.",
  },
  dwell: "Dwell",
  result: {
    verdict: (verdict: Verdict | null, isOwnTarget: boolean) => {
      if (verdict === null) return "Not judged";
      return isOwnTarget
        ? VERDICTS[verdict].replace("specification", "the user's own target")
        : VERDICTS[verdict];
    },
    explained: (verdict: Verdict | null) =>
      verdict === null ? "There is not enough to judge by." : VERDICT_EXPLAINED[verdict],
    rowVerdict: (verdict: Verdict) => ROW_VERDICTS[verdict],
    ending: (ending: Ending) => ENDINGS[ending],
    rows: "Row by row",
    row: "As printed",
    branch: "Branch",
    limits: "Limits",
    measured: "Measured",
    judged: "Verdict",
    about: (about: RowVerdict["about"]) => ABOUT[about],
    between: (min: string, max: string) => `${min} to ${max}`,
    atMost: (max: string) => `at most ${max}`,
    atLeast: (min: string) => `at least ${min}`,
    noLimit: "no limit",
    notMeasured: "not measured",
    notMeasuredRows: (count: number) =>
      count === 1 ? "1 printed row was not measured." : `${count} printed rows were not measured.`,
    uncertainty: "± is the expanded uncertainty of 95 % coverage.",
    sheet: "Open test sheet (A4)",
    letter: "Test sheet (Letter)",
    owner: "Owner's page",
    tag: "Tag for the unit",
    csv: "Figures as CSV",
    json: "Record as JSON",
    again: "Measure again",
    returns: "Left after everything",
    scatter: "Largest lobe deviation",
    holdReached: (from: string, drop: string, seconds: string) =>
      `From ${from} the vacuum fell by ${drop} in ${seconds}.`,
    holdNot: (target: string, got: string) =>
      `${target} was not reached; it stood at ${got}. The capsule or its hose does not hold.`,
    noHold: "No hold test",
    noEnd: "No end on record: program or computer stopped during the run.",
    hold: "Hold",
  },
  earlier: {
    title: "As received, before and after",
    note: "Each printed row as it was judged in each run, in distributor figures.",
    name: (name: string) => (name === "before" ? "before the change" : name),
    after: "after",
    whole: "The unit",
    noRow: "–",
  },
  findings: {
    title: "What is wrong",
    nothing: "Nothing was found wrong by the readings of this run.",
    serious: "Serious",
    next: "Next",
  },
  mechanism: {
    title: "The mechanism as fitted",
    note: "In distributor degrees and rpm. ± is the expanded uncertainty of 95 % coverage.",
  },
  trigger: "Trigger",
  triggerUntold: "The record tells nothing more of it.",
  budget: {
    title: "How sure is a reading?",
    reading: "Reading",
    speed: (branch: Branch, rpm: string, deg: string) => `${BRANCHES[branch]}, ${rpm}: ${deg}`,
    vacuum: (name: string, branch: Branch, kPa: string, deg: string) =>
      `${name}, ${BRANCHES[branch]}, ${kPa}: ${deg}`,
    caption: "What its uncertainty is made of, largest first",
    part: "Part",
    standardUncertainty: "Standard uncertainty",
    degreesOfFreedom: "Degrees of freedom",
    shape: "Shape",
    standsIn: "Stands in",
    combined: "Combined standard uncertainty",
    factor: "Coverage factor for 95 %",
    expanded: "Expanded uncertainty",
  },
  records: {
    title: "Records",
    none: "No records yet. The first measurement makes one.",
    open: "Open",
    more: "Older records",
    when: "Measured",
    unit: "Unit",
    outcome: "Outcome",
    rig: "Rig",
    simulated: "simulated",
    unended: "not ended",
    back: "Back to measuring",
  },
  notices: "Notes from the run",
  refused: "Not done",
  unanswered:
    "The program did not answer. Check that it still runs on this computer, then load the page again.",
} as const;

/** A shape for each verdict, so that it never hangs on colour alone. */
export const verdictShape = (verdict: Verdict | null): string =>
  verdict === "within" ? "✓" : verdict === "outside" ? "✗" : verdict === "unproven" ? "≈" : "–";

export const branchWord = (branch: Branch | null): string =>
  branch === null ? "" : BRANCHES[branch];
