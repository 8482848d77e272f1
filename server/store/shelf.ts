// What is done with records after they were made: found again, noted on, archived, set in a row by unit.
// None of it touches a record: notes and archive have rows of their own.

import type { RunResult } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import {
  type HistoryEntry,
  isFound,
  type ListedRecord,
  largestAdvance,
  type RecordNote,
  type RecordNotes,
  type RecordSearch,
  type RecordsPage,
} from "../../core/records/listed.ts";
import { said } from "../../core/said.ts";
import type { Asked } from "./asked.ts";
import { guard } from "./guard.ts";
import type { JobStore } from "./jobs.ts";
import { newKey } from "./keys.ts";
import { headFrom, headRows, headsOf, recordUnknown } from "./recordRows.ts";
import type { HeadsPage } from "./store.ts";
import { wordsOf } from "./words.ts";

/** Looked through in one go: a search of many years must not keep a running rig without its sign of life. */
const LOOKED_THROUGH_MAX = 1000;
const CHUNK = 200;
const NOTES_MAX = 200;
/** More runs of one unit are the newest ones only. */
const HISTORY_MAX = 100;

/** Any of the methods throws STORE_FAILED. */
export class RecordShelf {
  private readonly asked: Asked;
  private readonly jobs: JobStore;
  private readonly nowUtc: () => string;

  constructor(asked: Asked, jobs: JobStore, nowUtc: () => string) {
    this.asked = asked;
    this.jobs = jobs;
    this.nowUtc = nowUtc;
  }

  list(search: RecordSearch, { limit, before }: HeadsPage): Promise<RecordsPage> {
    return guard(said("the records cannot be searched"), async () => {
      const records: ListedRecord[] = [];
      let after = before;
      for (let looked = 0; looked < LOOKED_THROUGH_MAX; looked += CHUNK) {
        const chunk = await this.chunk(search, after);
        for (const record of chunk) {
          // One more would be found: it is where the next page begins.
          if (records.length === limit) return { records, before: after };
          after = record.id;
          if (isFound(record, search)) records.push(record);
        }
        if (chunk.length < CHUNK) return { records, before: null };
      }
      return { records, before: after };
    });
  }

  /** @throws RECORD_UNKNOWN */
  notes(recordId: string): Promise<RecordNotes> {
    return guard(said("the notes of record {} cannot be read", recordId), async () => {
      await headsOf(this.asked.db, [recordId]);
      const rows = await this.asked.db
        .selectFrom("record_notes")
        .selectAll()
        .where("record_id", "=", recordId)
        .orderBy("id")
        .execute();
      const notes = rows.map(
        (row): RecordNote => ({
          id: row.id,
          writtenUtc: row.written_utc,
          text: row.content,
          isTakenBack: row.taken_back_utc !== null,
        }),
      );
      return { isArchived: (await this.archivedOf([recordId])).has(recordId), notes };
    });
  }

  /** @throws RECORD_UNKNOWN, RECORD_NOTE_REFUSED */
  addNote(recordId: string, text: string): Promise<void> {
    return guard(said("the note cannot be kept with record {}", recordId), async () => {
      if ((await this.notes(recordId)).notes.length >= NOTES_MAX) {
        throw new BobweightError(
          "RECORD_NOTE_REFUSED",
          said("The record has {} notes.", NOTES_MAX),
        );
      }
      const row = {
        id: newKey(),
        record_id: recordId,
        written_utc: this.nowUtc(),
        content: text,
        taken_back_utc: null,
      };
      await this.asked.db.insertInto("record_notes").values(row).execute();
    });
  }

  /** It stays on file, marked; and counts again when it is put back. @throws RECORD_UNKNOWN, RECORD_NOTE_REFUSED */
  takeNoteBack(recordId: string, noteId: string, isTakenBack: boolean): Promise<void> {
    return guard(said("a note of record {} cannot be taken back", recordId), async () => {
      if (!(await this.notes(recordId)).notes.some(({ id }) => id === noteId)) {
        throw new BobweightError(
          "RECORD_NOTE_REFUSED",
          said("The record has no note {}.", JSON.stringify(noteId)),
        );
      }
      await this.asked.db
        .updateTable("record_notes")
        .set({ taken_back_utc: isTakenBack ? this.nowUtc() : null })
        .where("id", "=", noteId)
        .execute();
    });
  }

