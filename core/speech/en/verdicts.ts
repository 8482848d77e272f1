// Words of every sheet: what must not be overlooked, the verdict, pictures and their key.
import type { ByHandMeans } from "../../byHand/byHand.ts";
import type { Ending, Verdict } from "../../documents.ts";
import { OWN_TARGET_WARNING } from "../../ownTarget.ts";

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  within: "within",
  outside: "OUTSIDE",
  unproven: "too close to call",
};
const EXPLANATIONS: Readonly<Record<Verdict, string>> = {
  within: "Everything judged lies inside its limits by more than the uncertainty.",
  outside: "What is marked OUTSIDE lies beyond its limits by more than the uncertainty.",
  unproven:
    "Nothing is proved outside, but what is marked lies nearer to a limit than the uncertainty.",
};
const HEADLINES: Readonly<Record<Verdict, string>> = {
  within: "Within specification",
  outside: "Outside specification",
  unproven: "Too close to call",
};
const OWN_HEADLINES: Readonly<Record<Verdict, string>> = {
  within: "Within the user's own target",
  outside: "Outside the user's own target",
  unproven: "Too close to call",
};

export const verdicts = {
  word: (verdict: Verdict) => VERDICT_WORDS[verdict],
  headline: (verdict: Verdict, isOwnTarget: boolean) =>
    (isOwnTarget ? OWN_HEADLINES : HEADLINES)[verdict],
  notJudged: "Not judged",
  /** As kept in unit or record: what the program words itself is English there. */
  row: (printed: string) => printed,
  explained: (verdict: Verdict) => EXPLANATIONS[verdict],
  noRow: "No printed row was measured, or there is no specification to judge by.",
  counts: (judged: number, within: number, outside: number, close: number) =>
    `${judged} judged: ${within} within, ${outside} outside, ${close} too close to call.`,
  openByDelay:
    "Some rows are left open: the edges may come late, by condenser or rig, and without that they would read otherwise. See the findings.",
  missing: (count: number) => `${count} planned but not measured.`,
  rowsNotMeasured: (count: number) =>
    `Of the specification's rows, ${count} not measured, or not on every branch.`,
  noEnd: "The record has no end: the run was still going, or the program was cut off.",
  /** `reason`: a sentence of the program's, or empty. */
  notComplete: (ending: Ending, reason: string) =>
    `The run did not complete (${ending}).${reason === "" ? "" : ` ${reason}`} What was measured before is shown.`,
  banner: {
    simulated: "SIMULATED — not a measurement of a real unit",
    simulatedDetail: "A stand-in rig in the computer made the readings.",
    byHand: "BY HAND",
    byHandDetail: (means: ByHandMeans) =>
      `No rig: every figure was read by eye with a ${means} and typed in.`,
    ownTarget: "THE USER'S OWN TARGET — no maker's specification",
    ownTargetDetail: OWN_TARGET_WARNING,
    invented: "INVENTED UNIT",
    inventedDetail:
      "Unit and specification are made up as an example; no maker printed these figures.",
  },
  foot: {
    simulated: "SIMULATED.",
    byHand: "BY HAND.",
    ownTarget: "OWN TARGET.",
    record: (id: string) => `Record ${id}`,
    page: (number: string, count: string) => `page ${number} of ${count}`,
  },
  picture: {
    speed: "Advance over speed",
    vacuum: (capsule: string) => `${capsule}: advance over vacuum`,
    hold: (capsule: string) => `${capsule}: hold`,
    distributorRpm: "distributor rpm",
    crankshaftRpm: "crankshaft rpm",
    distributorDegrees: "distributor degrees",
    crankshaftDegrees: "crankshaft degrees",
    vacuumIn: (unit: string) => `vacuum, ${unit}`,
    seconds: "seconds since closing off",
    outside: "outside",
    close: "close",
    notMeasured: "not measured",
    withFitted: "with the mechanism as fitted as a dash-dotted line",
    withReceived: "as received as a dotted line",
    withBefore: "before the change as a line of paired dots",
    withMarks: (numbers: string) => `readings that speak for findings in diamonds: ${numbers}`,
  },
  key: {
    rising: "rising",
    falling: "falling",
    received: "as received, rising",
    before: "before, rising",
    fitted: "as fitted",
    marks: "reading that speaks for the finding of this number",
    limits: "limits as printed, dashed where open on one side",
  },
};
