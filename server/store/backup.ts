// The whole data folder as one file, and back: copied while it is in use, and proved before it counts.
//
// The file is itself a SQLite database: the store's tables, the folder's other files as rows, and for each
// table a digest of its rows, by which a copy is held against what was copied.

import { createHash } from "node:crypto";
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import type Sqlite from "better-sqlite3";
import type { BackupContents } from "../../core/backup.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Said, said } from "../../core/said.ts";
import { DATABASE_FILE } from "./database.ts";
import { guard } from "./guard.ts";
import { loadSqlite } from "./sqlite.ts";

const FILES = "backup_files";
const DIGESTS = "backup_digests";

/** Writes the backup of `folder` to `path`, where nothing may be yet. @throws USAGE, STORE_FAILED */
export async function writeBackup(folder: string, path: string): Promise<BackupContents> {
  if (existsSync(path)) throw new BobweightError("USAGE", `${path} is there already.`);
  const source = join(folder, DATABASE_FILE);
  if (!existsSync(source)) {
    throw new BobweightError("USAGE", `${folder} is no data folder: it has no ${DATABASE_FILE}.`);
  }
  const unproved = `${path}.unproved`;
  const Database = await loadSqlite();
  try {
    rmSync(unproved, { force: true });
    const from = new Database(source, { readonly: true });
    try {
      await from.backup(unproved);
    } finally {
      from.close();
    }
    await guard(said("the backup {} cannot be written", path), () => {
      const database = new Database(unproved);
      try {
        // One file alone: a log beside it would be left behind when it is carried off.
        database.pragma("journal_mode = DELETE");
        addFiles(database, folder);
        addDigests(database);
      } finally {
        database.close();
      }
    });
    const contents = await provedBackup(unproved);
    renameSync(unproved, path);
    return contents;
  } finally {
    rmSync(unproved, { force: true });
  }
}

/** Reads the whole backup and holds it against its digests. @throws BACKUP_BROKEN */
export async function provedBackup(path: string): Promise<BackupContents> {
  return opened(path, (database) => {
    prove(database, path);
    return contentsOf(database);
  });
}

/** Into a folder that has nothing in it yet, so that nothing is lost. @throws USAGE, BACKUP_BROKEN, STORE_FAILED */
export async function restoreBackup(path: string, folder: string): Promise<BackupContents> {
  if (existsSync(folder) && readdirSync(folder).length > 0) {
    throw new BobweightError("USAGE", `${folder} is not empty: name a new folder by --data.`);
  }
  const contents = await provedBackup(path);
  const Database = await loadSqlite();
  return guard(said("the backup cannot be restored to {}", folder), () => {
    mkdirSync(folder, { recursive: true });
    const target = join(folder, DATABASE_FILE);
    copyFileSync(path, target);
    const database = new Database(target);
    try {
      // Once more, of the copy.
      prove(database, target);
      for (const { name, bytes } of filesIn(database)) writeFileSync(join(folder, name), bytes);
      database.exec(`DROP TABLE ${FILES}; DROP TABLE ${DIGESTS}; VACUUM`);
    } finally {
      database.close();
    }
    return contents;
  });
}

async function opened<T>(path: string, read: (database: Sqlite.Database) => T): Promise<T> {
  const Database = await loadSqlite();
  let database: Sqlite.Database | null = null;
  try {
    database = new Database(path, { readonly: true, fileMustExist: true });
    return read(database);
  } catch (cause) {
    if (cause instanceof BobweightError) throw cause;
    throw broken(path, cause instanceof Error ? cause.message : String(cause), cause);
  } finally {
    database?.close();
  }
}

function prove(database: Sqlite.Database, path: string): void {
  const integrity = database.pragma("integrity_check", { simple: true });
  if (integrity !== "ok") throw broken(path, said("SQLite finds: {}", String(integrity)));
  const kept = database.prepare(`SELECT name, sha256 FROM ${DIGESTS}`).all() as Digest[];
  const digests = new Map(kept.map(({ name, sha256 }) => [name, sha256]));
  for (const name of [...tablesOf(database), ...digests.keys()]) {
    if (digests.get(name) !== digestOf(database, name)) {
      throw broken(path, said("its table {} is not what was copied", name));
    }
  }
}

interface Digest {
  readonly name: string;
  readonly sha256: string;
}

/** Every table but the digests themselves. */
function tablesOf(database: Sqlite.Database): string[] {
  const rows = database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .all() as { name: string }[];
  return rows.map(({ name }) => name).filter((name) => name !== DIGESTS);
}

/** SHA-256 over a table's rows in the order of their keys; of no table, that of no rows. */
function digestOf(database: Sqlite.Database, table: string): string {
  const hash = createHash("sha256");
  const quoted = `"${table.replaceAll('"', '""')}"`;
  const rows = database.prepare(`SELECT rowid, * FROM ${quoted} ORDER BY rowid`).raw();
  for (const row of rows.iterate() as IterableIterator<unknown[]>) {
    for (const value of row) {
      // Kind and length before each value, so that no two rows read alike.
      const bytes = Buffer.isBuffer(value) ? value : Buffer.from(String(value));
      hash.update(`${Buffer.isBuffer(value) ? "b" : typeof value}${bytes.length}:`);
      hash.update(bytes);
    }
    hash.update("\n");
  }
  return hash.digest("hex");
}

function addFiles(database: Sqlite.Database, folder: string): void {
  database.exec(`CREATE TABLE ${FILES} (name TEXT NOT NULL, bytes BLOB NOT NULL)`);
  const insert = database.prepare(`INSERT INTO ${FILES} VALUES (?, ?)`);
  const others = readdirSync(folder, { withFileTypes: true }).filter(
    (entry) => entry.isFile() && entry.name.endsWith(".json"),
  );
  for (const { name } of others) insert.run(name, readFileSync(join(folder, name)));
}

function addDigests(database: Sqlite.Database): void {
  database.exec(`CREATE TABLE ${DIGESTS} (name TEXT NOT NULL, sha256 TEXT NOT NULL)`);
  const insert = database.prepare(`INSERT INTO ${DIGESTS} VALUES (?, ?)`);
  for (const name of tablesOf(database)) insert.run(name, digestOf(database, name));
}

/** Of a file in the folder itself, on whichever system it was or will be. */
const PLAIN_NAME = /^[^/\\:\0]+\.json$/;

/** A name that would lead out of the folder is none of ours. */
function filesIn(database: Sqlite.Database): { name: string; bytes: Buffer }[] {
  const rows = database.prepare(`SELECT name, bytes FROM ${FILES} ORDER BY name`).all();
  return (rows as { name: string; bytes: Buffer }[]).filter(({ name }) => PLAIN_NAME.test(name));
}

function contentsOf(database: Sqlite.Database): BackupContents {
  const count = (table: string) =>
    tablesOf(database).includes(table)
      ? (database.prepare(`SELECT count(*) FROM ${table}`).pluck().get() as number)
      : 0;
  const files = filesIn(database).map(({ name }) => name);
  return { records: count("records"), jobs: count("jobs"), files };
}

function broken(path: string, what: Said | string, cause?: unknown): BobweightError {
  return new BobweightError("BACKUP_BROKEN", said("{} is no whole backup: {}.", path, what), {
    cause,
  });
}
