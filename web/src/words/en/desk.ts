// Words on what is on file: records found, compared and noted on.
import type { Mixture } from "../../../../core/records/compare.ts";
import type { KIND_FILTERS, VERDICT_FILTERS } from "../../../../core/records/listed.ts";

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
};
