// Words on the settings.
import type { CheckKind } from "../../../../core/calibration/calibration.ts";

const CHECKS: Readonly<Record<CheckKind, string>> = {
  delay: "Delay of the trigger input",
  pickup: "Angle pickup",
  coupling: "Coupling",
  vacuum: "Vacuum sensor",
};

export const settings = {
  title: "Settings",
  note: "Kept in the data folder of this computer, for every page and command.",
  language: "Language of page and papers",
  vacuumUnit: "Vacuum is shown in",
  shownShaft: "Speed and advance are shown for the",
  shownShaftNote:
    "On the page's charts and tables, by the unit's drive ratio. Records stay as they are, and the rig's motor speed is always the distributor's.",
  rig: "Rig to begin with",
  rigFirst: "the stand-in rig",
  checks: "What is on file of its calibration",
  check: (kind: CheckKind) => CHECKS[kind],
  checkedOn: (date: string) => `checked ${date}`,
  never: "never checked",
  noRigChecks: "A simulated rig needs none.",
  howToCheck: "A check is made by the command: bobweight rigs calibrate",
  habits: "Where a specification is silent",
  habitsNote:
    "Left empty: as the program has it. What a specification prints itself always goes first.",
  toleranceDeg: "Tolerance of figures printed without limits, distributor degrees either way",
  toleranceNote: "1 if empty. The sheet says that it is the workshop's own.",
  holdSeconds: "Hold test, seconds on the clock",
  holdDropMax: (unit: string) => `Hold test, largest drop that passes, ${unit}`,
  workshop: "Workshop",
  workshopNote: "Printed at the head of the sheets.",
  name: "Name",
  address: "Address",
  phone: "Telephone",
  logo: "Logo (PNG or JPEG, at most 200 kB)",
  logoShown: "The logo that is kept",
  takeOff: "Take the logo off",
  save: "Keep the settings",
  saved: "Kept.",
  notWhileRunning: "Settings are changed when nothing is running.",
  notNumber: (label: string) => `${label}: not a number, or beyond what it may be.`,
};
