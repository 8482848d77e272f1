// A run writes at once, whatever else is being written: nothing of its own is lost, and the other is done over.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { Database } from "../../server/store/database.ts";
import { Store } from "../../server/store/store.ts";
import { holdDocument, RECORD_ID, startDocument } from "../sheet/fixture.ts";
import { BENCH } from "./benches.ts";

let folder: string;
let database: Database;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-interrupted-"));
  database = await Database.open(folder);
  store = new Store({ file: database, asked: database, outbox: null, bench: BENCH });
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

const unit = (id: string) => ({ id, added_utc: "", file_text: id, replaces_id: null });

it("takes an open transaction back, which then comes whole", async () => {
  const writer = store.begin(startDocument, { nowMs: () => 0 });
  let tries = 0;
  const other = await Database.open(folder);
  await database.atomically(async (db) => {
    tries++;
    await db.insertInto("units").values(unit("one")).execute();
    if (tries === 1) {
      writer.append(holdDocument);
      // On disk at once, for whoever looks from outside, and nothing of the transaction with it.
      expect(await other.db.selectFrom("documents").selectAll().execute()).toHaveLength(1);
      expect(await other.db.selectFrom("units").selectAll().execute()).toEqual([]);
    }
    await db.insertInto("units").values(unit("two")).execute();
  });
  expect(tries).toBe(2);
  expect((await store.units.current()).map(({ id }) => id)).toEqual(["two", "one"]);
  expect((await store.record(RECORD_ID)).documents).toHaveLength(2);
  await other.close();
});

it("writes that come after the interruption are none of the transaction's", async () => {
  const writer = store.begin(startDocument, { nowMs: () => 0 });
  const failing = database.atomically(async (db) => {
    writer.append(holdDocument);
    await db
      .insertInto("units")
      .values(unit("never"))
      .execute()
      .catch(() => {});
    throw new Error("given up");
  });
  await expect(failing).rejects.toThrow("given up");
  expect(await store.units.current()).toEqual([]);
  expect((await store.record(RECORD_ID)).documents).toHaveLength(2);
});

it("waits for its turn like any other where two transactions are asked for at once", async () => {
  await Promise.all(
    ["a", "b", "c"].map((id) =>
      database.atomically(async (db) => {
        const { count } = await db
          .selectFrom("units")
          .select(({ fn }) => fn.countAll<number>().as("count"))
          .executeTakeFirstOrThrow();
        await db
          .insertInto("units")
          .values(unit(`${count} ${id}`))
          .execute();
      }),
    ),
  );
  expect((await store.units.current()).map(({ id }) => id.slice(0, 1))).toEqual(["2", "1", "0"]);
});
