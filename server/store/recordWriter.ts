// Writes one run while it happens: its documents one by one, its raw bytes in chunks, its end once.

import type { Compilable } from "kysely";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import { type Database, storeFailed } from "./database.ts";
import { attaching } from "./jobRecords.ts";
import { chunkRow, documentRow, endingRow, recordRow } from "./recordRows.ts";

/** The rig sends at least ten lines a second (clause 3.5), so a chunk is written within one second. */
const CHUNK_MS_MAX = 900;
const CHUNK_BYTES_MAX = 1_000_000;

export interface Writing {
  /** The run's own: a chunk of raw bytes is due by its time. */
  readonly clock: Pick<Scheduler, "nowMs">;
  /** The job that the record goes with; null: none. */
  readonly jobId: string | null;
  /** Called once the record has its end. */
  readonly ended: () => void;
}

export class RecordWriter {
  readonly recordId: string;
  private readonly database: Database;
  private readonly clock: Pick<Scheduler, "nowMs">;
  private readonly ended: () => void;
  private documents = 0;
  private chunks = 0;
  private pending: Uint8Array[] = [];
  private pendingBytes = 0;
  private pendingSinceMs = 0;

  /** Writes the record's row, and which job it goes with. @throws STORE_FAILED */
  constructor(database: Database, start: StartDocument, { clock, jobId, ended }: Writing) {
    this.recordId = start.recordId;
    this.database = database;
    this.clock = clock;
    this.ended = ended;
    const { db } = database;
    const record = db.insertInto("records").values(recordRow(start));
    const job = jobId === null ? [] : [attaching(db, start.recordId, jobId)];
    this.guard(() => database.now(record, ...job));
  }

  /** Safe on disk when it returns. Live documents are passed over. @throws STORE_FAILED */
  append(document: Exclude<RunDocument, StartDocument | EndDocument>): void {
    if (document.type === "live") return;
    const row = documentRow(this.recordId, this.documents, document);
    this.guard(() => this.database.now(this.database.db.insertInto("documents").values(row)));
    this.documents++;
  }

  /** Bytes as they came from the rig; kept by reference until the chunk is written. @throws STORE_FAILED */
  raw(bytes: Uint8Array): void {
    if (bytes.length === 0) return;
    const nowMs = this.clock.nowMs();
    if (this.pending.length === 0) this.pendingSinceMs = nowMs;
    this.pending.push(bytes);
    this.pendingBytes += bytes.length;
    const due = nowMs - this.pendingSinceMs >= CHUNK_MS_MAX || this.pendingBytes >= CHUNK_BYTES_MAX;
    if (!due) return;
    this.guard(() => this.database.now(...this.chunk()));
    this.pending = [];
    this.pendingBytes = 0;
    this.chunks++;
  }

  /** The last chunk and the end together, once. @throws STORE_FAILED */
  end(document: EndDocument): void {
    const ending = this.database.db
      .insertInto("endings")
      .values(endingRow(this.recordId, document));
    this.guard(() => this.database.now(...this.chunk(), ending));
    this.ended();
  }

  private chunk(): Compilable[] {
    if (this.pending.length === 0) return [];
    const row = chunkRow(this.recordId, this.chunks, Buffer.concat(this.pending));
    return [this.database.db.insertInto("raw_chunks").values(row)];
  }

  private guard(write: () => void): void {
    try {
      write();
    } catch (cause) {
      throw storeFailed(said("record {} cannot be written", this.recordId), cause);
    }
  }
}
