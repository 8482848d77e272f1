// The workshop's store: every run as a record that is never edited, and the unit files on hand.

import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { broughtUp } from "../../core/olderRecords.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import { DATABASE_FILE, Database } from "./database.ts";
import { guard } from "./guard.ts";
import { JobStore } from "./jobs.ts";
import { newKey } from "./keys.ts";
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

/** Opens or makes the store in `folder`. @throws STORE_FAILED */
export async function openStore(folder: string): Promise<Store> {
  return new Store(await Database.open(folder));
}

/** What a run writes is synchronous; database.ts says why. Any of the methods throws STORE_FAILED. */
export class Store {
  readonly jobs: JobStore;
  readonly shelf: RecordShelf;
  readonly units: UnitStore;
  private readonly database: Database;

  constructor(database: Database) {
    this.database = database;
    const nowUtc = () => new Date().toISOString();
    this.jobs = new JobStore(database, nowUtc);
    this.shelf = new RecordShelf(database, this.jobs, nowUtc);
    this.units = new UnitStore(database, nowUtc);
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
    return new RecordWriter(this.database, start, clock, jobId);
  }

  /** Newest first; keys sort by time. */
  heads({ limit, before }: HeadsPage): Promise<RecordHead[]> {
    return guard(said("the records cannot be listed"), async () => {
      let query = headRows(this.database.db).orderBy("records.id", "desc").limit(limit);
      if (before !== null) query = query.where("records.id", "<", before);
      return (await query.execute()).map(headFrom);
    });
  }

  hasRecord(id: string): Promise<boolean> {
    return guard(said("the records cannot be read"), async () => {
      const query = this.database.db.selectFrom("records").select("id").where("id", "=", id);
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
      this.database.atomically((db) => insertRecord(db, rowsOf(record))),
    );
  }

  private asOnFile(id: string): Promise<StoredRecord> {
    return guard(said("record {} cannot be read", id), () => readRecord(this.database.db, id));
  }

  /** Reads all of the file, which takes a while where it is large; null: it is whole. */
  damage(): Promise<string | null> {
    return guard(said("{} is damaged", DATABASE_FILE), () => this.database.damage());
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
      readRawLines(this.database.db, id),
    );
  }

  /** Unit files that runs were made with, each once, with the newest record of it; newest first. */
  measuredUnitFiles(): Promise<{ recordId: string; unitFile: unknown }[]> {
    return guard(said("the records' units cannot be listed"), async () => {
      const newest = new Map<string, string>();
      const rows = await this.database.db
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
      const rows = await this.database.db
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
      await this.database.db.insertInto("kept_texts").values(row).execute();
    });
  }

  async close(): Promise<void> {
    this.database.close();
  }
}
