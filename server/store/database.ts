// The SQLite file: opened durable, brought up to date, and asked by kysely.
//
// What a run writes while it is on cannot wait: under a virtual clock time would pass meanwhile, and a document
// could be shown before it is safe. SQLite in this process is synchronous anyway, so that such writes are made at
// once (`now`), beside whatever kysely is about (`sqliteDriver.ts`).

import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type Sqlite from "better-sqlite3";
import { type Compilable, Kysely, Migrator, type Transaction } from "kysely";
import { BobweightError } from "../../core/errors.ts";
import { type Said, said } from "../../core/said.ts";
import { type Asked, atomically } from "./asked.ts";
import { isAway } from "./away.ts";
import { migrationProvider } from "./migrations.ts";
import { loadSqlite } from "./sqlite.ts";
import { Interrupted, SqliteDriver } from "./sqliteDriver.ts";
import type { Tables } from "./tables.ts";

export const DATABASE_FILE = "bobweight.sqlite";

/** SQLite's number for synchronous FULL. */
const SYNCHRONOUS_FULL = 2;

export class Database implements Asked {
  readonly db: Kysely<Tables>;
  private readonly sqlite: Sqlite.Database;
  private readonly driver: SqliteDriver;

  private constructor(sqlite: Sqlite.Database) {
    this.sqlite = sqlite;
    this.driver = new SqliteDriver(sqlite);
    this.db = new Kysely<Tables>({ dialect: this.driver.dialect() });
  }

  /** @throws STORE_FAILED, STORE_DAMAGED */
  static async open(folder: string, file = DATABASE_FILE): Promise<Database> {
    const path = join(folder, file);
    let sqlite: Sqlite.Database | null = null;
    try {
      makeFolder(folder);
      sqlite = new (await loadSqlite())(path);
      // SQLite opens a file that may only be read without a word, and the first record would fail.
      accessSync(path, constants.W_OK);
      makeDurable(sqlite);
      const database = new Database(sqlite);
      await keepCopyBeforeMigration(database, path);
      await migrate(database.db, sqlite);
      // Once more: a database new to WAL may fall back to NORMAL with its first write.
      makeDurable(sqlite);
      return database;
    } catch (cause) {
      sqlite?.close();
      throw storeFailed(said("the record store {} cannot be opened", path), cause);
    }
  }

  /** All of these or none, on disk when it returns. */
  now(...writes: readonly Compilable[]): void {
    this.driver.now(() => {
      for (const write of writes) this.driver.run(write.compile());
    });
  }

  atomically<T>(work: (db: Transaction<Tables>) => Promise<T>): Promise<T> {
    return atomically(
      () => this.db.transaction().execute(work),
      (error) => error instanceof Interrupted,
    );
  }

  async close(): Promise<void> {
    this.sqlite.close();
  }

  /** Reads all of the file; null: whole, else what SQLite finds wrong with it first. */
  damage(): string | null {
    const found = String(this.sqlite.pragma("quick_check(1)", { simple: true }));
    return found === "ok" ? null : found;
  }

  /** All of it as one file that did not exist, safe on disk when this returns. */
  copyTo(path: string): void {
    this.sqlite.prepare("VACUUM INTO ?").run(path);
    syncFile(path);
  }
}

/** A folder that was made stays there after a power cut, as what is written into it. */
function makeFolder(folder: string): void {
  const first = mkdirSync(folder, { recursive: true });
  if (first === undefined) return;
  for (let made = folder; made.length >= first.length; made = dirname(made)) {
    syncFolder(dirname(made));
  }
}

export function syncFile(path: string): void {
  sync(path, "r+");
}

/** Names in a folder are safe on disk when this returns. Windows keeps them by itself and opens no folder. */
export function syncFolder(path: string): void {
  if (process.platform !== "win32") sync(path, "r");
}

function sync(path: string, flags: "r" | "r+"): void {
  const opened = openSync(path, flags);
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}

