// The engine figures' form: what is typed as texts, until all that is needed is there. Pure.
import type { EngineAsked } from "../../core/engine/asked.ts";
import { CRUISE_VACUUM_PA, UNLOADED_VACUUM_PA } from "../../core/engine/marks.ts";
import type { EngineReading } from "../../core/engine/readingsFile.ts";
import type { EngineSettings, Shaft, Unit, VacuumPort } from "../../core/unit.ts";
import {
  crankshaftFromDistributor,
  pascalsFrom,
  type VacuumUnit,
  vacuumFromPascals,
} from "../../core/units.ts";

export interface TypedReading {
  rpm: string;
  mark: string;
  line: EngineReading["vacuumLine"];
}

export interface TypedEngine {
  initial: string;
  /** Whose degrees and speed they are; empty: not said. */
  initialOf: Shaft | "";
  /** Empty: at rest. */
  setAt: string;
  setAtOf: Shaft | "";
  vacuumPort: VacuumPort | "";
  idle: string;
  /** With commas; empty: as the curve has it. */
  speeds: string;
  capsule: number;
  /** Empty: what is common. */
  unloaded: string;
  cruise: string;
  readings: TypedReading[];
}

/** What is lacking or no figure that it could be, the first of it. */
export type EngineLack = Exclude<keyof TypedEngine, "capsule">;

export const NO_READING: TypedReading = { rpm: "", mark: "", line: "plugged" };

/** What was kept goes before what the unit's file knows; an own figure is always the engine's. */
export function typedEngine(
  { engine }: Pick<Unit, "engine">,
  kept: EngineAsked | null,
  vacuumUnit: VacuumUnit,
): TypedEngine {
  const known: Omit<EngineSettings, "source"> | null = kept ?? engine;
  const text = (value: number | null | undefined) => String(value ?? "");
  const vacuum = (pa: number | undefined, common: number) =>
    pa === undefined || pa === common
      ? ""
      : text(Number(vacuumFromPascals(pa, vacuumUnit).toFixed(3)));
  return {
    initial: text(known?.initialTimingCrankshaftDeg),
    initialOf: known === null ? "" : "crankshaft",
    setAt: text(known?.atEngineRpm),
    setAtOf: known === null ? "" : "crankshaft",
    vacuumPort: known?.vacuumPort ?? "",
    idle: text(known?.idleEngineRpm),
    speeds: known?.engineSpeedsRpm?.join(", ") ?? "",
    capsule: kept?.capsule ?? 0,
    unloaded: vacuum(kept?.unloadedVacuumPa, UNLOADED_VACUUM_PA),
    cruise: vacuum(kept?.cruiseVacuumPa, CRUISE_VACUUM_PA),
    readings: (kept?.readings ?? []).map(({ engineRpm, markCrankshaftDeg, vacuumLine }) => ({
      rpm: text(engineRpm),
      mark: text(markCrankshaftDeg),
      line: vacuumLine,
    })),
  };
}

const AMBIENT_PA = 101_325;
const ENGINE_RPM_MAX = 20_000;

/** Nothing is assumed but what the labels of empty fields say. */
export function engineAsked(
  typed: TypedEngine,
  { driveRatio }: Pick<Unit, "driveRatio">,
  vacuumUnit: VacuumUnit,
): EngineAsked | { readonly lacks: EngineLack } {
  const atCrankshaft = (value: number, of: Shaft | "") =>
    of === "distributor" ? crankshaftFromDistributor(value, driveRatio) : value;
  const initial = within(atCrankshaft(figure(typed.initial), typed.initialOf), -60, 60);
  if (initial === null) return { lacks: "initial" };
  if (typed.initialOf === "") return { lacks: "initialOf" };
  const setAt = empty(typed.setAt) ? 0 : atCrankshaft(figure(typed.setAt), typed.setAtOf);
  if (within(setAt, 0, ENGINE_RPM_MAX) === null) return { lacks: "setAt" };
  if (setAt > 0 && typed.setAtOf === "") return { lacks: "setAtOf" };
  if (typed.vacuumPort === "") return { lacks: "vacuumPort" };
  const idle = empty(typed.idle) ? null : within(figure(typed.idle), 1, 3000);
  if (idle === null && !empty(typed.idle)) return { lacks: "idle" };
  const speeds = speedsFrom(typed.speeds);
  if (speeds === null) return { lacks: "speeds" };
  const vacuumPa = (text: string, common: number) =>
    empty(text) ? common : within(pascalsFrom(figure(text), vacuumUnit), 0, AMBIENT_PA);
  const unloadedVacuumPa = vacuumPa(typed.unloaded, UNLOADED_VACUUM_PA);
  if (unloadedVacuumPa === null) return { lacks: "unloaded" };
  const cruiseVacuumPa = vacuumPa(typed.cruise, CRUISE_VACUUM_PA);
  if (cruiseVacuumPa === null) return { lacks: "cruise" };
  const readings = typed.readings.filter(({ rpm, mark }) => !empty(rpm) || !empty(mark));
  const read = readings.map(readingFrom);
  if (read.includes(null)) return { lacks: "readings" };
  return {
    initialTimingCrankshaftDeg: initial,
    atEngineRpm: setAt,
    vacuumPort: typed.vacuumPort,
    idleEngineRpm: idle,
    engineSpeedsRpm: speeds.length === 0 ? null : speeds,
    capsule: typed.capsule,
    unloadedVacuumPa,
    cruiseVacuumPa,
    readings: read.filter((one) => one !== null),
  };
}

function readingFrom({ rpm, mark, line }: TypedReading): EngineReading | null {
  const engineRpm = within(figure(rpm), 1, ENGINE_RPM_MAX);
  const markCrankshaftDeg = within(figure(mark), -60, 120);
  if (engineRpm === null || markCrankshaftDeg === null) return null;
  return { engineRpm, markCrankshaftDeg, vacuumLine: line };
}

/** Rising; null where a part of it is no speed. A comma parts speeds, which are whole. */
function speedsFrom(text: string): readonly number[] | null {
  const speeds = text
    .split(/[,;\s]+/)
    .filter((part) => part !== "")
    .map((part) => within(figure(part), 1, ENGINE_RPM_MAX));
  return speeds.every((speed) => speed !== null) ? speeds.toSorted((a, b) => a - b) : null;
}

function empty(text: string): boolean {
  return text.trim() === "";
}

/** Either decimal mark, either minus; NaN for what is no number. */
function figure(text: string): number {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
}

function within(value: number, least: number, most: number): number | null {
  return value >= least && value <= most ? value : null;
}