  /** @throws RECORD_UNKNOWN */
  archive(recordId: string, isArchived: boolean): Promise<void> {
    return guard(said("record {} cannot be archived", recordId), async () => {
      const { db } = this.asked;
      await headsOf(db, [recordId]);
      const row = { record_id: recordId, archived_utc: this.nowUtc() };
      const change = isArchived
        ? db
            .insertInto("archived_records")
            .values(row)
            .onConflict((conflict) => conflict.column("record_id").doNothing())
        : db.deleteFrom("archived_records").where("record_id", "=", recordId);
      await change.execute();
    });
  }

  /** Of the same description and stamped number, archived ones too, the oldest first. @throws RECORD_UNKNOWN */
  history(recordId: string): Promise<HistoryEntry[]> {
    return guard(said("the history of record {} cannot be read", recordId), async () => {
      const [head] = await headsOf(this.asked.db, [recordId]);
      if (head === undefined) throw recordUnknown(recordId);
      const { unitKeys, unitKey, speedOfEnding } = wordsOf(this.asked.db);
      const [descriptionKey, numberKey] = unitKeys;
      const number = unitKey(head.stampedNumber);
      const rows = await headRows(this.asked.db)
        .select(speedOfEnding.as("speed"))
        .where(descriptionKey, "=", unitKey(head.unitDescription))
        .where(numberKey, number === null ? "is" : "=", number)
        .orderBy("records.id", "desc")
        .limit(HISTORY_MAX)
        .execute();
      const listed = await this.listed(rows.map(headFrom));
      return rows
        .map(({ speed }, i) => {
          const curves: RunResult["speed"] | null = speed === null ? null : JSON.parse(speed);
          const largest = curves === null ? null : largestAdvance(curves);
          return { ...(listed[i] as ListedRecord), largest };
        })
        .reverse();
    });
  }

  private async chunk(search: RecordSearch, after: string | null): Promise<ListedRecord[]> {
    const { verdict, fromUtc, toUtc } = search;
    let query = headRows(this.asked.db).orderBy("records.id", "desc").limit(CHUNK);
    if (after !== null) query = query.where("records.id", "<", after);
    if (verdict === "none") query = query.where("endings.verdict", "is", null);
    else if (verdict !== "any") query = query.where("endings.verdict", "=", verdict);
    if (fromUtc !== null) query = query.where("records.started_utc", ">=", fromUtc);
    if (toUtc !== null) query = query.where("records.started_utc", "<", toUtc);
    return this.listed((await query.execute()).map(headFrom));
  }

  private async listed(heads: readonly RecordHead[]): Promise<ListedRecord[]> {
    const ids = heads.map(({ id }) => id);
    const numbers = await this.jobs.numbersOf(ids);
    const archived = await this.archivedOf(ids);
    const counts = await this.noteCountsOf(ids);
    return heads.map((head) => ({
      ...head,
      jobNumber: numbers.get(head.id) ?? null,
      isArchived: archived.has(head.id),
      noteCount: counts.get(head.id) ?? 0,
    }));
  }

  private async archivedOf(ids: readonly string[]): Promise<ReadonlySet<string>> {
    if (ids.length === 0) return new Set();
    const rows = await this.asked.db
      .selectFrom("archived_records")
      .select("record_id")
      .where("record_id", "in", ids)
      .execute();
    return new Set(rows.map(({ record_id }) => record_id));
  }

  private async noteCountsOf(ids: readonly string[]): Promise<ReadonlyMap<string, number>> {
    if (ids.length === 0) return new Map();
    const rows = await this.asked.db
      .selectFrom("record_notes")
      .select(({ fn }) => ["record_id", fn.countAll().as("count")])
      .where("record_id", "in", ids)
      .where("taken_back_utc", "is", null)
      .groupBy("record_id")
      .execute();
    // PostgreSQL counts beyond what a number holds, and so gives text.
    return new Map(rows.map(({ record_id, count }) => [record_id, Number(count)]));
  }
}
