// What the file itself promises: durable at every open, and deaf to edits whoever asks.
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type Sqlite from "better-sqlite3";
import { Kysely, Migrator, SqliteDialect, sql } from "kysely";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DATABASE_FILE, Database } from "../../server/store/database.ts";
import { migrationProvider } from "../../server/store/migrations.ts";
import { loadSqlite } from "../../server/store/sqlite.ts";
import { openStore } from "../../server/store/store.ts";
import { endDocument, holdDocument, startDocument } from "../sheet/fixture.ts";

let folder: string;
let nowMs = 0;
const clock = { nowMs: () => nowMs };

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-database-"));
});

afterEach(() => rmSync(folder, { recursive: true }));

function pragmas({ db }: Database): Promise<unknown[]> {
  return Promise.all(
    ["journal_mode", "synchronous", "foreign_keys"].map(async (name) => {
      const { rows } = await sql.raw(`PRAGMA ${name}`).execute(db);
      return Object.values(rows[0] as object).at(0);
    }),
  );
}

describe("durability", () => {
  it("is WAL, FULL and foreign keys at the first open, after a write, and at the next open", async () => {
    for (const round of ["new", "again"]) {
      const database = await Database.open(folder);
      expect(await pragmas(database)).toEqual(["wal", 2, 1]);
      const row = { id: round, added_utc: "2031-01-01T00:00:00.000Z", file_text: "{}" };
      await database.db.insertInto("units").values(row).execute();
      expect(await pragmas(database)).toEqual(["wal", 2, 1]);
      await database.close();
    }
  });
});

describe("a database of an older version", () => {
  const copies = () =>
    readdirSync(folder).filter((name) => name.startsWith(`${DATABASE_FILE}.before-`));

  async function olderDatabase(lastStep: string): Promise<void> {
    const sqlite = new (await loadSqlite())(join(folder, DATABASE_FILE));
    const db = new Kysely({ dialect: new SqliteDialect({ database: sqlite }) });
    const { error } = await new Migrator({ db, provider: migrationProvider }).migrateTo(lastStep);
    expect(error).toBeUndefined();
    sqlite.exec(
      "INSERT INTO units (id, added_utc, file_text) VALUES ('kept', '2031-01-01T00:00:00.000Z', '{}')",
    );
    await db.destroy();
  }

  const tablesOf = (sqlite: Sqlite.Database) =>
    sqlite.prepare("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all();

  it("stays beside the new one as it was, once for each step that it lacked", async () => {
    const steps = Object.keys(await migrationProvider.getMigrations()).sort();
    for (let made = 1; made < steps.length; made++) {
      await olderDatabase(steps[made - 1] as string);
      await (await Database.open(folder)).close();
      await (await Database.open(folder)).close();
      expect(copies()).toEqual([`${DATABASE_FILE}.before-${steps[made]}`]);
      const older = new (await loadSqlite())(join(folder, copies()[0] as string));
      const newer = new (await loadSqlite())(join(folder, DATABASE_FILE));
      for (const sqlite of [older, newer]) {
        expect(sqlite.prepare("SELECT id FROM units").pluck().all()).toEqual(["kept"]);
        expect(sqlite.pragma("integrity_check", { simple: true })).toBe("ok");
      }
      const applied = "SELECT count(*) FROM kysely_migration";
      expect(older.prepare(applied).pluck().get()).toBe(made);
      expect(newer.prepare(applied).pluck().get()).toBe(steps.length);
      expect(tablesOf(newer)).toEqual(expect.arrayContaining(tablesOf(older)));
      older.close();
      newer.close();
      for (const name of readdirSync(folder)) rmSync(join(folder, name));
    }
  });

  it("is none where the folder is new", async () => {
    await (await Database.open(folder)).close();
    expect(copies()).toEqual([]);
  });
});

describe("records in the hands of another program", () => {
  let other: Sqlite.Database;

  async function openOther(ended: boolean): Promise<void> {
    const store = await openStore(folder);
    const writer = store.begin(startDocument, clock);
    writer.append(holdDocument);
    writer.raw(Uint8Array.of(1, 2, 3));
    nowMs += 1000;
    writer.raw(Uint8Array.of(4));
    if (ended) writer.end(endDocument);
    await store.close();
    other = new (await loadSqlite())(join(folder, DATABASE_FILE));
  }

  afterEach(() => other.close());

  // Whether the record has ended is chosen so that only the rule under test can refuse.
  it.each([
    ["records", false],
    ["documents", false],
    ["raw_chunks", false],
    ["endings", true],
  ])("%s refuses UPDATE, DELETE and REPLACE", async (table, ended) => {
    await openOther(ended);
    const before = other.prepare(`SELECT * FROM ${table}`).all();
    expect(before).toHaveLength(1);
    const key = table === "records" ? "id" : "record_id";
    for (const edit of [
      `UPDATE ${table} SET ${key} = ${key}`,
      `DELETE FROM ${table}`,
      `REPLACE INTO ${table} SELECT * FROM ${table}`,
    ]) {
      expect(() => other.exec(edit), edit).toThrow("records are never edited");
    }
    expect(other.prepare(`SELECT * FROM ${table}`).all()).toEqual(before);
  });

  it.each(["documents", "raw_chunks"])("%s takes nothing more after the end", async (table) => {
    await openOther(true);
    const add = `INSERT INTO ${table} SELECT record_id, sequence + 1, 'x' FROM ${table}`;
    expect(() => other.exec(add)).toThrow("this record has ended");
  });

  it("a document without its record is refused", async () => {
    await openOther(false);
    const database = await Database.open(folder);
    const orphan = { record_id: "nobody", sequence: 0, document_json: "{}" };
    expect(() => database.now(database.db.insertInto("documents").values(orphan))).toThrow(
      "FOREIGN KEY",
    );
    await database.close();
  });
});

describe("a new folder", () => {
  it("may be opened by several at once", async () => {
    const folder = mkdtempSync(join(tmpdir(), "bobweight-store-"));
    const opened = await Promise.all([1, 2, 3, 4].map(() => Database.open(folder)));
    for (const database of opened) await database.close();
    expect(opened).toHaveLength(4);
  });
});
