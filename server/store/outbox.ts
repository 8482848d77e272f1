// What a bench has written and the workshop's database has not got yet: a SQLite file of its own in the data folder,
// with the tables of records. A run writes here, at once, whether or not the database can be reached.

import { type Kysely, sql } from "kysely";
import { said } from "../../core/said.ts";
import type { Tabled } from "./asked.ts";
import { Database, storeFailed } from "./database.ts";
import type { Tables } from "./tables.ts";
import { type RowsOfRecord, readRows } from "./wholeRecord.ts";

const OUTBOX_FILE = "outbox.sqlite";

interface OutboxTables extends Tables {
  /** The workshop's own, as they were when the database was last reached: to start a run without it. */
  last_seen: { name: string; content: string };
}

const RECORD_TABLES = ["documents", "raw_chunks", "endings", "job_records"] as const;

export class Outbox {
  /** Runs write through it. */
  readonly database: Database;
  private readonly db: Kysely<OutboxTables>;

  private constructor(database: Database) {
    this.database = database;
    this.db = database.db as unknown as Kysely<OutboxTables>;
  }

  /** @throws STORE_FAILED, STORE_DAMAGED */
  static async open(folder: string): Promise<Outbox> {
    const outbox = new Outbox(await Database.open(folder, OUTBOX_FILE));
    try {
      await outbox.prepare();
      return outbox;
    } catch (cause) {
      await outbox.database.close();
      throw storeFailed(said("the record store {} cannot be opened", OUTBOX_FILE), cause);
    }
  }

  /** Records that wait, the oldest first. */
  async waiting(): Promise<string[]> {
    const rows = await this.db.selectFrom("records").select("id").orderBy("id").execute();
    return rows.map(({ id }) => id);
  }

  /** Null: it waits here no more. */
  rowsOf(recordId: string): Promise<RowsOfRecord | null> {
    return readRows(this.db as unknown as Tabled, recordId);
  }

  /** It is known to be in the database, whole. */
  async takeOut(recordId: string): Promise<void> {
    await this.database.atomically(async (db) => {
      for (const table of RECORD_TABLES) {
        await db.deleteFrom(table).where("record_id", "=", recordId).execute();
      }
      await db.deleteFrom("records").where("id", "=", recordId).execute();
    });
  }

  async keepSeen(name: string, content: string): Promise<void> {
    await this.db
      .insertInto("last_seen")
      .values({ name, content })
      .onConflict((conflict) => conflict.column("name").doUpdateSet({ content }))
      .execute();
  }

  async seen(name: string): Promise<string | null> {
    const query = this.db.selectFrom("last_seen").select("content").where("name", "=", name);
    return (await query.executeTakeFirst())?.content ?? null;
  }

  private async prepare(): Promise<void> {
    const { db } = this;
    // What a record refers to, its job and the record before, is in the database.
    await sql`PRAGMA foreign_keys = OFF`.execute(db);
    await sql`CREATE TABLE IF NOT EXISTS last_seen (name TEXT PRIMARY KEY NOT NULL, content TEXT NOT NULL)`.execute(
      db,
    );
    // Here alone records go again, once they are elsewhere.
    for (const table of ["records", ...RECORD_TABLES]) {
      await sql`DROP TRIGGER IF EXISTS ${sql.raw(`${table}_no_delete`)}`.execute(db);
    }
  }
}
