// The store where the disk lets it down: full, damaged; and a folder that another server has.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { sql } from "kysely";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { DATABASE_FILE, Database } from "../../server/store/database.ts";
import { holdFolder } from "../../server/store/hold.ts";
import { newKey } from "../../server/store/keys.ts";
import { rescueStore } from "../../server/store/rescue.ts";
import { loadSqlite } from "../../server/store/sqlite.ts";
import { openStore, Store } from "../../server/store/store.ts";
import { endDocument, holdDocument, RECORD_ID, startDocument } from "../sheet/fixture.ts";
import { BENCH } from "./benches.ts";
import { codeOf, codeOfPromise } from "./codes.ts";

let folder: string;
const clock = { nowMs: () => 0 };
const path = () => join(folder, DATABASE_FILE);

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-trouble-"));
});

afterEach(() => rmSync(folder, { recursive: true }));

const LINES = new TextEncoder().encode("t 1 2 3\n".repeat(400));

/** So many records, each with its documents, raw lines and end. */
async function fill(records: number): Promise<string[]> {
  const store = await openStore(folder);
  const ids = Array.from({ length: records }, () => newKey());
  for (const recordId of ids) {
    const writer = store.begin({ ...startDocument, recordId }, clock);
    for (let i = 0; i < 20; i++) writer.append(holdDocument);
    writer.raw(LINES);
    writer.end(endDocument);
  }
  await store.close();
  return ids;
}

async function thereOf(store: Store, ids: readonly string[]): Promise<string[]> {
  const there: string[] = [];
  for (const id of ids) if (await store.hasRecord(id)) there.push(id);
  return there;
}

describe("a full disk", () => {
  it("is told at the document that had no room, and nothing acknowledged is lost", async () => {
    const database = await Database.open(folder);
    const pragma = async (text: string) =>
      (await sql.raw<Record<string, number>>(`PRAGMA ${text}`).execute(database.db)).rows;
    const pages = Number(Object.values((await pragma("page_count"))[0] ?? {})[0]);
    await pragma(`max_page_count = ${pages + 40}`);
    const store = new Store({ file: database, asked: database, outbox: null, bench: BENCH });
    const writer = store.begin(startDocument, clock);
    let kept = 0;
    const fillUp = () => {
      for (; kept < 1000; kept++) writer.append(holdDocument);
    };
    expect(codeOf(fillUp)).toBe("STORE_FAILED");
    expect(kept).toBeGreaterThan(20);
    // The store goes on answering, and what has room is taken again.
    expect((await store.record(RECORD_ID)).documents).toHaveLength(1 + kept);
    await store.close();
    const again = await openStore(folder);
    await again.checkWhole();
    expect((await again.record(RECORD_ID)).documents).toHaveLength(1 + kept);
    await again.close();
  });
});

describe("a damaged database", () => {
  const bytesOf = () => readFileSync(path());
  const SHORT = 16;

  it("is named for what it is, whether it is no database or broken off", async () => {
    await fill(3);
    const whole = bytesOf();
    writeFileSync(path(), "not a database, but long enough to look at".repeat(100));
    expect(await codeOfPromise(openStore(folder))).toBe("STORE_DAMAGED");
    writeFileSync(path(), whole.subarray(0, whole.length - 4096 * 4));
    const store = await openStore(folder).catch(() => null);
    if (store === null) return;
    expect(await codeOfPromise(store.checkWhole())).toBe("STORE_DAMAGED");
    await store.close();
  });

  it("gives what can be read of it to a new file, and stays beside it as it was", async () => {
    const ids = await fill(16);
    const damaged = bytesOf();
    const pageBytes = damaged.readUInt16BE(SHORT);
    // A page in the middle, all of it.
    const at = Math.floor(damaged.length / pageBytes / 2) * pageBytes;
    damaged.fill(0xa5, at, at + pageBytes);
    writeFileSync(path(), damaged);
    const store = await openStore(folder);
    expect(await codeOfPromise(store.checkWhole())).toBe("STORE_DAMAGED");
    await store.close();
    const before = bytesOf();
    const { keptAs, carried, lost } = await rescueStore(folder);
    expect(readFileSync(keptAs)).toEqual(before);
    const rescued = await openStore(folder);
    await rescued.checkWhole();
    const there = await thereOf(rescued, ids);
    expect(there).toHaveLength(carried.records);
    expect(there.length).toBeGreaterThan(ids.length / 2);
    const read = await Promise.all(there.map((id) => rescued.record(id)));
    const whole = read.filter(
      ({ documents }) => documents.length === 22 && documents.at(-1)?.type === "end",
    );
    expect(whole.length).toBeGreaterThan(ids.length / 2);
    expect(lost + (ids.length - there.length)).toBeGreaterThan(0);
    await rescued.close();
    expect(readdirSync(folder).filter((name) => name.startsWith("rescue-"))).toEqual([]);
  });

  it("comes out of a rescue whole, or as it was, whatever bytes were changed", async () => {
    const ids = await fill(12);
    const whole = bytesOf();
    const written = JSON.stringify(holdDocument);
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(255)), {
          minLength: 1,
          maxLength: 200,
        }),
        async (flips) => {
          for (const name of readdirSync(folder)) rmSync(join(folder, name));
          const bytes = Buffer.from(whole);
          for (const [place, value] of flips)
            bytes[4096 + Math.floor(place * (bytes.length - 4097))] = value;
          writeFileSync(path(), bytes);
          const outcome = await rescueStore(folder).catch((error) => error);
          if (outcome instanceof Error) {
            expect(outcome).toMatchObject({ code: "STORE_DAMAGED" });
            expect(bytesOf()).toEqual(bytes);
            return;
          }
          const rescued = await openStore(folder);
          await rescued.checkWhole();
          const head = await rescued.heads({ limit: 100, before: null });
          expect(head.length).toBe(outcome.carried.records);
          for (const id of await thereOf(rescued, ids)) {
            for (const document of (await rescued.record(id)).documents) {
              // A digit that became another is still JSON: SQLite cannot tell, and neither can we.
              if (document.type === "hold")
                expect(JSON.stringify(document)).toHaveLength(written.length);
            }
          }
          await rescued.close();
        },
      ),
      { numRuns: 15 },
    );
  });

  it("says of which record raw lines are missing, and does not pass them off as whole", async () => {
    const store = await openStore(folder);
    let nowMs = 0;
    const writer = store.begin(startDocument, { nowMs: () => nowMs });
    for (let i = 0; i < 6; i++) {
      writer.raw(LINES);
      nowMs += 1000;
    }
    writer.end(endDocument);
    await store.close();
    const other = new (await loadSqlite())(path());
    other.exec("DROP TRIGGER raw_chunks_no_update");
    other.exec("UPDATE raw_chunks SET bytes = x'00' WHERE sequence = 1");
    other.close();
    expect(await rescueStore(folder)).toMatchObject({ lost: 1, incomplete: [RECORD_ID] });
    const rescued = await openStore(folder);
    expect(await codeOfPromise(rescued.rawLines(RECORD_ID))).toBe("RECORD_INCOMPLETE");
    await rescued.close();
  });
});

describe("a folder that a server has", () => {
  it("is refused to a second one, and free again when the first is gone", async () => {
    const first = await holdFolder(folder);
    expect(await codeOfPromise(holdFolder(folder))).toBe("FOLDER_SERVED");
    expect(await codeOfPromise(rescueStore(folder))).toBe("FOLDER_SERVED");
    first.release();
    (await holdFolder(folder)).release();
  });
});
