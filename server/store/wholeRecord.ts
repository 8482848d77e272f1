// All rows of one record: read, and written at once.

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
import type { DocumentsTable, EndingsTable, RawChunksTable, RecordsTable } from "./tables.ts";

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
  readonly ending: EndingsTable;
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
  };
}

/** More than this in one statement are more values than either database takes. */
const ROWS_AT_ONCE = 1000;

export async function insertRecord(
  db: Tabled,
  { record, documents, chunks, ending }: RowsOfRecord,
): Promise<void> {
  await db.insertInto("records").values(record).execute();
  for (let i = 0; i < documents.length; i += ROWS_AT_ONCE) {
    const some = documents.slice(i, i + ROWS_AT_ONCE);
    await db.insertInto("documents").values(some).execute();
  }
  for (const chunk of chunks) await db.insertInto("raw_chunks").values(chunk).execute();
  await db.insertInto("endings").values(ending).execute();
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
