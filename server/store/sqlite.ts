// SQLite in the build that this Node can run.
/// <reference path="./better-sqlite3-node22.d.ts" />
import type Sqlite from "better-sqlite3";

/** First major version of Node that the newer build runs under; it takes older ones down. */
const NEWER_BUILD_SINCE = 22;

/** Both builds are the same package with the same API. The older one aborts under Node 24.19 and newer. */
export async function loadSqlite(): Promise<typeof Sqlite> {
  const major = Number(process.versions.node.split(".")[0]);
  const loaded =
    major >= NEWER_BUILD_SINCE
      ? await import("better-sqlite3-node22")
      : await import("better-sqlite3");
  return loaded.default;
}
