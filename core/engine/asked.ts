// What is asked of the engine figures: how the unit is timed, what feeds its capsule, and what the owner read. Pure.
import type { RunDocument } from "../documents.ts";
import { resultOf, startDocumentOf } from "../sheet/curves.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import type { EngineSettings, Unit } from "../unit.ts";
import { judgeReadings } from "./agreement.ts";
import { type EngineConditions, engineMarks } from "./marks.ts";
import type { EngineReading } from "./readingsFile.ts";
import type { EngineFigures } from "./sheet.ts";

/** As it goes between page and server, and is kept beside a record. */
export interface EngineAsked
  extends Omit<EngineSettings, "source">,
    Omit<EngineConditions, "settings"> {
  /** Empty where the owner has read none yet. */
  readonly readings: readonly EngineReading[];
}

/** Of a unit whose own initial timing is asked for its place of print is named; of no other. */
export function conditionsFrom({ engine }: Unit, asked: EngineAsked): EngineConditions {
  const { capsule, unloadedVacuumPa, cruiseVacuumPa, readings: _, ...timing } = asked;
  const isPrinted =
    timing.initialTimingCrankshaftDeg === engine?.initialTimingCrankshaftDeg &&
    timing.atEngineRpm === engine.atEngineRpm;
  return {
    settings: { ...timing, source: isPrinted ? engine.source : null },
    capsule,
    unloadedVacuumPa,
    cruiseVacuumPa,
  };
}

export type EngineSubject = Pick<EngineFigures, "unit" | "record" | "curves">;

export function engineSubject(documents: readonly RunDocument[]): EngineSubject {
  const start = startDocumentOf(documents);
  return { unit: start.unit, record: start, curves: resultOf(documents) };
}

/** @param readings the owner's; null or empty: none yet */
export function engineFigures(
  subject: EngineSubject,
  conditions: EngineConditions,
  readings: readonly EngineReading[] | null,
  say: Speech = ENGLISH,
): EngineFigures {
  const { unit, curves } = subject;
  const inOrder = readings?.toSorted((one, other) => one.engineRpm - other.engineRpm) ?? [];
  return {
    ...subject,
    conditions,
    marks: engineMarks(unit, curves, conditions),
    readings: inOrder.length === 0 ? null : judgeReadings(unit, curves, conditions, inOrder, say),
  };
}
