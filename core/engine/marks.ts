// Engine figures: the marks to expect with a timing light, from the initial timing and the unit's curves.
import { combined, coverageOf, scaled } from "../angles/budget.ts";
import type { CurvePoint, RunResult, UncertaintyPart } from "../documents.ts";
import { lastX } from "../planFile/reach.ts";
import type { EngineSettings, Limits, Unit } from "../unit.ts";
import { distributorFromCrankshaft, pascalsFrom } from "../units.ts";
import { type Advance, advanceAt } from "./advance.ts";
import { specifiedMark } from "./specified.ts";

/** Curves of a unit as its record has them; null without a record, where only its specification tells. */
export type EngineCurves = Pick<RunResult, "speed" | "capsules"> | null;

export interface EngineConditions {
  readonly settings: EngineSettings;
  /** Which of the unit's capsules the line is on. */
  readonly capsule: number;
  /** In the manifold while the engine carries no load. */
  readonly unloadedVacuumPa: number;
  readonly cruiseVacuumPa: number;
}

/** Common practice, no source: 17 inHg in the manifold without load, 12 at a steady cruise. */
export const UNLOADED_VACUUM_PA = pascalsFrom(17, "inHg");
export const CRUISE_VACUUM_PA = pascalsFrom(12, "inHg");
/** Taken for idle up to here where it is not known. Common practice, no source. */
const IDLE_ENGINE_RPM = 1000;
/** In a workshop no engine needs to go faster without load. Common practice, no source. */
const ENGINE_RPM_MAX = 4000;
const ENGINE_RPM_STEP = 500;

/** Crankshaft degrees before top dead centre. */
export interface Mark {
  readonly markCrankshaftDeg: number;
  /** 95 % coverage; the initial timing is taken as set exactly. */
  readonly expandedUncertaintyCrankshaftDeg: number;
}

/** The mark may be anywhere between the two. */
export interface MarkRange {
  readonly fromCrankshaftDeg: number;
  readonly toCrankshaftDeg: number;
  readonly expandedUncertaintyCrankshaftDeg: number;
}

/** Null where the curve does not tell. */
export interface EngineMark {
  readonly engineRpm: number;
  /** Vacuum line off and plugged, on the rising and on the falling branch. */
  readonly plugged: { readonly rising: Mark | null; readonly falling: Mark | null };
  /** Vacuum line on, no load. */
  readonly unloaded: MarkRange | null;
  /** Vacuum line on, at the vacuum of a steady cruise. */
  readonly cruise: Mark | null;
  /** By the specification, line off and plugged. */
  readonly specified: Limits | null;
}

export function engineMarks(
  unit: Unit,
  curves: EngineCurves,
  conditions: EngineConditions,
): EngineMark[] {
  return engineSpeeds(unit, curves, conditions.settings).map((engineRpm) =>
    engineMark(unit, curves, conditions, engineRpm),
  );
}

export function engineMark(
  unit: Unit,
  curves: EngineCurves,
  { settings, capsule, unloadedVacuumPa, cruiseVacuumPa }: EngineConditions,
  engineRpm: number,
): EngineMark {
  const { driveRatio } = unit;
  const gained = (branch: "rising" | "falling") =>
    curves && gainedAt(curves.speed, branch, settings, driveRatio, engineRpm);
  const asMark = (gain: Advance | null) => gain && markOf(gain, settings, driveRatio);
  const byVacuum = (vacuumPa: number) =>
    settings.vacuumPort === "none"
      ? null
      : advanceAt("vacuum", curves?.capsules[capsule]?.rising ?? [], vacuumPa);
  const rising = gained("rising");
  return {
    engineRpm,
    plugged: { rising: asMark(rising), falling: asMark(gained("falling")) },
    unloaded: unloadedRange(
      asMark(rising),
      asMark(sum(rising, byVacuum(unloadedVacuumPa))),
      settings,
      engineRpm,
    ),
    cruise: asMark(sum(rising, byVacuum(cruiseVacuumPa))),
    specified: specifiedMark(unit, settings, engineRpm),
  };
}

