// The store's tests on both databases: a file in a data folder, and a PostgreSQL server of the tests' own.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach } from "vitest";
import { Cluster } from "../../bench/cluster.ts";
import { openStore, type Store } from "../../server/store/store.ts";

export const BOTH = ["SQLite", "PostgreSQL"] as const;
export type DatabaseKind = (typeof BOTH)[number];

export interface Opened {
  readonly folder: string;
  readonly databaseUrl: string | null;
  store: Store;
}

/** For the tests of a `describe`: a new store before each, closed after it. */
export function opensOn(kind: DatabaseKind): Opened {
  const opened = {} as { folder: string; databaseUrl: string | null; store: Store };
  let cluster: Cluster | null = null;
  beforeAll(async () => {
    if (kind === "PostgreSQL") cluster = await Cluster.start();
  }, 60_000);
  beforeEach(async () => {
    opened.folder = mkdtempSync(join(tmpdir(), "bobweight-both-"));
    opened.databaseUrl = (await cluster?.newDatabase()) ?? null;
    opened.store = await openStore(opened.folder, opened.databaseUrl);
  });
  afterEach(async () => {
    await opened.store.close();
    rmSync(opened.folder, { recursive: true });
  });
  afterAll(() => cluster?.end());
  return opened;
}
