// Words on what is on file: records found, compared and noted on.

import type { Mixture } from "../../../../core/records/compare.ts";
import type { KIND_FILTERS, VERDICT_FILTERS } from "../../../../core/records/listed.ts";
import type { Hint } from "../../../../core/typedUnit/hints.ts";
import type { ContactSets, Trigger, VacuumPort } from "../../../../core/unit.ts";

const VERDICT_FILTER_WORDS: Readonly<Record<(typeof VERDICT_FILTERS)[number], string>> = {
  any: "any",
  within: "within",
  outside: "outside",
  unproven: "too close to call",
  none: "not judged",
};
const KIND_FILTER_WORDS: Readonly<Record<(typeof KIND_FILTERS)[number], string>> = {
  any: "real and simulated",
  real: "real units only",
  simulated: "simulated only",
};
const MIXTURES: Readonly<Record<keyof Mixture, string>> = {
  isPartSimulated:
    "Simulations stand among measurements here. A simulated curve says nothing of a real unit.",
  isPartByHand: "Readings by hand stand among readings by rig: their uncertainties differ.",
  isOfSeveralUnits: "These are not all of one unit.",
  hasSeveralBands: "They were not all judged by the same limits. The bars are those of A.",
};
/** In the order of the marks (overlayChart.ts). */
const MARKS = [
  "circles, solid line",
  "squares, dashed line",
  "triangles, dotted line",
  "diamonds, dash-dotted line",
  "triangles on their point, long dashes",
  "triangles to the right, a dash and two dots",
];

const TRIGGERS: Readonly<Record<Trigger["kind"], string>> = {
  contacts: "contacts",
  magnetic: "magnetic",
  hall: "Hall",
  optical: "optical",
};
const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "to the manifold",
  ported: "to a port above the throttle plate",
  none: "no vacuum line",
};
const SETS: Readonly<Record<ContactSets["arrangement"] | "one", string>> = {
  one: "one set",
  overlapped: "two, both on every lobe",
  staggered: "two, each on every second lobe",
};
type Fixed = (value: number, digits: number) => string;

function hintText(hint: Hint, fixed: Fixed): string {
  switch (hint.code) {
    case "much-advance":
      return `${fixed(hint.advanceDeg, 1)} distributor degrees are more than most units give. Are the figures the crankshaft's?`;
    case "crankshaft-speeds":
      return `${fixed(hint.speedRpm, 0)} distributor rpm is ${fixed(2 * hint.speedRpm, 0)} on the engine. Are the speeds the crankshaft's?`;
    case "distributor-speeds":
      return `The last speed is ${fixed(hint.speedRpm, 0)} distributor rpm. Are the speeds the distributor's after all?`;
    case "mixed-shafts":
      return "Degrees of one shaft and speeds of the other: is that how it is printed?";
    case "end-before-start":
      return "The largest advance is reached before the advance must have begun.";
    case "falls":
      return `The advance falls at “${hint.printed}”. Is a figure mistyped?`;
    case "deep-vacuum":
      return `${fixed(hint.vacuumPa / 1000, 1)} kPa is more than an engine draws. Is the unit of vacuum right?`;
    case "shallow-vacuum":
      return `${fixed(hint.vacuumPa / 1000, 1)} kPa hardly moves a capsule. Is the unit of vacuum right?`;
    case "no-begin":
      return "No line says where the advance begins: the start is not judged.";
    case "no-end":
      return "No line gives the largest advance (“max 14 by 2300”): what comes after the last line is not judged.";
    case "tolerance-added":
      return `Lines with one figure only get the workshop's own ± ${fixed(hint.toleranceDeg, 1)} distributor degrees.`;
  }
}

