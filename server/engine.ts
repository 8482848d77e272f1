// What was asked of the engine figures of a record, kept beside it, and the sheet of them.
import {
  conditionsFrom,
  type EngineAsked,
  engineFigures,
  engineSubject,
} from "../core/engine/asked.ts";
import { engineSheet } from "../core/engine/sheet.ts";
import type { Paper, Sheet } from "../core/sheet/model.ts";
import { SPEECHES } from "../core/speech/languages.ts";
import { keptSettings } from "./settings.ts";
import type { Store } from "./store/store.ts";

const nameOf = (recordId: string) => `engine of ${recordId}`;

/**
 * Of the record itself, else of the newest record of its job that has one: the unit went back on the same
 * engine, but the owner's readings were those of another curve. Null where nothing was kept.
 */
export async function keptEngine(store: Store, recordId: string): Promise<EngineAsked | null> {
  const own = await keptFor(store, recordId);
  if (own !== null) return own;
  const jobId = await store.jobs.jobIdOf(recordId);
  const records = jobId === null ? [] : (await store.jobs.job(jobId)).records.toReversed();
  for (const { id } of records) {
    const kept = await keptFor(store, id);
    if (kept !== null) return { ...kept, readings: [] };
  }
  return null;
}

async function keptFor(store: Store, recordId: string): Promise<EngineAsked | null> {
  const [text] = await store.keptTexts(nameOf(recordId), 1);
  return text === undefined ? null : (JSON.parse(text) as EngineAsked);
}

/** The record stays as it is. @throws RECORD_UNKNOWN */
export async function keepEngine(
  store: Store,
  recordId: string,
  asked: EngineAsked,
): Promise<void> {
  await store.record(recordId);
  await store.keepText(nameOf(recordId), JSON.stringify(asked));
}

/** @throws RECORD_UNKNOWN */
export async function engineSheetOf(
  store: Store,
  recordId: string,
  asked: EngineAsked,
  paper: Paper,
): Promise<Sheet> {
  const subject = engineSubject((await store.record(recordId)).documents);
  const { language, vacuumUnit } = await keptSettings(store);
  const say = SPEECHES[language];
  const conditions = conditionsFrom(subject.unit, asked);
  const figures = engineFigures(subject, conditions, asked.readings, say);
  return engineSheet(figures, { paper, vacuumUnit, say });
}
