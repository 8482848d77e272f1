// One server a data folder: a second would control the same rig, and carry on jobs behind the first one's back.
// Commands may read and write the store beside a server, as SQLite lets them.

import { join } from "node:path";
import type Sqlite from "better-sqlite3";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import { storeFailed } from "./database.ts";
import { loadSqlite } from "./sqlite.ts";

const LOCK_FILE = "bobweight.serving";

/** A folder that is held; whatever becomes of the process, the system lets go. */
export interface Hold {
  release(): void;
}

/** @throws FOLDER_SERVED, STORE_FAILED */
export async function holdFolder(folder: string): Promise<Hold> {
  let lock: Sqlite.Database | null = null;
  try {
    // SQLite's own lock on a file with nothing in it: it is never stale, and the same on every system.
    lock = new (await loadSqlite())(join(folder, LOCK_FILE), { timeout: 0 });
    lock.exec("BEGIN EXCLUSIVE");
    const held = lock;
    return { release: () => held.close() };
  } catch (cause) {
    lock?.close();
    if (cause instanceof Error && "code" in cause && cause.code === "SQLITE_BUSY") {
      throw new BobweightError(
        "FOLDER_SERVED",
        said("Another Bobweight serves the folder {}.", folder),
        {
          cause,
        },
      );
    }
    throw storeFailed(said("the folder {} cannot be taken", folder), cause);
  }
}
