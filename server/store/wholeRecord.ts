// All rows of one record: read, and written at once.

import { createHash, type Hash } from "node:crypto";
import { inflateSync } from "node:zlib";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import type { Tabled } from "./asked.ts";
import {
  chunkRow,
  documentRow,
  endingRow,
  headFrom,
  recordRow,
  recordRows,
  recordUnknown,
  startFrom,
} from "./recordRows.ts";
import type {
  DocumentsTable,
  EndingsTable,
  RawChunksTable,
  RecordsTable,
  Tables,
} from "./tables.ts";

export interface StoredRecord {
  readonly head: RecordHead;
  /** Start first, end last where the run has one. */
  readonly documents: readonly RunDocument[];
}

/** A record that has its end. */
export interface WholeRecord {
  readonly start: StartDocument;
  readonly middle: readonly Exclude<RunDocument, StartDocument | EndDocument>[];
  readonly end: EndDocument;
  /** The bytes that came from the rig. */
  readonly raw: Uint8Array;
}

export interface RowsOfRecord {
  readonly record: RecordsTable;
  readonly documents: readonly DocumentsTable[];
  readonly chunks: readonly RawChunksTable[];
  /** Null: it has none. */
  readonly ending: EndingsTable | null;
  /** The job that it goes with; null: none. */
  readonly jobId: string | null;
}

export function rowsOf({ start, middle, end, raw }: WholeRecord): RowsOfRecord {
  const { recordId } = start;
  return {
    record: recordRow(start),
    documents: middle
      .filter(({ type }) => type !== "live")
      .map((document, sequence) => documentRow(recordId, sequence, document)),
    chunks: raw.length === 0 ? [] : [chunkRow(recordId, 0, raw)],
    ending: endingRow(recordId, end),
    jobId: null,
  };
}

/** More than this in one statement are more values than either database takes. */
const ROWS_AT_ONCE = 1000;

/** All but the job. */
export function insertRecord(db: Tabled, rows: RowsOfRecord): Promise<void> {
  return insertMissing(db, rows, null);
}

/** What `there` has not; rows are only ever added at the end. */
export async function insertMissing(
  db: Tabled,
  { record, documents, chunks, ending }: RowsOfRecord,
  there: RowsOfRecord | null,
): Promise<void> {
  if (there === null) await db.insertInto("records").values(record).execute();
  for (let i = there?.documents.length ?? 0; i < documents.length; i += ROWS_AT_ONCE) {
    const some = documents.slice(i, i + ROWS_AT_ONCE);
    await db.insertInto("documents").values(some).execute();
  }
  for (const chunk of chunks.slice(there?.chunks.length ?? 0)) {
    await db.insertInto("raw_chunks").values(chunk).execute();
  }
  if (ending !== null) await db.insertInto("endings").values(ending).execute();
}

/** Null: there is no such record. */
export async function readRows(db: Tabled, id: string): Promise<RowsOfRecord | null> {
  const record = await db.selectFrom("records").selectAll().where("id", "=", id).executeTakeFirst();
  if (record === undefined) return null;
  const ending = await db
    .selectFrom("endings")
    .selectAll()
    .where("record_id", "=", id)
    .executeTakeFirst();
  const job = await db
    .selectFrom("job_records")
    .select("job_id")
    .where("record_id", "=", id)
    .executeTakeFirst();
  return {
    record,
    documents: await sequenceOf(db, "documents", id),
    chunks: await sequenceOf(db, "raw_chunks", id),
    ending: ending ?? null,
    jobId: job?.job_id ?? null,
  };
}

function sequenceOf<Table extends "documents" | "raw_chunks">(
  db: Tabled,
  table: Table,
  id: string,
): Promise<Tables[Table][]> {
  const query = db.selectFrom(table as "documents").selectAll();
  const rows = query.where("record_id", "=", id).orderBy("sequence").execute();
  return rows as unknown as Promise<Tables[Table][]>;
}

/** SHA-256 over all that the record is; the job, which may change, aside. */
export function digestOfRows({ record, documents, chunks, ending }: RowsOfRecord): string {
  const hash = createHash("sha256");
  const rows: readonly object[] = [
    record,
    ...documents,
    ...chunks,
    ...(ending === null ? [] : [ending]),
  ];
  for (const row of rows) {
    // By their names: the order of columns is each database's own.
    const values = Object.entries(row).sort(([a], [b]) => (a < b ? -1 : 1));
    for (const [name, value] of values) hashValue(hash, name, value);
  }
  return hash.digest("hex");
}

/** Kind and length before each value, so that no two rows read alike. */
export function hashValue(hash: Hash, name: string, value: unknown): void {
  const isBytes = value instanceof Uint8Array;
  const bytes = isBytes ? value : Buffer.from(String(value));
  hash.update(`${name} ${isBytes ? "b" : value === null ? "null" : typeof value}${bytes.length}:`);
  hash.update(bytes);
}

/** @throws RECORD_UNKNOWN */
export async function readRecord(db: Tabled, id: string): Promise<StoredRecord> {
  const row = await recordRows(db).where("records.id", "=", id).executeTakeFirst();
  if (row === undefined) throw recordUnknown(id);
  const middle = await db
    .selectFrom("documents")
    .select("document_json")
    .where("record_id", "=", id)
    .orderBy("sequence")
    .execute();
  const documents: RunDocument[] = [startFrom(row)];
  for (const { document_json } of middle) documents.push(JSON.parse(document_json));
  if (row.end_json !== null) documents.push(JSON.parse(row.end_json));
  return { head: headFrom(row), documents };
}

/** @throws RECORD_INCOMPLETE where some are missing between others */
export async function readRawLines(db: Tabled, id: string): Promise<Uint8Array> {
  const chunks = await db
    .selectFrom("raw_chunks")
    .select(["sequence", "bytes"])
    .where("record_id", "=", id)
    .orderBy("sequence")
    .execute();
  if (chunks.some(({ sequence }, i) => sequence !== i)) {
    throw new BobweightError(
      "RECORD_INCOMPLETE",
      said("Of record {} raw lines are missing between others.", id),
    );
  }
  return Buffer.concat(chunks.map(({ bytes }) => inflateSync(bytes)));
}