export const desk = {
  find: {
    note: "Tick two records or more to set them side by side.",
    text: "Unit, stamped number or job number",
    verdict: "Verdict",
    verdictOf: (verdict: (typeof VERDICT_FILTERS)[number]) => VERDICT_FILTER_WORDS[verdict],
    kind: "Real or simulated",
    kindOf: (kind: (typeof KIND_FILTERS)[number]) => KIND_FILTER_WORDS[kind],
    from: "From",
    to: "To",
    archived: "Show the archive",
    searching: "Searching …",
    none: "No record fits.",
    unanswered: "What there is could not be asked.",
    count: (count: number, isAll: boolean) =>
      `${count} ${count === 1 ? "record" : "records"}${isAll ? "" : " so far"}`,
    more: "Older records",
    tick: (what: string) => `Compare: ${what}`,
    lookInto: "History, notes",
    lookIntoOf: (what: string) => `History and notes: ${what}`,
    noteCount: (count: number) => (count === 1 ? "1 note" : `${count} notes`),
    job: (number: string) => `job ${number}`,
  },
  compare: {
    button: "Compare the ticked records",
    few: "Tick at least two records to compare.",
    full: (most: number) => `More than ${most} curves on one chart cannot be told apart.`,
    title: "Side by side",
    end: "Back to the list",
    speed: "Advance over speed",
    vacuum: (name: string) => `Advance over vacuum, ${name}`,
    mixture: (what: keyof Mixture) => MIXTURES[what],
    legend: (letter: string, index: number, name: string) =>
      `${letter}: ${MARKS[index]}; rising filled, falling open and thinner. ${name}`,
    bars: (letter: string) => `Bars: limits at the printed rows of ${letter}`,
    description: (title: string, names: string) =>
      `Chart: ${title}. ${names}. The tables below have every figure.`,
    rows: "Row by row",
    difference: "from A",
    whole: "The unit",
    note: "± is the expanded uncertainty of 95 % coverage; that of a difference takes the two figures as independent, so that what the rig does wrong in both makes it smaller, never larger.",
    numbers: (letter: string) => `Readings of ${letter}`,
    byHand: "by hand",
  },
  into: {
    title: "History and notes",
    close: "Close",
    open: "Open the record",
    notes: "Notes",
    notesNote:
      "A note has its date and stands beside the record, which stays as it is. It is not printed.",
    newNote: "New note",
    add: "Keep the note",
    noNotes: "No notes.",
    takeBack: "Take back",
    takeBackOf: (text: string) => `Take back: ${text}`,
    putBack: "Put back",
    putBackOf: (text: string) => `Put back: ${text}`,
    takenBack: "taken back",
    archive: "Put the record into the archive",
    unarchive: "Take the record out of the archive",
    export: "Carry the record off (file)",
    archiveNote: "The archive hides a record from the list. Nothing is deleted.",
    history: "History of this unit",
    historyNote:
      "Every record of the same description and stamped number, the oldest first. Several units may carry the same stamped number: the job tells them apart.",
    number: "No.",
    when: "Measured",
    outcome: "Verdict",
    largest: "Largest advance, distributor",
    atSpeed: "at",
    job: "Job",
    this: "this record",
    archivedMark: "in the archive",
    picture: (count: number) =>
      `Chart: the largest centrifugal advance of ${count} records in the order of time. The table below has the figures.`,
    pictureTitle: "Largest advance over time",
    pictureAxis: "Number in the table below, the oldest on the left",
    pictureLegend: "Filled circles: measured. Open squares: simulated. Strokes: ±",
    compareAll: "Compare these",
  },
  bandRow: {
    at: (limits: string, x: string) => `${limits} at ${x}`,
    noneBelow: (limits: string, x: string) => `${limits} up to ${x}`,
    start: (from: string, to: string) => `begins between ${from} and ${to}`,
    most: (limits: string) => `${limits} and no farther`,
    mostBy: (limits: string, x: string) => `${limits} from ${x} on, and no farther`,
  },
  band: {
    description: (title: string, count: number) =>
      `Chart: ${title}, the limits of ${count} printed rows. The table below has them.`,
    rows: (title: string) => `${title}, row by row`,
    distributor: "At the distributor",
    crankshaft: "At the crankshaft",
    source: "Source",
    line: "Line",
    typed: "As typed",
  },
  units: {
    title: "Units and springs",
    note: "Units whose specification is on file. Those marked as invented are examples of no real make.",
    type: "Type a new unit",
    bringIn: "Bring in unit files",
    unstamped: "no stamped number",
    invented: "invented example",
    file: (name: string) => `file in the data folder: ${name}`,
    passedOver: "A file in the data folder cannot be read.",
    edited: (times: number) => (times === 1 ? "edited once" : `edited ${times} times`),
  },
  unit: {
    stampedNumber: "Stamped number",
    lobes: "Lobes of the cam",
    rotation: "Rotation, looking down on the rotor",
    rotationOf: (rotation: "cw" | "ccw") => (rotation === "cw" ? "clockwise" : "anticlockwise"),
    trigger: "Trigger",
    triggerOf: (kind: Trigger["kind"]) => TRIGGERS[kind],
    contactSets: "Sets of contacts",
    setsOf: (sets: ContactSets["arrangement"] | "one") => SETS[sets],
    dwell: "Dwell",
    springs: "Springs of the weights",
    vacuumPort: "Vacuum line",
    portOf: (port: VacuumPort) => PORTS[port],
    notKnown: "not known",
    fileNote: (name: string) =>
      `This is the file ${name} in the data folder. It is changed there; what is typed from it here is another unit.`,
    measure: "Measure this unit",
    edit: "Edit: a new version",
    copy: "Type a unit like this one",
    export: "Export the unit file",
    noSpeed: "No specification over speed: only the curve is measured.",
    noRows: (name: string) => `${name}: no specification, only the curve is measured.`,
    vacuumUnit: "Vacuum in",
    actsOf: (acts: "advance" | "retard") => (acts === "advance" ? "It advances" : "It retards"),
    hold: (vacuum: string, seconds: string, drop: string) =>
      `Closed off at ${vacuum} it may fall by ${drop} in ${seconds} s.`,
    versions: "Earlier versions",
    versionsNote:
      "Records made with an earlier version keep it. Keeping one again makes it the newest.",
    openVersion: "Open to edit",
  },
  unitForm: {
    titleNew: "A unit, typed",
    titleEdit: "A new version of the unit",
    note: "Type what the manual prints. What is left empty stays unknown; nothing is assumed.",
    editNote: "Records keep the version they were made with.",
    description: "Name",
    notSaid: "not said",
    linesSay: "each line says it",
    firingEdge: "It fires on",
    edgeOf: (edge: "a" | "b") => (edge === "a" ? "edge a: the signal rises" : "edge b: it falls"),
    dwellNote: "As printed: 51 ± 4, or 57 to 63.",
    dwellUnit: "Dwell in",
    dwellUnitOf: (unit: "degrees" | "percent") =>
      unit === "degrees" ? "distributor degrees" : "per cent",
    combinedDwell: "Dwell of both sets together",
    isInvented: "An invented unit, for trying out",
    lines: "As the manual prints it, a line each",
    linesNote: (kind: "speed" | "vacuum") =>
      kind === "speed"
        ? "For example: no advance below 300 · 5¼–7 at 700 · 14 crank at 2000 engine rpm · max 10 by 900."
        : "For example: starts at 100–120 · 5 at 200 mmHg · max 8 by 12 inHg.",
    keptRows: (count: number) =>
      `${count} rows of the file stay as they are; lines typed here take their place.`,
    degrees: "The degrees are those of the",
    rpm: "The speeds are those of the",
    initialIn: "Initial timing in the degrees, if any",
    vacuum: "Unit of vacuum",
    tolerance: "Tolerance either way, in the lines' degrees",
    source: "Where it is printed",
    isOwnTarget: "These are a target of my own, no specification",
    asRead: "As it is read",
    odd: "Is this meant?",
    hint: hintText,
    capsuleNumber: (number: number) => `capsule ${number}`,
    capsuleName: "Name of the capsule",
    acts: "Effect",
    holdVacuum: (unit: string) => `Hold test: closed off at, ${unit}`,
    holdSeconds: "Hold test: seconds",
    holdDrop: (unit: string) => `Hold test: may fall by, ${unit}`,
    addCapsule: "Add a capsule",
    dropCapsule: "Take the last capsule out",
    engine: "On the engine, where it is known",
    initialTiming: "Initial timing, crankshaft degrees before top dead centre",
    initialNote: "With the vacuum line, this gives the marks for the timing light.",
    setAt: "Set at engine rpm (empty: at rest)",
    good: "The unit can be kept.",
    wrongLines: (count: number) =>
      count === 1
        ? "One line cannot be read: see there."
        : `${count} lines cannot be read: see there.`,
    keep: "Keep the unit",
    keepVersion: "Keep the new version",
    drop: "Close without keeping",
  },
  springs: {
    title: "Spring drawer",
    note: "The springs that advice goes by. A measured rate goes before one computed from wire and coils.",
    none: "No springs on file.",
    rate: "Rate",
    from: (from: "measurement" | "wire") => (from === "wire" ? "computed" : "measured"),
    ratesDiffer: "Measured and computed rate differ: measure both again.",
    wire: "Wire × mean coil × coils, mm",
    takeOut: "Take out",
    takeOutOf: (name: string) => `Take out ${name}`,
    export: "Export as CSV",
    bringIn: "Bring in a CSV file",
    isAdding: "Add to the drawer; otherwise it takes the drawer's place",
    bringBack: "Bring back the drawer as it was before",
    type: "Type a spring",
    typeNote:
      "Name, number and free length are needed, and wire with coils, or a measured rate with its uncertainty.",
    typed: "The spring",
    add: "Add the spring",
    field: {
      name: "Name",
      quantity: "In stock",
      free_length_mm: "Free length inside the loops, mm",
      wire_diameter_mm: "Wire, mm",
      outside_diameter_mm: "Outside diameter of the coils, mm",
      active_coils: "Active coils",
      loop_length_mm: "Play of a long loop, mm",
      initial_tension_n: "Initial tension, N",
      rate_n_per_m: "Measured rate, N/m",
      rate_uncertainty_n_per_m: "Its uncertainty (95 %), N/m",
    },
  },
  carry: {
    title: "Files and backup",
    note: "Nothing that is on file is ever overwritten from here.",
    running: "A run is on: files and backups wait until it has ended.",
    recordsTitle: "Records from elsewhere",
    recordsNote:
      "Files that another Bobweight wrote (*.record.json): each is proved by its fingerprints, and can be computed again here. A record is carried off where its history and notes are.",
    bringIn: "Bring in record files",
    broughtIn: (name: string, wasThere: boolean) =>
      wasThere ? `${name}: there already.` : `${name}: brought in.`,
    backupTitle: "Backup",
    backupNote:
      "Records, jobs, photos, units, springs and rig files in one file, read back and proved. Keep it on another disk: only the newest stays in the data folder.",
    make: "Make a backup",
    take: (megabytes: string) => `Download the backup (${megabytes} MB)`,
    made: (name: string, contents: string) => `${name}: ${contents}.`,
    restoreTitle: "Bring a backup back",
    restoreNote:
      "It is proved and goes into a new folder beside the one in use, which stays as it is. End the program and start it on the new folder to use it.",
    restore: "Backup to bring back",
    restored: (folder: string, contents: string) =>
      `${contents} are in ${folder}. This starts the program on it:`,
    contents: (records: number, jobs: number, files: number) =>
      `${records} ${records === 1 ? "record" : "records"}, ${jobs} ${jobs === 1 ? "job" : "jobs"}, ${files} other ${files === 1 ? "file" : "files"}`,
    doing: {
      records: "Bringing records in …",
      backup: "Making the backup and reading it back …",
      restore: "Bringing the backup back and proving it …",
    },
  },
};
