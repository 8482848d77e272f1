// Writes one run while it happens: its documents one by one, its raw bytes in chunks, its end once.

import { deflateSync } from "node:zlib";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import { type Database, storeFailed } from "./database.ts";

/** The rig sends at least ten lines a second (clause 3.5), so a chunk is written within one second. */
const CHUNK_MS_MAX = 900;
const CHUNK_BYTES_MAX = 1_000_000;

export class RecordWriter {
  readonly recordId: string;
  private readonly database: Database;
  private readonly clock: Pick<Scheduler, "nowMs">;
  private documents = 0;
  private chunks = 0;
  private pending: Uint8Array[] = [];
  private pendingBytes = 0;
  private pendingSinceMs = 0;

  /** Writes the record's row. @throws STORE_FAILED */
  constructor(database: Database, start: StartDocument, clock: Pick<Scheduler, "nowMs">) {
    this.recordId = start.recordId;
    this.database = database;
    this.clock = clock;
    this.guard(() => database.run(insertRecord(database, start)));
  }

  /** Safe on disk when it returns. Live documents are passed over. @throws STORE_FAILED */
  append(document: Exclude<RunDocument, StartDocument | EndDocument>): void {
    if (document.type === "live") return;
    const row = {
      record_id: this.recordId,
      sequence: this.documents,
      document_json: JSON.stringify(document),
    };
    this.guard(() => this.database.run(this.database.build.insertInto("documents").values(row)));
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
    if (due) this.guard(() => this.writeChunk());
  }

  /** The last chunk and the end together, once. @throws STORE_FAILED */
  end(document: EndDocument): void {
    const row = {
      record_id: this.recordId,
      ended_utc: document.endedUtc,
      ending: document.ending,
      verdict: document.result.verdict,
      document_json: JSON.stringify(document),
    };
    this.guard(() =>
      this.database.atomically(() => {
        this.writeChunk();
        this.database.run(this.database.build.insertInto("endings").values(row));
      }),
    );
  }

  private writeChunk(): void {
    if (this.pending.length === 0) return;
    const row = {
      record_id: this.recordId,
      sequence: this.chunks,
      bytes: deflateSync(Buffer.concat(this.pending)),
    };
    this.database.run(this.database.build.insertInto("raw_chunks").values(row));
    this.chunks++;
    this.pending = [];
    this.pendingBytes = 0;
  }

  private guard(write: () => void): void {
    try {
      write();
    } catch (cause) {
      throw storeFailed(said("record {} cannot be written", this.recordId), cause);
    }
  }
}

function insertRecord(database: Database, start: StartDocument) {
  return database.build.insertInto("records").values({
    id: start.recordId,
    started_utc: start.startedUtc,
    engine_version: start.engineVersion,
    expected_s: start.expectedS,
    unit_json: JSON.stringify(start.unit),
    unit_file_json: JSON.stringify(start.unitFile),
    plan_json: JSON.stringify(start.plan),
    rig_json: JSON.stringify(start.rig),
    // A start as an older version wrote it has no such field.
    after_record_id: start.afterRecordId ?? null,
  });
}
