// Every word of the page on jobs: list, card, the way from card to sheet, and what to change.
import type { CAM_BY_HAND } from "../../core/jobs/card.ts";
import type { Place, Standing } from "./path.ts";

const PLACES: Readonly<Record<Place, string>> = {
  card: "Job card",
  rig: "Rig ready",
  contacts: "Dwell, contacts",
  speed: "Speed",
  vacuum: "Vacuum",
  findings: "Findings",
  change: "Change",
  again: "Measure again",
  sheet: "Sheet",
};
const STANDINGS: Readonly<Record<Standing, string>> = {
  done: "done",
  now: "under way",
  next: "next",
  open: "to come",
  none: "not needed",
};
const NEXT: Readonly<Record<Place, string>> = {
  card: "Note what came in, as far as you know it, or go straight to the rig.",
  rig: "Clamp the unit, read the cautions and start.",
  contacts: "",
  speed: "",
  vacuum: "",
  findings: "Read what was found.",
  change: "See what is wrong and what to change. Then measure again.",
  again: "The run did not come to a judgement: measure again.",
  sheet: "Print the sheets that go back with the unit.",
};
const CAM: Readonly<Record<(typeof CAM_BY_HAND)[number], string>> = {
  "springs back": "turns and springs back",
  "comes back slowly": "turns, comes back slowly",
  stays: "turns, stays where it is put",
  "does not turn": "does not turn",
};

export const jobWords = {
  path: {
    title: "The way of a job",
    place: (place: Place) => PLACES[place],
    standing: (standing: Standing) => STANDINGS[standing],
    next: (place: Place) => NEXT[place],
    nextIs: "Next",
  },
  list: {
    title: "Jobs",
    note: "A job keeps together what belongs to one unit: card, photos, every record, the sheets.",
    create: "New job",
    search: "Search number, owner, car, unit …",
    archived: "Show the archive",
    none: "No jobs yet.",
    noneFound: "No job has all these words.",
    noneArchived: "Nothing in the archive.",
    records: (count: number) =>
      count === 0 ? "not measured yet" : count === 1 ? "1 record" : `${count} records`,
    unnamed: "unit not noted",
  },
  open: {
    job: (number: string) => `Job ${number || "without a number"}`,
    card: "Card",
    close: "Close the job",
    put: "Put this record to the job",
    records: "Records of this job",
    received: "as received",
    shown: "shown",
  },
  card: {
    title: "Job card",
    note: "Nothing here must be known. What is noted stands on the sheets.",
    number: "Job number",
    receivedOn: "Came in on",
    returnedOn: "Went back on",
    owner: "Owner",
    ownerContact: "Telephone, address or e-mail",
    vehicle: "Car and engine",
    unit: "Unit: make, type",
    stampedNumber: "Stamped number",
    stampedDate: "Stamped date",
    markings: "Markings before taking apart",
    markingsNote: "Drive dog against rotor, place of the clamp, terminals.",
    byHand: "By hand, rig at rest",
    camByHand: "The cam, turned and let go",
    cam: (cam: (typeof CAM_BY_HAND)[number]) => CAM[cam],
    notChecked: "not checked",
    sidePlayMm: "Side play, mm",
    endFloatMm: "End float, mm",
    gapFoundMm: "Contact gap found, mm",
    gapSetMm: "Contact gap set, mm",
    condition: "Condition",
    partsReplaced: "Parts replaced, one a line",
    notes: "Notes",
    photos: "Photos",
    addPhoto: "Add photos",
    takeOff: (name: string) => `Take ${name} off`,
    save: "Keep the card",
    saved: "Kept.",
    unsaved: "Not kept yet.",
    undo: "Take back the last edit",
    archive: "Put into the archive",
    unarchive: "Take out of the archive",
    toRig: "To the rig",
    notNumber: (label: string) => `${label}: not a number of millimetres.`,
  },
  change: {
    title: "What to change",
    note: "Worked out from this record's curve and the workshop's springs. Nothing on the rig moves.",
    drawer: (count: number) =>
      count === 0
        ? "No spring drawer is kept yet: without one only posts and stop are advised."
        : `The drawer that is kept lists ${count} ${count === 1 ? "spring" : "springs"}.`,
    addDrawer: "Keep a drawer (CSV file)",
    first: "First spring in the unit",
    second: "Second spring in the unit",
    unknown: "not known",
    rest: "Between its posts at rest, mm",
    stop: "With the cam at its stop, mm",
    work: "Work out what to change",
    working: "Working …",
    stopWorking: "Stop",
    advice: "Advice, the best first",
    forecast: "What to expect after it",
    speed: "rpm",
    branch: "Branch",
    expected: "Expected",
    limits: "Limits",
    again: "It is changed: measure again",
    capsules: "Capsules",
    notLength: "A length is a number of millimetres up to 200.",
  },
} as const;

/** A shape for each standing, so that it never hangs on colour alone. */
export const standingShape: Readonly<Record<Standing, string>> = {
  done: "✓",
  now: "▶",
  next: "→",
  open: "·",
  none: "–",
};
