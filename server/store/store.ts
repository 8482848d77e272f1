// The workshop's store: every run as a record that is never edited, and the unit files on hand.

import type { BenchName, RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { broughtUp } from "../../core/olderRecords.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Asked, Tabled } from "./asked.ts";
import { benchNameIn } from "./benchName.ts";
import { DATABASE_FILE, Database } from "./database.ts";
import { guard } from "./guard.ts";
import { HandOver } from "./handOver.ts";
import { JobStore } from "./jobs.ts";
import { newKey } from "./keys.ts";
import { Outbox } from "./outbox.ts";
import { PostgresDatabase } from "./postgres.ts";
import { headFrom, headRows } from "./recordRows.ts";
import { RecordWriter } from "./recordWriter.ts";
import { RecordShelf } from "./shelf.ts";
import { UnitStore } from "./units.ts";
import {
  insertRecord,
  readRawLines,
  readRecord,
  rowsOf,
  type StoredRecord,
  type WholeRecord,
} from "./wholeRecord.ts";

export interface HeadsPage {
  readonly limit: number;
  /** Only records older than the one with this id; null: from the newest. */
  readonly before: string | null;
}

/**
 * Opens or makes the store of a data folder.
 * @param databaseUrl of the workshop's PostgreSQL database, which may be away; null: all is in the folder
 * @throws STORE_FAILED
 */
export async function openStore(folder: string, databaseUrl: string | null = null): Promise<Store> {
  if (databaseUrl === null) {
    const file = await Database.open(folder);
    return new Store({ file, asked: file, outbox: null, bench: benchNameIn(folder) });
  }
  const outbox = await Outbox.open(folder);
  const asked = new PostgresDatabase(databaseUrl);
  const store = new Store({ file: outbox.database, asked, outbox, bench: benchNameIn(folder) });
  void store.handOver?.wake();
  return store;
}

export interface StoreParts {
  /** That runs write into. */
  readonly file: Database;
  /** That everything else is asked of; the file, or the workshop's database. */
  readonly asked: Asked;
  /** Of the file, where it is one. */
  readonly outbox: Outbox | null;
  readonly bench: BenchName;
}

/** What a run writes is synchronous; database.ts says why. Any of the methods throws STORE_FAILED, DATABASE_AWAY. */
export class Store {
  readonly jobs: JobStore;
  readonly shelf: RecordShelf;
  readonly units: UnitStore;
  /** That makes this store's records. */
  readonly bench: BenchName;
  /** Null: nothing is handed over, all is in one file. */
  readonly handOver: HandOver | null;
  private readonly file: Database;
  private readonly asked: Asked;
  private readonly outbox: Outbox | null;

  constructor({ file, asked, outbox, bench }: StoreParts) {
    this.file = file;
    this.asked = asked;
    this.outbox = outbox;
    this.bench = bench;
    this.handOver = outbox === null ? null : new HandOver(outbox, asked);
    const nowUtc = () => new Date().toISOString();
    this.jobs = new JobStore(asked, nowUtc);
    this.shelf = new RecordShelf(asked, this.jobs, nowUtc);
    this.units = new UnitStore(asked, nowUtc);
  }

  /**
   * @param clock the run's own: a chunk of raw bytes is due by its time
   * @param jobId the job that the record goes with, which is there; null: none
   */
  begin(
    start: StartDocument,
    clock: Pick<Scheduler, "nowMs">,
    jobId: string | null = null,
  ): RecordWriter {
    const handOver = () => void this.handOver?.wake();
    return new RecordWriter(this.file, start, { clock, jobId, ended: handOver });
  }

  /** Newest first; keys sort by time. */
  heads({ limit, before }: HeadsPage): Promise<RecordHead[]> {
    return guard(said("the records cannot be listed"), async () => {
      let query = headRows(this.asked.db).orderBy("records.id", "desc").limit(limit);
      if (before !== null) query = query.where("records.id", "<", before);
      return (await query.execute()).map(headFrom);
    });
  }

  hasRecord(id: string): Promise<boolean> {
    return guard(said("the records cannot be read"), async () => {
      if (await this.waits(id)) return true;
      const query = this.asked.db.selectFrom("records").select("id").where("id", "=", id);
      return (await query.executeTakeFirst()) !== undefined;
    });
  }

  /** @throws RECORD_UNKNOWN */
  async record(id: string): Promise<StoredRecord> {
    const { head, documents } = await this.asOnFile(id);
    return { head, documents: broughtUp(documents) };
  }

  /** As they were written, by whichever version. @throws RECORD_UNKNOWN */
  async documentsOnFile(id: string): Promise<readonly RunDocument[]> {
    return (await this.asOnFile(id)).documents;
  }

  /** A record that is whole already, as one made elsewhere: all of it or nothing. */
  bringIn(record: WholeRecord): Promise<void> {
    return guard(said("record {} cannot be brought in", record.start.recordId), () =>
      this.asked.atomically((db) => insertRecord(db, rowsOf(record))),
    );
  }

  private asOnFile(id: string): Promise<StoredRecord> {
    return guard(said("record {} cannot be read", id), () =>
      this.wherever(id, (db) => readRecord(db, id)),
    );
  }

  /** Reads all of the file, which takes a while where it is large; null: it is whole. */
  damage(): Promise<string | null> {
    return guard(said("{} is damaged", DATABASE_FILE), () => this.file.damage());
  }

  /** @throws STORE_DAMAGED */
  async checkWhole(): Promise<void> {
    const damage = await this.damage();
    if (damage === null) return;
    const what = said("{}: {}.", said("{} is damaged", DATABASE_FILE), damage);
    throw new BobweightError("STORE_DAMAGED", what);
  }

  /**
   * The bytes that came from the rig during this run, in order; none for an unknown record.
   * @throws RECORD_INCOMPLETE where some are missing between others, as after a rescue
   */
  rawLines(id: string): Promise<Uint8Array> {
    return guard(said("the raw lines of record {} cannot be read", id), () =>
      this.wherever(id, (db) => readRawLines(db, id)),
    );
  }

  /** Unit files that runs were made with, each once, with the newest record of it; newest first. */
  measuredUnitFiles(): Promise<{ recordId: string; unitFile: unknown }[]> {
    return guard(said("the records' units cannot be listed"), async () => {
      const newest = new Map<string, string>();
      const rows = await this.asked.db
        .selectFrom("records")
        .select(["id", "unit_file_json"])
        .orderBy("id", "desc")
        .execute();
      for (const row of rows) {
        if (!newest.has(row.unit_file_json)) newest.set(row.unit_file_json, row.id);
      }
      return [...newest].map(([text, recordId]) => ({ recordId, unitFile: JSON.parse(text) }));
    });
  }

  /** What was kept under the name, the newest first. */
  keptTexts(name: string, most: number): Promise<readonly string[]> {
    return guard(said("{} cannot be read from the store", name), async () => {
      const rows = await this.asked.db
        .selectFrom("kept_texts")
        .select("content")
        .where("name", "=", name)
        .orderBy("id", "desc")
        .limit(most)
        .execute();
      return rows.map(({ content }) => content);
    });
  }

  /** What was kept under the name before stays, below it. */
  keepText(name: string, content: string): Promise<void> {
    return guard(said("{} cannot be kept", name), async () => {
      const row = { id: newKey(), name, kept_utc: new Date().toISOString(), content };
      await this.asked.db.insertInto("kept_texts").values(row).execute();
    });
  }

  /**
   * What is read, or, with the database away, what it was when it was last read on this bench.
   * @throws DATABASE_AWAY where it never was
   */
  async lastSeen<T>(name: string, read: () => Promise<T>): Promise<T> {
    const { outbox } = this;
    if (outbox === null) return read();
    try {
      const now = await read();
      await outbox.keepSeen(name, JSON.stringify(now));
      return now;
    } catch (cause) {
      if (!(cause instanceof BobweightError) || cause.code !== "DATABASE_AWAY") throw cause;
      const seen = await outbox.seen(name);
      if (seen === null) throw cause;
      return JSON.parse(seen) as T;
    }
  }

  /** What waits is handed over first, where that can be done at once. */
  async close(): Promise<void> {
    await this.handOver?.wake();
    this.handOver?.end();
    await this.asked.close();
    if (this.outbox !== null) await this.file.close();
  }

  /** Whether the record is on this bench still, written or being written. */
  private async waits(id: string): Promise<boolean> {
    if (this.outbox === null) return false;
    const query = this.file.db.selectFrom("records").select("id").where("id", "=", id);
    return (await query.executeTakeFirst()) !== undefined;
  }

  private async wherever<T>(id: string, read: (db: Tabled) => Promise<T>): Promise<T> {
    if (await this.waits(id)) {
      // It may be handed over while it is read, piece by piece.
      const here = await this.file.atomically(read).catch(() => null);
      if (here !== null) return here;
    }
    return read(this.asked.db);
  }
}