/** What was committed survives a power cut. Set at every open, since it is no property of the file. */
function makeDurable(sqlite: Sqlite.Database): void {
  sqlite.pragma("journal_mode = WAL");
  sqlite.pragma("synchronous = FULL");
  sqlite.pragma("foreign_keys = ON");
  expectPragma(sqlite, "journal_mode", "wal");
  expectPragma(sqlite, "synchronous", SYNCHRONOUS_FULL);
  expectPragma(sqlite, "foreign_keys", 1);
}

function expectPragma(sqlite: Sqlite.Database, name: string, wanted: unknown): void {
  const found = sqlite.pragma(name, { simple: true });
  if (found !== wanted) throw new Error(`${name} reads back ${found} instead of ${wanted}`);
}

/**
 * What an older version wrote stays as it was, in a file beside the database that is named by the first
 * step that had not been made. A new database and one that is up to date leave none.
 */
async function keepCopyBeforeMigration(database: Database, path: string): Promise<void> {
  const migrator = new Migrator({ db: database.db, provider: migrationProvider });
  const steps = await migrator.getMigrations();
  const next = steps.find(({ executedAt }) => executedAt === undefined);
  if (next === undefined || next === steps[0]) return;
  const copy = `${path}.before-${next.name}`;
  if (existsSync(copy)) return;
  const unfinished = `${copy}.unfinished-${process.pid}`;
  rmSync(unfinished, { force: true });
  database.copyTo(unfinished);
  renameSync(unfinished, copy);
  syncFolder(dirname(path));
}

const MIGRATION_TRIES = 100;
const MIGRATION_PAUSE_MS = 100;
const BUSY_TIMEOUT_MS = 5000;

/**
 * All steps that lack or none, whatever becomes of program and power meanwhile: kysely makes them one by one on
 * SQLite. Several processes may open a new folder at once; whoever comes second finds the tables made.
 */
async function migrate(db: Kysely<Tables>, sqlite: Sqlite.Database): Promise<void> {
  const migrator = new Migrator({ db, provider: migrationProvider });
  const isDone = async () =>
    (await migrator.getMigrations()).every(({ executedAt }) => executedAt !== undefined);
  // Whoever makes them may be in this process: waiting within SQLite would keep it from going on.
  sqlite.pragma("busy_timeout = 0");
  for (let tries = 1; !(await isDone()); tries++) {
    try {
      await migrateAtOnce(migrator, sqlite);
    } catch (error) {
      const isBusy = error instanceof Error && "code" in error && error.code === "SQLITE_BUSY";
      if (!isBusy || tries === MIGRATION_TRIES) throw error;
      await pause(MIGRATION_PAUSE_MS);
    }
  }
  sqlite.pragma(`busy_timeout = ${BUSY_TIMEOUT_MS}`);
}

async function migrateAtOnce(migrator: Migrator, sqlite: Sqlite.Database): Promise<void> {
  sqlite.exec("BEGIN IMMEDIATE");
  try {
    const { error } = await migrator.migrateToLatest();
    if (error !== undefined) throw error;
    sqlite.exec("COMMIT");
  } catch (error) {
    if (sqlite.inTransaction) sqlite.exec("ROLLBACK");
    throw error;
  }
}

export function storeFailed(what: Said | string, cause: unknown): BobweightError {
  if (cause instanceof BobweightError) return cause;
  const why = cause instanceof Error ? cause.message : String(cause);
  const code = isAway(cause) ? "DATABASE_AWAY" : isDamage(cause) ? "STORE_DAMAGED" : "STORE_FAILED";
  return new BobweightError(code, said("{}: {}.", what, why), { cause });
}

function isDamage(cause: unknown): boolean {
  const code = cause instanceof Error && "code" in cause ? String(cause.code) : "";
  return /^SQLITE_(CORRUPT|NOTADB)/.test(code);
}
