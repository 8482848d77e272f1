// What is done with records after they were made: found again, noted on, archived, set in a row by unit.
// None of it touches a record: notes and archive have rows of their own.

import { sql } from "kysely";
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
import type { Database } from "./database.ts";
import { guard } from "./guard.ts";
import type { JobStore } from "./jobs.ts";
import { newKey } from "./keys.ts";
import { UNIT_KEYS } from "./migrations.ts";
import { headFrom, headRows, recordUnknown } from "./recordRows.ts";
import type { HeadsPage } from "./store.ts";

/** Looked through in one go: a search of many years must not keep a running rig without its sign of life. */
const LOOKED_THROUGH_MAX = 1000;
const CHUNK = 200;
const NOTES_MAX = 200;
/** More runs of one unit are the newest ones only. */
const HISTORY_MAX = 100;

/** All methods are synchronous. Any of them throws STORE_FAILED. */
export class RecordShelf {
  private readonly database: Database;
  private readonly jobs: JobStore;
  private readonly nowUtc: () => string;

  constructor(database: Database, jobs: JobStore, nowUtc: () => string) {
    this.database = database;
    this.jobs = jobs;
    this.nowUtc = nowUtc;
  }

  list(search: RecordSearch, { limit, before }: HeadsPage): RecordsPage {
    return guard(said("the records cannot be searched"), () => {
      const records: ListedRecord[] = [];
      let after = before;
      for (let looked = 0; looked < LOOKED_THROUGH_MAX; looked += CHUNK) {
        const chunk = this.chunk(search, after);
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
  notes(recordId: string): RecordNotes {
    return guard(said("the notes of record {} cannot be read", recordId), () => {
      this.known(recordId);
      const rows = this.database.rows(
        this.database.build
          .selectFrom("record_notes")
          .selectAll()
          .where("record_id", "=", recordId)
          .orderBy("id"),
      );
      const notes = rows.map(
        (row): RecordNote => ({
          id: row.id,
          writtenUtc: row.written_utc,
          text: row.content,
          isTakenBack: row.taken_back_utc !== null,
        }),
      );
      return { isArchived: this.archivedOf([recordId]).has(recordId), notes };
    });
  }

  /** @throws RECORD_UNKNOWN, RECORD_NOTE_REFUSED */
  addNote(recordId: string, text: string): void {
    guard(said("the note cannot be kept with record {}", recordId), () => {
      if (this.notes(recordId).notes.length >= NOTES_MAX) {
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
      this.database.run(this.database.build.insertInto("record_notes").values(row));
    });
  }

  /** It stays on file, marked; and counts again when it is put back. @throws RECORD_UNKNOWN, RECORD_NOTE_REFUSED */
  takeNoteBack(recordId: string, noteId: string, isTakenBack: boolean): void {
    guard(said("a note of record {} cannot be taken back", recordId), () => {
      if (!this.notes(recordId).notes.some(({ id }) => id === noteId)) {
        throw new BobweightError(
          "RECORD_NOTE_REFUSED",
          said("The record has no note {}.", JSON.stringify(noteId)),
        );
      }
      this.database.run(
        this.database.build
          .updateTable("record_notes")
          .set({ taken_back_utc: isTakenBack ? this.nowUtc() : null })
          .where("id", "=", noteId),
      );
    });
  }

  /** @throws RECORD_UNKNOWN */
  archive(recordId: string, isArchived: boolean): void {
    guard(said("record {} cannot be archived", recordId), () => {
      this.known(recordId);
      const { build } = this.database;
      const row = { record_id: recordId, archived_utc: this.nowUtc() };
      this.database.run(
        isArchived
          ? build
              .insertInto("archived_records")
              .values(row)
              .onConflict((conflict) => conflict.column("record_id").doNothing())
          : build.deleteFrom("archived_records").where("record_id", "=", recordId),
      );
    });
  }

  /** Of the same description and stamped number, archived ones too, the oldest first. @throws RECORD_UNKNOWN */
  history(recordId: string): HistoryEntry[] {
    return guard(said("the history of record {} cannot be read", recordId), () => {
      const { unitDescription, stampedNumber } = this.known(recordId);
      const [descriptionKey, numberKey] = UNIT_KEYS;
      const rows = this.database.rows(
        headRows(this.database)
          .select(
            sql<string | null>`json_extract(endings.document_json, '$.result.speed')`.as("speed"),
          )
          .where(sql<boolean>`${descriptionKey} is ${unitDescription}`)
          .where(sql<boolean>`${numberKey} is ${stampedNumber}`)
          .orderBy("records.id", "desc")
          .limit(HISTORY_MAX),
      );
      const listed = this.listed(rows.map(headFrom));
      return rows
        .map(({ speed }, i) => {
          const curves: RunResult["speed"] | null = speed === null ? null : JSON.parse(speed);
          const largest = curves === null ? null : largestAdvance(curves);
          return { ...(listed[i] as ListedRecord), largest };
        })
        .reverse();
    });
  }

  private chunk(search: RecordSearch, after: string | null): ListedRecord[] {
    const { verdict, fromUtc, toUtc } = search;
    let query = headRows(this.database).orderBy("records.id", "desc").limit(CHUNK);
    if (after !== null) query = query.where("records.id", "<", after);
    if (verdict === "none") query = query.where("endings.verdict", "is", null);
    else if (verdict !== "any") query = query.where("endings.verdict", "=", verdict);
    if (fromUtc !== null) query = query.where("records.started_utc", ">=", fromUtc);
    if (toUtc !== null) query = query.where("records.started_utc", "<", toUtc);
    return this.listed(this.database.rows(query).map(headFrom));
  }

  private listed(heads: readonly RecordHead[]): ListedRecord[] {
    const ids = heads.map(({ id }) => id);
    const numbers = this.jobs.numbersOf(ids);
    const archived = this.archivedOf(ids);
    const counts = this.noteCountsOf(ids);
    return heads.map((head) => ({
      ...head,
      jobNumber: numbers.get(head.id) ?? null,
      isArchived: archived.has(head.id),
      noteCount: counts.get(head.id) ?? 0,
    }));
  }

  private archivedOf(ids: readonly string[]): ReadonlySet<string> {
    if (ids.length === 0) return new Set();
    const { build } = this.database;
    const query = build.selectFrom("archived_records").select("record_id");
    const rows = this.database.rows(query.where("record_id", "in", ids));
    return new Set(rows.map(({ record_id }) => record_id));
  }

  private noteCountsOf(ids: readonly string[]): ReadonlyMap<string, number> {
    if (ids.length === 0) return new Map();
    const rows = this.database.rows(
      this.database.build
        .selectFrom("record_notes")
        .select(({ fn }) => ["record_id", fn.countAll<number>().as("count")])
        .where("record_id", "in", ids)
        .where("taken_back_utc", "is", null)
        .groupBy("record_id"),
    );
    return new Map(rows.map(({ record_id, count }) => [record_id, count]));
  }

  /** @throws RECORD_UNKNOWN */
  private known(recordId: string): RecordHead {
    const row = this.database.rows(headRows(this.database).where("records.id", "=", recordId))[0];
    if (row === undefined) throw recordUnknown(recordId);
    return headFrom(row);
  }
}
