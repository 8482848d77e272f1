// All of a store from one database into another: in one transaction, and held against it by a digest of each table.

import { createHash } from "node:crypto";
import { type Kysely, sql } from "kysely";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { Asked, Tabled } from "./asked.ts";
import { guard } from "./guard.ts";
import { TABLES } from "./rescue.ts";
import type { Tables } from "./tables.ts";
import { hashValue } from "./wholeRecord.ts";

/** By which rows are told apart, and read in their order: by bytes, so that both databases have the same. */
const KEYS: Readonly<Record<keyof Tables, readonly string[]>> = {
  records: ["id"],
  documents: ["record_id", "sequence"],
  raw_chunks: ["record_id", "sequence"],
  endings: ["record_id"],
  units: ["id"],
  jobs: ["id"],
  job_states: ["job_id", "sequence"],
  job_photos: ["id"],
  job_records: ["record_id"],
  kept_texts: ["id"],
  record_notes: ["id"],
  archived_records: ["record_id"],
};

/** Few enough of pictures and raw lines to be held in memory. */
const ROWS_AT_ONCE = 100;

export interface Moved {
  readonly rows: Readonly<Record<keyof Tables, number>>;
  /** All of it was in the target before. */
  readonly wasThere: boolean;
}

type Row = Readonly<Record<string, unknown>>;

/** The source stays as it is. @throws USAGE where the target has other rows, STORE_FAILED, DATABASE_AWAY */
export function moveStore(from: Asked, to: Asked): Promise<Moved> {
  return guard(said("the store cannot be moved"), () =>
    from.atomically((source) => to.atomically((target) => moveAll(source, target))),
  );
}

async function moveAll(source: Tabled, target: Tabled): Promise<Moved> {
  const before = await digestsOf(target);
  const wanted = await digestsOf(source);
  const rows = Object.fromEntries(
    TABLES.map((table) => [table, wanted[table].rows]),
  ) as Moved["rows"];
  if (TABLES.every((table) => before[table].sha256 === wanted[table].sha256)) {
    return { rows, wasThere: true };
  }
  if (TABLES.some((table) => before[table].rows > 0)) {
    throw new BobweightError("USAGE", said("The target is not empty, and has other rows."));
  }
  for (const table of TABLES) {
    for await (const page of pagesOf(source, table)) {
      await target
        .insertInto(table)
        .values(page as never)
        .execute();
    }
  }
  const now = await digestsOf(target);
  const other = TABLES.find((table) => now[table].sha256 !== wanted[table].sha256);
  if (other === undefined) return { rows, wasThere: false };
  throw new BobweightError("STORE_FAILED", said("its table {} is not what was copied", other));
}

interface Digest {
  readonly rows: number;
  readonly sha256: string;
}

async function digestsOf(db: Tabled): Promise<Readonly<Record<keyof Tables, Digest>>> {
  const digests = {} as Record<keyof Tables, Digest>;
  for (const table of TABLES) {
    const hash = createHash("sha256");
    let rows = 0;
    for await (const page of pagesOf(db, table)) {
      rows += page.length;
      for (const row of page) {
        for (const name of Object.keys(row).sort()) hashValue(hash, name, row[name]);
        hash.update("\n");
      }
    }
    digests[table] = { rows, sha256: hash.digest("hex") };
  }
  return digests;
}

async function* pagesOf(db: Tabled, table: keyof Tables): AsyncGenerator<readonly Row[]> {
  const keys = KEYS[table];
  const tuple = sql.join(keys.map((key) => sql.ref(key)));
  let last: Row | null = null;
  for (;;) {
    let query = (db as unknown as Kysely<Record<string, Row>>)
      .selectFrom(table)
      .selectAll()
      .limit(ROWS_AT_ONCE);
    for (const key of keys) query = query.orderBy(key);
    if (last !== null) {
      const values = sql.join(keys.map((key) => (last as Row)[key]));
      query = query.where(sql<boolean>`(${tuple}) > (${values})`);
    }
    const page: readonly Row[] = await query.execute();
    if (page.length === 0) return;
    yield page;
    last = page.at(-1) as Row;
  }
}
