// A store moved from a folder into PostgreSQL and back: all of it, once, or nothing.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { Cluster } from "../../bench/cluster.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { Database } from "../../server/store/database.ts";
import { newKey } from "../../server/store/keys.ts";
import { moveStore } from "../../server/store/move.ts";
import { PostgresDatabase } from "../../server/store/postgres.ts";
import { Store } from "../../server/store/store.ts";
import { endDocument, holdDocument, startDocument } from "../sheet/fixture.ts";
import { BENCH } from "./benches.ts";
import { codeOfPromise } from "./codes.ts";

let cluster: Cluster;
let folder: string;
let url: string;
let file: Database;
let server: PostgresDatabase;

beforeAll(async () => {
  cluster = await Cluster.start();
}, 60_000);

afterAll(() => cluster.end());

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-move-"));
  file = await Database.open(folder);
  url = await cluster.newDatabase();
  server = new PostgresDatabase(url);
});

afterEach(async () => {
  await file.close();
  await server.close();
  rmSync(folder, { recursive: true });
});

/** Some of everything, and more rows of some than are read at once. */
async function fill(): Promise<void> {
  const store = new Store({ file, asked: file, outbox: null, bench: BENCH });
  let afterRecordId: string | null = null;
  for (let i = 0; i < 3; i++) {
    const recordId = newKey();
    const writer = store.begin({ ...startDocument, recordId, afterRecordId }, { nowMs: () => 0 });
    for (let document = 0; document < 90; document++) writer.append(holdDocument);
    writer.raw(Uint8Array.from({ length: 5000 }, (_, at) => (at * 7 + i) % 256));
    if (i < 2) writer.end(endDocument);
    afterRecordId = recordId;
  }
  const job = await store.jobs.add({ ...EMPTY_CARD, owner: "Jörg Müller \u{1f527}" });
  await store.jobs.attach(job, afterRecordId as string);
  await store.jobs.addPhoto(job, { name: "a", type: "image/png", bytes: Buffer.from([0, 255, 7]) });
  await store.units.add("two", await store.units.add("one"));
  await store.shelf.addNote(afterRecordId as string, "a note");
  await store.shelf.archive(afterRecordId as string, true);
  await store.keepText("drawer", "a,b\n");
}

it("goes there and back, row for row", async () => {
  await fill();
  const there = await moveStore(file, server);
  expect(there).toMatchObject({
    wasThere: false,
    rows: { records: 3, documents: 270, raw_chunks: 2, endings: 2, jobs: 1, units: 2 },
  });
  const other = mkdtempSync(join(tmpdir(), "bobweight-move-back-"));
  const back = await Database.open(other);
  expect(await moveStore(server, back)).toEqual(there);
  // And once more, which is held against what the first folder has.
  expect(await moveStore(back, server)).toEqual({ ...there, wasThere: true });
  expect(await moveStore(file, back)).toEqual({ ...there, wasThere: true });
  await back.close();
  rmSync(other, { recursive: true });
});

it("refuses a target that has other rows, and leaves it as it was", async () => {
  await fill();
  await server.db
    .insertInto("units")
    .values({ id: newKey(), added_utc: "", file_text: "another's", replaces_id: null })
    .execute();
  expect(await codeOfPromise(moveStore(file, server))).toBe("USAGE");
  expect(await cluster.query(url, "SELECT count(*)::int AS n FROM records")).toEqual([{ n: 0 }]);
});

it("keeps nothing where a row comes to be another on the way", async () => {
  await fill();
  await server.db.selectFrom("units").selectAll().execute();
  await cluster.query(
    url,
    `CREATE FUNCTION other() RETURNS trigger LANGUAGE plpgsql AS
     $$ BEGIN NEW.content = 'other'; RETURN NEW; END $$;
     CREATE TRIGGER other BEFORE INSERT ON kept_texts FOR EACH ROW EXECUTE FUNCTION other()`,
  );
  expect(await codeOfPromise(moveStore(file, server))).toBe("STORE_FAILED");
  expect(await cluster.query(url, "SELECT count(*)::int AS n FROM records")).toEqual([{ n: 0 }]);
});
