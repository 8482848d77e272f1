// What can still be read of a damaged store, carried into a new file; the damaged one stays beside it.

import { copyFileSync, existsSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import type Sqlite from "better-sqlite3";
import { said } from "../../core/said.ts";
import { DATABASE_FILE, Database, storeFailed, syncFile, syncFolder } from "./database.ts";
import { holdFolder } from "./hold.ts";
import { loadSqlite } from "./sqlite.ts";
import type { Tables } from "./tables.ts";

/** In an order in which every row finds what it refers to. */
export const TABLES = [
  "records",
  "documents",
  "raw_chunks",
  "endings",
  "units",
  "jobs",
  "job_states",
  "job_photos",
  "job_records",
  "kept_texts",
  "record_notes",
  "archived_records",
] as const satisfies readonly (keyof Tables)[];

/** A row that refers to one of its own table that is lost stays without it. */
const EARLIER: Partial<Record<keyof Tables, string>> = {
  records: "after_record_id",
  units: "replaces_id",
};

export interface Rescue {
  /** Name, in the same folder, of the damaged file as it was. */
  readonly keptAs: string;
  readonly carried: Readonly<Record<keyof Tables, number>>;
  /** Rows that are there and could not be read, or make no sense; what left no trace is not counted. */
  readonly lost: number;
  /** Records of which documents or raw lines are missing between others. */
  readonly incomplete: readonly string[];
}

/**
 * Puts a new file with all that can be read in the place of the damaged one.
 * @throws FOLDER_SERVED, STORE_FAILED, STORE_DAMAGED where not even the list of tables can be read; nothing was
 * changed then
 */
export async function rescueStore(folder: string): Promise<Rescue> {
  const hold = await holdFolder(folder);
  const work = mkdtempSync(join(folder, "rescue-"));
  try {
    const path = join(folder, DATABASE_FILE);
    const copy = join(work, "damaged");
    for (const part of ["", "-wal"]) {
      if (existsSync(path + part)) copyFileSync(path + part, copy + part);
    }
    const found = await carryOver(copy, work);
    return { keptAs: exchange(path, join(work, DATABASE_FILE)), ...found };
  } catch (cause) {
    throw storeFailed(said("the store in {} cannot be rescued", folder), cause);
  } finally {
    rmSync(work, { recursive: true, force: true });
    hold.release();
  }
}

async function carryOver(copy: string, into: string): Promise<Omit<Rescue, "keptAs">> {
  const SqliteDatabase = await loadSqlite();
  await (await Database.open(into)).close();
  const damaged = new SqliteDatabase(copy, { fileMustExist: true });
  damaged.pragma("cell_size_check = ON");
  const target = new SqliteDatabase(join(into, DATABASE_FILE));
  try {
    target.pragma("foreign_keys = ON");
    const carried = Object.fromEntries(TABLES.map((table) => [table, 0])) as Record<
      keyof Tables,
      number
    >;
    let lost = 0;
    target.transaction(() => {
      for (const table of TABLES) {
        const insert = inserter(target, table);
        for (const row of readableRows(damaged, table)) {
          if (row !== null && insert(row)) carried[table]++;
          else lost++;
        }
      }
    })();
    return { carried, lost, incomplete: recordsWithGaps(target) };
  } finally {
    damaged.close();
    // Closing puts the log into the file, which goes alone into the place of the other.
    target.close();
  }
}

type Row = Readonly<Record<string, unknown>>;

/** Every row of a table that the file has; null in the place of one that is there and cannot be read. */
function* readableRows(damaged: Sqlite.Database, table: string): Generator<Row | null> {
  const isThere = damaged.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?");
  if (isThere.get(table) === undefined) return;
  const one = damaged.prepare(`SELECT * FROM ${table} WHERE rowid = ?`);
  const last = lastRowid(damaged, table);
  for (let rowid = 1; rowid <= last; rowid++) {
    try {
      const row = one.get(rowid) as Row | undefined;
      if (row !== undefined) yield row;
    } catch {
      yield null;
    }
  }
}

/** Every row has a key of 36 characters, and rowids are given in turn. */
const ROW_BYTES_MIN = 36;

function lastRowid(damaged: Sqlite.Database, table: string): number {
  try {
    return Number(damaged.prepare(`SELECT max(rowid) FROM ${table}`).pluck().get());
  } catch {
    const pages = Number(damaged.pragma("page_count", { simple: true }));
    return (pages * Number(damaged.pragma("page_size", { simple: true }))) / ROW_BYTES_MIN;
  }
}

/** Says of each row whether it was taken. */
function inserter(target: Sqlite.Database, table: keyof Tables): (row: Row) => boolean {
  const columns = (target.pragma(`table_info(${table})`) as { name: string }[]).map(
    ({ name }) => name,
  );
  const statement = target.prepare(
    `INSERT INTO ${table} (${columns.join(", ")}) VALUES (${columns.map(() => "?").join(", ")})`,
  );
  const attempt = (row: Row): boolean => {
    try {
      // A file of an older version lacks columns that came later.
      statement.run(...columns.map((name) => row[name] ?? null));
      return true;
    } catch {
      return false;
    }
  };
  const earlier = EARLIER[table];
  return (row) => {
    if (!makesSense(row)) return false;
    return attempt(row) || (earlier !== undefined && attempt({ ...row, [earlier]: null }));
  };
}

/** SQLite keeps no digests: a byte that flipped within a text is found by what the text should be. */
function makesSense(row: Row): boolean {
  try {
    for (const [name, value] of Object.entries(row)) {
      if (name.endsWith("_json")) JSON.parse(value as string);
    }
    if (row.sequence !== undefined && row.bytes !== undefined) inflateSync(row.bytes as Buffer);
    return true;
  } catch {
    return false;
  }
}

function recordsWithGaps(target: Sqlite.Database): string[] {
  const gaps = (table: string) =>
    `SELECT record_id FROM ${table} GROUP BY record_id HAVING count(*) <> max(sequence) + 1`;
  return target
    .prepare(`${gaps("documents")} UNION ${gaps("raw_chunks")} ORDER BY 1`)
    .pluck()
    .all() as string[];
}

/** The damaged file is whole under its new name before the new one takes its place. */
function exchange(path: string, rescued: string): string {
  const stamp = new Date().toISOString().slice(0, 19).replace(/[T:]/g, "-");
  const kept = `${path}.damaged-${stamp}`;
  for (const part of ["", "-wal"]) {
    if (!existsSync(path + part)) continue;
    copyFileSync(path + part, kept + part);
    syncFile(kept + part);
  }
  syncFile(rescued);
  // The log of the one must never be read into the other.
  for (const part of ["-wal", "-shm"]) rmSync(path + part, { force: true });
  renameSync(rescued, path);
  syncFolder(join(path, ".."));
  return kept;
}
