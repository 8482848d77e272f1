// Words of the file's sheet alone: its facts, tables and conditions.
import type { ByHandMeans } from "../../byHand/byHand.ts";
import type { RowVerdict, Verdict } from "../../documents.ts";
import type { EarlierRun } from "../../sheet/earlier.ts";
import { VERDICT_WORDS } from "./verdicts.ts";

/** Three verdicts have to stand side by side. */
const SHORT_VERDICTS: Readonly<Record<Verdict, string>> = { ...VERDICT_WORDS, unproven: "close" };

const SUBJECTS: Readonly<Record<RowVerdict["about"], string>> = {
  speed: "speed",
  vacuum: "vacuum",
  dwell: "dwell",
  scatter: "scatter",
  hold: "hold",
  return: "return",
};
const RUNS: Readonly<Record<EarlierRun["name"], string>> = {
  "as received": "as received",
  before: "before",
};
const MEANS: Readonly<Record<ByHandMeans, string>> = {
  "degree wheel": "degree wheel",
  "timing light": "timing light",
};

export const sheet = {
  documentTitle: (unit: string) => `Test sheet: ${unit}`,
  title: "Distributor test sheet",
  /** JCGM 100 for the uncertainties; ILAC-G8:09/2019 § 4.2.3 for the decision with guard band w = U. */
  uncertainty:
    "Every ± is an expanded uncertainty of 95 % coverage (JCGM 100; by the shape of its parts, JCGM 101). A row is within if the value lies inside its limits by at least that much, outside if it lies beyond one by at least that much, and too close to call in between (ILAC-G8:09/2019). The figures hold for this unit on this rig on the day of the test.",
  heading: {
    mechanism: "The mechanism as fitted (distributor degrees and rpm)",
    trigger: "Trigger",
    conditions: "Conditions",
    trust: "How far to trust the figures",
  },
  retime:
    "Re-time the engine and check the contact gap and dwell again: this sheet says nothing of the initial timing.",
  retimeAir:
    "Re-time the engine and check the trigger's air gap again: this sheet says nothing of the initial timing.",
  mechanismFact: (label: string, value: string) => `${label.toLowerCase()}: ${value}`,
  label: {
    tested: "Tested",
    cam: "Cam",
    trigger: "Trigger",
    drive: "Drive",
    rig: "Rig",
    scatter: "Scatter",
    return: "Return",
    rawLines: "Raw record",
    program: "Program",
    record: "Record",
    scenario: "Scenario",
    rigTold: "Rig, as this run tells",
    board: "Board",
    ambient: "Ambient pressure",
    readings: "Readings",
    byEye: "Read by eye",
    camTurns: "Cam turns by hand",
    camSpringsBack: "Cam springs back",
    received: "As received",
    before: "Before the change",
    rising: (what: string) => `${what}, rising`,
    hold: (capsule: string) => `${capsule}, hold`,
  },
  oneLobe: "1 lobe",
  evenLobes: (count: number, apart: string) => `${count} lobes, ${apart} apart`,
  lobesAt: (count: number, places: readonly string[]) => `${count} lobes at ${places.join(", ")}°`,
  driveOnce: "turns once a turn of the crankshaft",
  drive: (ratio: string) => `turns once in ${ratio} turns of the crankshaft`,
  rigByHand: (means: ByHandMeans) => `none: by hand with a ${MEANS[means]}`,
  rigSimulated: (name: string) => `${name} (simulated)`,
  travel: {
    speed: "Speed",
    withCrankshaft: (figure: string, crankshaft: string) => `${figure} (crankshaft ${crankshaft})`,
    begins: (place: string) => `begins at ${place}`,
    hasBegun: (place: string) => `has begun by ${place}`,
    halfway: (deg: string, place: string) => `halfway, ${deg}, at ${place}`,
    ends: (deg: string, place: string) => `goes to ${deg}, reached at ${place}`,
  },
  hold: {
    byHand: "by hand",
    withPump: (percent: string) => `with pump at ${percent} %`,
    reached: (vacuum: string, how: string, lost: string, seconds: string) =>
      `${vacuum} reached ${how}; lost ${lost} in ${seconds} s`,
    notReached: (vacuum: string, got: string, how: string) =>
      `${vacuum} NOT reached: ${got} ${how}`,
  },
  scatter: (deg: string) => `${deg} off even spacing, the worst lobe`,
  return: (deg: string, speed: string) => `${deg} left over at ${speed} after everything`,
  rawTyped: "none: typed in, no rig sent anything",
  rawNone: "none kept",
  rawBytes: (bytes: number, sha256Hex: string) => `${bytes} bytes, SHA-256 ${sha256Hex}`,
  scenario: (name: string, seed: number) => `${name}, seed ${seed}`,
  recordOf: (time: string, id: string) => `${time}, record ${id}`,
  readings: (turns: number, seconds: string, speed: string) =>
    `mean of at most ${turns} turns or ${seconds} s, advance counted from ${speed}`,
  byEye: (means: ByHandMeans, limits: readonly string[]) =>
    `${MEANS[means]}, each reading within ± ${limits.join(", ")}`,
  atDistributor: (figure: string) => `${figure} (distributor)`,
  notTried: "not tried",
  yes: "yes",
  no: "NO",
  rigTold: {
    pickup: (deg: string) => `pickup edges up to ${deg} off, taken out`,
    seen: (deg: string) => `ripple of the drive up to ${deg} at the slowest, taken out`,
    unseen: (deg: string, speed: string, uncertain: string) =>
      `ripple not seen ${deg} at ${speed}, standard uncertainty ${uncertain}`,
  },
  rows: {
    caption: "Every printed row against what was measured, in distributor figures",
    of: "of",
    printed: "as printed",
    limits: "limits",
    rising: "rising, or measured once",
    falling: "falling",
    about: (about: RowVerdict["about"]) => SUBJECTS[about],
    limitsAt: (limits: string, place: string) => `${limits} at ${place}`,
    shortVerdict: (verdict: Verdict) => SHORT_VERDICTS[verdict],
    doesNot: (verdict: string) => `it does not: ${verdict}`,
    neverReached: (verdict: string) => `never reached: ${verdict}`,
  },
  earlier: {
    /** `runs`: what `run` calls them. */
    caption: (runs: readonly string[]) =>
      `Every printed row ${runs.join(", ")} and after the change, in distributor figures (close: too close to call)`,
    printed: "as printed, and its limits",
    run: (name: EarlierRun["name"]) => RUNS[name],
    after: "after",
    toOwnTarget: "to the user's own target",
    verdict: "verdict",
    notJudged: "not judged",
    rising: "rising",
    falling: "falling",
  },
  readingsTable: {
    speed: (within: string) => `Advance over speed. Read within ${within} of the speed set.`,
    vacuum: (capsule: string, within: string) =>
      `${capsule}: advance over vacuum. Read within ${within} of the vacuum set.`,
    atDistributor: "at the distributor",
    atCrankshaft: "at the crankshaft",
    rpmSet: "rpm set",
    vacuumSet: "vacuum set",
    rising: "rising °",
    falling: "falling °",
  },
};
