// The store keeps what a run produced, as it was, across a reopening, and says so when it cannot.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { newKey } from "../../server/store/keys.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import {
  endDocument,
  holdDocument,
  RECORD_ID,
  runDocuments,
  startDocument,
} from "../sheet/fixture.ts";
import { codeOf, codeOfPromise } from "./codes.ts";

let folder: string;
let store: Store;
let nowMs = 0;
const clock = { nowMs: () => nowMs };
const text = (value: string) => new TextEncoder().encode(value);

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-store-"));
  nowMs = 0;
  store = await openStore(folder);
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

/** As after the death of the program: nothing that was only in memory is left. */
async function reopen(): Promise<void> {
  await store.close();
  store = await openStore(folder);
}

function write(documents: readonly RunDocument[]): void {
  const [start, ...rest] = documents as [StartDocument, ...RunDocument[]];
  const writer = store.begin(start, clock);
  for (const document of rest) {
    if (document.type === "end") writer.end(document);
    else if (document.type !== "start") writer.append(document);
  }
}

describe("a record", () => {
  it("comes back as it was written, after a reopening", async () => {
    write(runDocuments);
    await reopen();
    expect(await store.record(RECORD_ID)).toEqual({
      head: {
        id: RECORD_ID,
        startedUtc: "2031-03-14T09:26:53.000Z",
        unitDescription: "Four-cylinder unit, contacts, single capsule",
        stampedNumber: "BW 4101 A",
        rigName: "Stand-in rig",
        benchName: null,
        simulated: true,
        ownTarget: false,
        ending: "completed",
        verdict: "unproven",
      },
      documents: runDocuments,
    });
  });

  it("leaves live documents out", async () => {
    const writer = store.begin(startDocument, clock);
    writer.append({
      type: "live",
      runS: 1,
      speedRpm: 300,
      targetRpm: 300,
      advanceDeg: null,
      vacuumPa: null,
      targetPa: null,
      lobeDeviationsDeg: [],
    });
    writer.append(holdDocument);
    expect((await store.record(RECORD_ID)).documents).toEqual([startDocument, holdDocument]);
  });

  it("shows no ending where the program died, and keeps what came before", async () => {
    const writer = store.begin(startDocument, clock);
    writer.append(holdDocument);
    await reopen();
    const { head, documents } = await store.record(RECORD_ID);
    expect([head.ending, head.verdict]).toEqual([null, null]);
    expect(documents).toEqual([startDocument, holdDocument]);
  });

  it("is refused by its own code where there is none", async () => {
    expect(await codeOfPromise(store.record("no such id"))).toBe("RECORD_UNKNOWN");
  });
});

describe("raw bytes", () => {
  it("come back in order, byte for byte", async () => {
    const writer = store.begin(startDocument, clock);
    const sent: number[] = [];
    for (let i = 0; i < 50; i++) {
      const bytes = Uint8Array.from({ length: 97 }, (_, j) => (i * 31 + j * 7) % 256);
      sent.push(...bytes);
      nowMs += 100;
      writer.raw(bytes);
    }
    writer.end(endDocument);
    await reopen();
    expect([...(await store.rawLines(RECORD_ID))]).toEqual(sent);
  });

  it("are on disk within a second of the run's clock", async () => {
    const writer = store.begin(startDocument, clock);
    for (const line of ["a", "b", "c"]) {
      writer.raw(text(line));
      nowMs += 450;
    }
    writer.raw(text("lost with the program"));
    await reopen();
    expect(new TextDecoder().decode(await store.rawLines(RECORD_ID))).toBe("abc");
  });
});

describe("the list of records", () => {
  it("is newest first and pages by the last id seen", async () => {
    const ids = [1, 2, 3, 4].map(() => newKey());
    for (const recordId of ids) write([{ ...startDocument, recordId }]);
    const [first, second, third, fourth] = ids;
    const page = (await store.heads({ limit: 2, before: null })).map(({ id }) => id);
    expect(page).toEqual([fourth, third]);
    const next = (await store.heads({ limit: 5, before: third as string })).map(({ id }) => id);
    expect(next).toEqual([second, first]);
  });
});

describe("units on file", () => {
  it("keep their text as given, newest first; the same text twice is one", async () => {
    const first = await store.units.add('{ "a": 1.50 }');
    const second = await store.units.add('{ "b": 2 }');
    expect(await store.units.add('{ "a": 1.50 }')).toBe(first);
    await reopen();
    expect((await store.units.current()).map(({ id, fileText }) => [id, fileText])).toEqual([
      [second, '{ "b": 2 }'],
      [first, '{ "a": 1.50 }'],
    ]);
  });
});

describe("a failed write", () => {
  it("is STORE_FAILED with its cause, for the start, an append and the end", async () => {
    const writer = store.begin(startDocument, clock);
    expect(codeOf(() => store.begin(startDocument, clock))).toBe("STORE_FAILED");
    writer.end(endDocument);
    expect(codeOf(() => writer.append(holdDocument))).toBe("STORE_FAILED");
    expect(codeOf(() => writer.end(endDocument))).toBe("STORE_FAILED");
    expect((await store.record(RECORD_ID)).documents).toEqual([startDocument, endDocument]);
  });

  it("is STORE_FAILED where the folder is a file, naming it", async () => {
    const path = join(folder, "occupied");
    writeFileSync(path, "");
    await expect(openStore(path)).rejects.toMatchObject({
      code: "STORE_FAILED",
      message: expect.stringContaining(path),
      cause: expect.any(Error),
    });
  });
});