/** Speeds asked for, else idle, where the timing is set, and every 500 up to the end of the curve. */
function engineSpeeds(unit: Unit, curves: EngineCurves, settings: EngineSettings): number[] {
  const { engineSpeedsRpm, atEngineRpm, idleEngineRpm } = settings;
  if (engineSpeedsRpm !== null) return [...engineSpeedsRpm];
  const lastRpm = curves === null ? lastX(unit.speedBand) : curves.speed.rising.at(-1)?.x;
  const most = Math.min(ENGINE_RPM_MAX, Math.max(1000, (lastRpm ?? 0) * unit.driveRatio));
  const steps = Array.from({ length: most / ENGINE_RPM_STEP - 1 }, (_, i) => 500 * (i + 2));
  const named = [atEngineRpm, idleEngineRpm ?? 0].filter((rpm) => rpm > 0);
  return [...new Set([...named, ...steps])].sort((a, b) => a - b);
}

/**
 * c(n/ratio) − c(n0/ratio). The timing is set with speed rising: nothing, and known, at that speed
 * itself.
 */
function gainedAt(
  { rising, falling }: RunResult["speed"],
  branch: "rising" | "falling",
  { atEngineRpm }: EngineSettings,
  driveRatio: number,
  engineRpm: number,
): Advance | null {
  const on = (points: readonly CurvePoint[], rpm: number) =>
    advanceAt("speed", points, distributorFromCrankshaft(rpm, driveRatio));
  const isSetHere = branch === "rising" && engineRpm === atEngineRpm;
  if (isSetHere && rising.length > 0) return { advanceDeg: 0, budget: [] };
  const here = on(branch === "rising" ? rising : falling, engineRpm);
  const there = on(rising, atEngineRpm);
  if (here === null || there === null) return null;
  return {
    advanceDeg: here.advanceDeg - there.advanceDeg,
    budget: atEngineRpm === 0 ? here.budget : [...withoutZero(here), ...withoutZero(there)],
  };
}

/** The reference reading stands in both alike. What else they share counts twice: never too small. */
function withoutZero({ budget }: Advance): UncertaintyPart[] {
  return budget.filter(({ name }) => name !== "reference");
}

function sum(one: Advance | null, other: Advance | null): Advance | null {
  if (one === null || other === null) return null;
  return {
    advanceDeg: one.advanceDeg + other.advanceDeg,
    budget: [...one.budget, ...other.budget],
  };
}

/** mark(n) = initial at n0 + ratio · gain (Rootes WSM.143/144 p. 72 for ratio 2 and n0 at rest). */
function markOf({ advanceDeg, budget }: Advance, settings: EngineSettings, ratio: number): Mark {
  const parts = scaled(budget, ratio);
  return {
    markCrankshaftDeg: settings.initialTimingCrankshaftDeg + ratio * advanceDeg,
    expandedUncertaintyCrankshaftDeg: coverageOf(parts) * combined(parts),
  };
}

/**
 * Manifold vacuum is high at idle and above without load; a port above the throttle plate gives
 * almost none at idle, and above it anything up to that, by how far the plate is open.
 */
function unloadedRange(
  plugged: Mark | null,
  full: Mark | null,
  { vacuumPort, idleEngineRpm }: EngineSettings,
  engineRpm: number,
): MarkRange | null {
  if (plugged === null || full === null) return null;
  const isIdle = engineRpm <= (idleEngineRpm ?? IDLE_ENGINE_RPM);
  if (vacuumPort === "manifold") return rangeOf(full, full);
  return isIdle ? rangeOf(plugged, plugged) : rangeOf(plugged, full);
}

export function rangeOf(one: Mark, other: Mark): MarkRange {
  const marks = [one.markCrankshaftDeg, other.markCrankshaftDeg];
  return {
    fromCrankshaftDeg: Math.min(...marks),
    toCrankshaftDeg: Math.max(...marks),
    expandedUncertaintyCrankshaftDeg: Math.max(
      one.expandedUncertaintyCrankshaftDeg,
      other.expandedUncertaintyCrankshaftDeg,
    ),
  };
}
