// The workshop's store: every run as a record that is never edited, and the unit files on hand.

import { inflateSync } from "node:zlib";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { broughtUp } from "../../core/olderRecords.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import { DATABASE_FILE, Database } from "./database.ts";
import { guard } from "./guard.ts";
import { JobStore } from "./jobs.ts";
import { newKey } from "./keys.ts";
import { headFrom, headRows, recordRows, recordUnknown, startFrom } from "./recordRows.ts";
import { RecordWriter } from "./recordWriter.ts";
import { RecordShelf } from "./shelf.ts";
import { UnitStore } from "./units.ts";

export interface StoredRecord {
  readonly head: RecordHead;
  /** Start first, end last where the run has one. */
  readonly documents: readonly RunDocument[];
}

export interface HeadsPage {
  readonly limit: number;
  /** Only records older than the one with this id; null: from the newest. */
  readonly before: string | null;
}

/** Opens or makes the store in `folder`. @throws STORE_FAILED */
export async function openStore(folder: string): Promise<Store> {
  return new Store(await Database.open(folder));
}

/** All methods are synchronous; database.ts says why. Any of them throws STORE_FAILED. */
export class Store {
  readonly jobs: JobStore;
  readonly shelf: RecordShelf;
  readonly units: UnitStore;
  private readonly database: Database;

  constructor(database: Database) {
    this.database = database;
    const nowUtc = () => new Date().toISOString();
    this.jobs = new JobStore(database, (ids) => this.headsOf(ids), nowUtc);
    this.shelf = new RecordShelf(database, this.jobs, nowUtc);
    this.units = new UnitStore(database, nowUtc);
  }

  /** `clock` is the run's own: a chunk of raw bytes is due by its time. */
  begin(start: StartDocument, clock: Pick<Scheduler, "nowMs">): RecordWriter {
    return new RecordWriter(this.database, start, clock);
  }

  /** Newest first; keys sort by time. */
  heads({ limit, before }: HeadsPage): RecordHead[] {
    return guard(said("the records cannot be listed"), () => {
      let query = headRows(this.database).orderBy("records.id", "desc").limit(limit);
      if (before !== null) query = query.where("records.id", "<", before);
      return this.database.rows(query).map(headFrom);
    });
  }

  hasRecord(id: string): boolean {
    return guard(said("the records cannot be read"), () => {
      const query = this.database.build.selectFrom("records").select("id").where("id", "=", id);
      return this.database.rows(query).length > 0;
    });
  }

  /** @throws RECORD_UNKNOWN */
  record(id: string): StoredRecord {
    const { head, documents } = this.asOnFile(id);
    return { head, documents: broughtUp(documents) };
  }

  /** As they were written, by whichever version. @throws RECORD_UNKNOWN */
  documentsOnFile(id: string): readonly RunDocument[] {
    return this.asOnFile(id).documents;
  }

  /** A record that was made elsewhere: all of it or nothing. */
  bringIn(
    start: StartDocument,
    middle: readonly Exclude<RunDocument, StartDocument | EndDocument>[],
    end: EndDocument,
    raw: Uint8Array,
  ): void {
    guard(said("record {} cannot be brought in", start.recordId), () =>
      this.database.atomically(() => {
        const writer = this.begin(start, { nowMs: () => 0 });
        for (const document of middle) writer.append(document);
        writer.raw(raw);
        writer.end(end);
      }),
    );
  }

  private asOnFile(id: string): StoredRecord {
    return guard(said("record {} cannot be read", id), () => {
      const row = this.database.rows(recordRows(this.database).where("records.id", "=", id))[0];
      if (row === undefined) throw recordUnknown(id);
      const middle = this.database.rows(
        this.database.build
          .selectFrom("documents")
          .select("document_json")
          .where("record_id", "=", id)
          .orderBy("sequence"),
      );
      const documents: RunDocument[] = [startFrom(row)];
      for (const { document_json } of middle) documents.push(JSON.parse(document_json));
      if (row.end_json !== null) documents.push(JSON.parse(row.end_json));
      return { head: headFrom(row), documents };
    });
  }

  /** Reads all of the file, which takes a while where it is large; null: it is whole. */
  damage(): string | null {
    return guard(said("{} is damaged", DATABASE_FILE), () => this.database.damage());
  }

  /** @throws STORE_DAMAGED */
  checkWhole(): void {
    const damage = this.damage();
    if (damage === null) return;
    const what = said("{}: {}.", said("{} is damaged", DATABASE_FILE), damage);
    throw new BobweightError("STORE_DAMAGED", what);
  }

  /**
   * The bytes that came from the rig during this run, in order; none for an unknown record.
   * @throws RECORD_INCOMPLETE where some are missing between others, as after a rescue
   */
  rawLines(id: string): Uint8Array {
    return guard(said("the raw lines of record {} cannot be read", id), () => {
      const chunks = this.database.rows(
        this.database.build
          .selectFrom("raw_chunks")
          .select(["sequence", "bytes"])
          .where("record_id", "=", id)
          .orderBy("sequence"),
      );
      if (chunks.some(({ sequence }, i) => sequence !== i)) {
        throw new BobweightError(
          "RECORD_INCOMPLETE",
          said("Of record {} raw lines are missing between others.", id),
        );
      }
      return Buffer.concat(chunks.map(({ bytes }) => inflateSync(bytes)));
    });
  }

  /** Unit files that runs were made with, each once, with the newest record of it; newest first. */
  measuredUnitFiles(): { recordId: string; unitFile: unknown }[] {
    return guard(said("the records' units cannot be listed"), () => {
      const newest = new Map<string, string>();
      const rows = this.database.rows(
        this.database.build
          .selectFrom("records")
          .select(["id", "unit_file_json"])
          .orderBy("id", "desc"),
      );
      for (const row of rows) {
        if (!newest.has(row.unit_file_json)) newest.set(row.unit_file_json, row.id);
      }
      return [...newest].map(([text, recordId]) => ({ recordId, unitFile: JSON.parse(text) }));
    });
  }

  /** What was kept under the name, the newest first. */
  keptTexts(name: string, most: number): readonly string[] {
    return guard(said("{} cannot be read from the store", name), () => {
      const query = this.database.build
        .selectFrom("kept_texts")
        .select("content")
        .where("name", "=", name)
        .orderBy("id", "desc")
        .limit(most);
      return this.database.rows(query).map(({ content }) => content);
    });
  }

  /** What was kept under the name before stays, below it. */
  keepText(name: string, content: string): void {
    guard(said("{} cannot be kept", name), () => {
      const row = { id: newKey(), name, kept_utc: new Date().toISOString(), content };
      this.database.run(this.database.build.insertInto("kept_texts").values(row));
    });
  }

  close(): void {
    this.database.close();
  }

  /** The oldest first. @throws RECORD_UNKNOWN where one of them is none */
  private headsOf(ids: readonly string[]): RecordHead[] {
    return guard(said("the records cannot be listed"), () => {
      const query = headRows(this.database).where("records.id", "in", ids).orderBy("records.id");
      const heads = ids.length === 0 ? [] : this.database.rows(query).map(headFrom);
      const missing = ids.find((id) => !heads.some((head) => head.id === id));
      if (missing === undefined) return heads;
      throw recordUnknown(missing);
    });
  }
}
