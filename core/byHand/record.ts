// A record from notes taken by hand: the same documents as a run's, without lines from a rig.

import { combined, coverageOf, part } from "../angles/budget.ts";
import type {
  EndDocument,
  HoldDocument,
  PointDocument,
  Reading,
  RunDocument,
  StartDocument,
  UncertaintyPart,
} from "../documents.ts";
import { BobweightError } from "../errors.ts";
import { explained } from "../findings/explained.ts";
import { mechanismOf } from "../mechanism/mechanism.ts";
import type { CapsulePlan, Plan } from "../plan.ts";
import { defaultPlan, withZero } from "../planFile/defaultPlan.ts";
import { printedPlaces } from "../planFile/stations.ts";
import { said } from "../said.ts";
import type { Branch, Unit } from "../unit.ts";
import { distributorFromCrankshaft } from "../units.ts";
import type { ByHand } from "./byHand.ts";
import type { ByHandNotes, HoldNote } from "./notes.ts";

export interface ByHandRecord {
  readonly start: StartDocument;
  readonly middle: readonly (PointDocument | HoldDocument)[];
  readonly end: EndDocument;
}

/** Whatever the specification asks for is asked of somebody without a rig too: what lacks is unproven. */
const NO_LIMITS = {
  speedMinRpm: 0,
  speedMaxRpm: Number.POSITIVE_INFINITY,
  vacuumMaxPa: Number.POSITIVE_INFINITY,
  ambientPa: null,
} as const;

/**
 * @param head what tells this record from others
 * @throws FILE_INVALID where the unit has no such capsule
 */
export function byHandRecord(
  notes: ByHandNotes,
  unit: Unit,
  head: Pick<
    StartDocument,
    "recordId" | "startedUtc" | "engineVersion" | "unitFile" | "afterRecordId"
  >,
): ByHandRecord {
  if (notes.capsule > 0 && notes.capsule >= unit.capsules.length) {
    throw new BobweightError(
      "FILE_INVALID",
      said(
        "The notes are of capsule {}; the unit file has {}.",
        notes.capsule + 1,
        unit.capsules.length,
      ),
    );
  }
  const typed = atDistributor(notes, unit.driveRatio);
  const byHand: ByHand = {
    means: typed.means,
    readingLimitDeg: typed.readingLimitDeg,
    speedLimitRpm: typed.speedLimitRpm,
    vacuumLimitPa: typed.vacuumLimitPa,
    camTurns: typed.camTurns,
    camSpringsBack: typed.camSpringsBack,
  };
  const plan = planOf(unit, typed.vacuumRpm);
  const start: StartDocument = {
    type: "start",
    ...head,
    unit,
    plan,
    rig: {
      name: `By hand, ${typed.means}`,
      simulated: false,
      scenario: null,
      hello: null,
      byHand,
      calibration: null,
      vacuumSensorStandardUncertaintyPa: rectangular(typed.vacuumLimitPa),
      triggerDelayStandardUncertaintyUs: 0,
      ambientPa: null,
    },
    expectedS: 0,
  };
  const middle = [...points(typed, unit, byHand), ...holds(typed)];
  const documents: readonly RunDocument[] = [start, ...middle];
  const { result, findings } = explained(unit, documents);
  const end: EndDocument = {
    type: "end",
    endedUtc: head.startedUtc,
    ending: "completed",
    reason: null,
    restConfirmed: false,
    link: NO_LINK,
    result,
    findings,
    mechanism: mechanismOf(plan, result),
  };
  return { start, middle, end };
}

const NO_LINK = {
  linesGood: 0,
  linesBad: 0,
  turnsGood: 0,
  turnsSetAside: 0,
  turnsMissing: 0,
  commandRepeats: 0,
} as const;

/** Everything in distributor figures, the initial timing taken off. */
function atDistributor(notes: ByHandNotes, driveRatio: number): ByHandNotes {
  const rpm = (value: number) =>
    notes.rpm === "crankshaft" ? distributorFromCrankshaft(value, driveRatio) : value;
  const deg = (value: number) =>
    notes.degrees === "crankshaft" ? distributorFromCrankshaft(value, driveRatio) : value;
  const advance = (value: number) => deg(value - notes.initialDeg);
  return {
    ...notes,
    readingLimitDeg: deg(notes.readingLimitDeg),
    speedLimitRpm: rpm(notes.speedLimitRpm),
    vacuumRpm: rpm(notes.vacuumRpm),
    speedReadings: notes.speedReadings.map((one) => ({
      ...one,
      rpm: rpm(one.rpm),
      deg: advance(one.deg),
    })),
    vacuumReadings: notes.vacuumReadings.map((one) => ({ ...one, deg: advance(one.deg) })),
  };
}

/** Every printed row, with vacuum at the speed at which it was read. */
function planOf(unit: Unit, vacuumSweepRpm: number): Plan {
  const plan = defaultPlan(unit, NO_LIMITS);
  const capsules = plan.capsules.map((capsule): CapsulePlan => {
    const vacuumsPa = capsule.vacuumsPa.filter((vacuumPa) => vacuumPa > 0);
    return withZero({ ...capsule, vacuumsPa }, unit, vacuumSweepRpm);
  });
  return { ...plan, referenceRpm: 0, vacuumSweepRpm, capsules };
}

