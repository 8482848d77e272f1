// A child process whose every write is noted: `node session.js FOLDER JOB`. Opens, fills and closes a store, twice;
// every other job begins with the tables of an older version.
import { appendFileSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { Kysely, Migrator, SqliteDialect } from "kysely";
import { Draw } from "../../accuracy/draw.ts";
import { DATABASE_FILE, syncFolder } from "../../server/store/database.ts";
import { migrationProvider } from "../../server/store/migrations.ts";
import { loadSqlite } from "../../server/store/sqlite.ts";
import { openStore } from "../../server/store/store.ts";
import type { Acknowledged } from "./acknowledged.ts";
import { beginningOf, DATA_FOLDER, SAID_FILE } from "./places.ts";
import { writeRecord, writeText } from "./writing.ts";

const [folder = "", job = ""] = process.argv.slice(2);
const data = join(folder, DATA_FOLDER);
const draw = new Draw("session", Number(job));

function acknowledge(one: Acknowledged): void {
  appendFileSync(join(folder, SAID_FILE), `${JSON.stringify(one)}\n`);
}

/** The first with the table of kept texts, in which something can be looked for. */
const OLDER_STEP = "0004-kept-texts";

async function makeOlder(): Promise<void> {
  mkdirSync(data);
  syncFolder(folder);
  const sqlite = new (await loadSqlite())(join(data, DATABASE_FILE));
  sqlite.pragma("journal_mode = WAL");
  sqlite.pragma("synchronous = FULL");
  const db = new Kysely({ dialect: new SqliteDialect({ database: sqlite }) });
  const { error } = await new Migrator({ db, provider: migrationProvider }).migrateTo(OLDER_STEP);
  if (error !== undefined) throw error;
  sqlite.pragma("synchronous = FULL");
  const one = { what: "text", name: "older", content: "kept by an older version" } as const;
  sqlite.prepare("INSERT INTO kept_texts VALUES ('1', ?, '', ?)").run(one.name, one.content);
  acknowledge(one);
  await db.destroy();
}

if (beginningOf(Number(job)) === "older") await makeOlder();
for (let round = 0; round < 2; round++) {
  const store = await openStore(data);
  const writing = { store, draw, acknowledge, pause: () => Promise.resolve() };
  await writeRecord(writing);
  await writeText(writing);
  await store.close();
}