/** A limit as a rectangle: u = a/√3 (JCGM 100 § 4.3.7, from memory). */
function rectangular(limit: number): number {
  return limit / Math.sqrt(3);
}

function points(typed: ByHandNotes, unit: Unit, byHand: ByHand): PointDocument[] {
  const { capsule, vacuumRpm, speedReadings, vacuumReadings } = typed;
  const speeds = speedReadings.map(({ branch, rpm }) => ({ branch, x: rpm }));
  const vacuums = vacuumReadings.map(({ branch, vacuumPa }) => ({ branch, x: vacuumPa }));
  const speedRows = printedPlaces(unit.speedBand);
  const vacuumRows = printedPlaces(unit.capsules[capsule]?.band ?? null);
  return [
    ...speedReadings.map(
      ({ branch, rpm, deg }, i): PointDocument => ({
        type: "point",
        sweep: "speed",
        capsule: null,
        branch,
        targetRpm: meantPlace(speeds, i, speedRows, byHand.speedLimitRpm),
        targetPa: null,
        reading: readingOf(byHand, rpm, null, deg),
      }),
    ),
    ...vacuumReadings.map(
      ({ branch, vacuumPa, deg }, i): PointDocument => ({
        type: "point",
        sweep: "vacuum",
        capsule,
        branch,
        targetRpm: vacuumRpm,
        targetPa: meantPlace(vacuums, i, vacuumRows, byHand.vacuumLimitPa),
        reading: readingOf(byHand, vacuumRpm, vacuumPa, deg),
      }),
    ),
  ];
}

interface Place {
  readonly branch: Branch;
  readonly x: number;
}

/** The printed place that a reading can have been meant for, if no other of its branch is nearer to it; else its own. */
function meantPlace(
  readings: readonly Place[],
  index: number,
  printed: readonly number[],
  limit: number,
): number {
  const { branch, x } = readings[index] as Place;
  const own = printed.filter((place) => {
    const away = Math.abs(place - x);
    const nearest = readings.every(
      (other, i) =>
        i === index ||
        other.branch !== branch ||
        Math.abs(place - other.x) > away ||
        (Math.abs(place - other.x) === away && i > index),
    );
    return away <= limit && nearest;
  });
  return own.sort((a, b) => Math.abs(a - x) - Math.abs(b - x))[0] ?? x;
}

/**
 * Advance is the difference of two readings by eye, its own and the one at the start, which all
 * readings share. Nothing is known of lobes and dwell.
 */
function readingOf(
  byHand: ByHand,
  speedRpm: number,
  vacuumPa: number | null,
  advanceDeg: number,
): Reading {
  const byEye = rectangular(byHand.readingLimitDeg);
  const budget: readonly UncertaintyPart[] = [
    part("reading", byEye, { shape: "rectangular" }),
    part("reference", byEye, { shape: "rectangular", shared: true }),
  ];
  const speedUncertainty = speedRpm === 0 ? 0 : rectangular(byHand.speedLimitRpm);
  const speedParts = [part("speed", speedUncertainty, { shape: "rectangular" })];
  return {
    speedRpm,
    speedStandardUncertaintyRpm: speedUncertainty,
    speedExpandedUncertaintyRpm: coverageOf(speedParts) * speedUncertainty,
    farthestRpm: null,
    wayFromTick: null,
    vacuumPa,
    vacuumStandardUncertaintyPa: rectangular(byHand.vacuumLimitPa),
    advanceDeg,
    standardUncertaintyDeg: combined(budget),
    budget,
    coverageFactor: coverageOf(budget),
    spreadDeg: 0,
    turns: 0,
    setAside: { lostTurns: 0, missingEvents: 0, extraEvents: 0, noiseEvents: 0, bounces: 0 },
    dwellDeg: null,
    dwellStandardUncertaintyDeg: 0,
    lobeDeviationsDeg: [],
    lobes: [],
    scatter: { oncePerTurnDeg: null, oncePerTurnAtDeg: null, fixedDeg: 0, randomDeg: 0 },
    fromTick: 0,
    toTick: 0,
  };
}

function holds({ capsule, hold }: ByHandNotes): HoldDocument[] {
  if (hold === null) return [];
  const figures = holdFigures(hold);
  return [
    {
      type: "hold",
      capsule,
      targetPa: hold.vacuumPa,
      reached: hold.reached,
      ...figures,
      pumpEffort: null,
      trace: [],
      fromTick: 0,
    },
  ];
}

function holdFigures(hold: HoldNote): Pick<HoldDocument, "startPa" | "endPa" | "seconds"> {
  if (!hold.reached) return { startPa: hold.gotToPa, endPa: hold.gotToPa, seconds: 0 };
  return { startPa: hold.vacuumPa, endPa: hold.vacuumPa - hold.dropPa, seconds: hold.seconds };
}
