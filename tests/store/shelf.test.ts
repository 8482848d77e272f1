// Records on the shelf: found again, noted on, archived, and set in a row by unit, while they stay as they are.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { EndDocument } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { RecordSearch } from "../../core/records/listed.ts";
import { newKey } from "../../server/store/keys.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { endDocument, inventedUnit, startDocument } from "../sheet/fixture.ts";
import { codeOfPromise } from "./codes.ts";

let folder: string;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-shelf-"));
  store = await openStore(folder);
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

interface Kept {
  readonly description?: string;
  readonly stampedNumber?: string | null;
  readonly startedUtc?: string;
  readonly simulated?: boolean;
  readonly verdict?: EndDocument["result"]["verdict"];
  readonly isEnded?: boolean;
}

function keep(kept: Kept = {}): string {
  const { description = "A unit", stampedNumber = "BW 1", simulated = true } = kept;
  const start = {
    ...startDocument,
    recordId: newKey(),
    startedUtc: kept.startedUtc ?? startDocument.startedUtc,
    unit: { ...inventedUnit, description, stampedNumber },
    rig: { ...startDocument.rig, simulated },
  };
  const writer = store.begin(start, { nowMs: () => 0 });
  const result = { ...endDocument.result, verdict: kept.verdict ?? null };
  if (kept.isEnded !== false) writer.end({ ...endDocument, result });
  return start.recordId;
}

const ANY: RecordSearch = {
  text: "",
  verdict: "any",
  kind: "any",
  fromUtc: null,
  toUtc: null,
  isArchived: false,
};

async function found(search: Partial<RecordSearch> = {}): Promise<string[]> {
  return (await store.shelf.list({ ...ANY, ...search }, { limit: 50, before: null })).records.map(
    ({ id }) => id,
  );
}

describe("the list", () => {
  it("finds by words over unit, stamped number and job number, however they are written", async () => {
    const four = keep({ description: "Vierzylinder, Müller", stampedNumber: "BW 4101 A" });
    const six = keep({ description: "Six-cylinder unit", stampedNumber: null });
    await store.jobs.attach(await store.jobs.add({ ...EMPTY_CARD, number: "2031-007" }), six);
    expect(await found()).toEqual([six, four]);
    expect(await found({ text: "muller 4101" })).toEqual([four]);
    expect(await found({ text: "2031-007" })).toEqual([six]);
    expect(await found({ text: "muller 2031-007" })).toEqual([]);
    expect((await store.shelf.list(ANY, { limit: 1, before: null })).records[0]).toMatchObject({
      id: six,
      jobNumber: "2031-007",
    });
  });

  it("finds by verdict, by kind and by time", async () => {
    const may = keep({ startedUtc: "2031-05-01T08:00:00.000Z", verdict: "within" });
    const june = keep({ startedUtc: "2031-06-01T08:00:00.000Z", simulated: false });
    const died = keep({ startedUtc: "2031-07-01T08:00:00.000Z", isEnded: false });
    expect(await found({ verdict: "within" })).toEqual([may]);
    expect(await found({ verdict: "outside" })).toEqual([]);
    expect(await found({ verdict: "none" })).toEqual([died, june]);
    expect(await found({ kind: "real" })).toEqual([june]);
    expect(await found({ kind: "simulated" })).toEqual([died, may]);
    expect(await found({ fromUtc: "2031-06-01T08:00:00.000Z" })).toEqual([died, june]);
    expect(await found({ toUtc: "2031-06-01T08:00:00.000Z" })).toEqual([may]);
  });

  it("goes on page by page without losing or doubling one, whatever is left out between", async () => {
    const wanted: string[] = [];
    for (let i = 0; i < 260; i++) {
      const id = keep({ simulated: i % 3 !== 0, isEnded: false });
      if (i % 3 === 0) wanted.unshift(id);
    }
    const paged: string[] = [];
    let before: string | null = null;
    do {
      const page = await store.shelf.list({ ...ANY, kind: "real" }, { limit: 40, before });
      expect(page.records.length).toBeLessThanOrEqual(40);
      paged.push(...page.records.map(({ id }) => id));
      before = page.before;
    } while (before !== null);
    expect(paged).toEqual(wanted);
  });
});

describe("the archive", () => {
  it("hides a record from the list, and brings it back, the record as it was", async () => {
    const id = keep();
    const before = JSON.stringify(await store.record(id));
    await store.shelf.archive(id, true);
    await store.shelf.archive(id, true);
    expect([await found(), await found({ isArchived: true })]).toEqual([[], [id]]);
    expect(JSON.stringify(await store.record(id))).toBe(before);
    await store.shelf.archive(id, false);
    expect([await found(), await found({ isArchived: true })]).toEqual([[id], []]);
    expect(await codeOfPromise(store.shelf.archive(newKey(), true))).toBe("RECORD_UNKNOWN");
  });
});

describe("notes", () => {
  it("stay with their date, are taken back and put back, and never touch the record", async () => {
    const id = keep();
    const before = JSON.stringify(await store.record(id));
    await store.shelf.addNote(id, "Bush replaced after this.");
    await store.shelf.addNote(id, "Owner told.");
    const [first, second] = (await store.shelf.notes(id)).notes;
    expect(first?.writtenUtc).toMatch(/^20\d\d-/);
    await store.shelf.takeNoteBack(id, second?.id ?? "", true);
    expect(
      (await store.shelf.notes(id)).notes.map(({ text, isTakenBack }) => [text, isTakenBack]),
    ).toEqual([
      ["Bush replaced after this.", false],
      ["Owner told.", true],
    ]);
    expect((await store.shelf.list(ANY, { limit: 1, before: null })).records[0]?.noteCount).toBe(1);
    await store.shelf.takeNoteBack(id, second?.id ?? "", false);
    expect((await store.shelf.notes(id)).notes[1]?.isTakenBack).toBe(false);
    expect(JSON.stringify(await store.record(id))).toBe(before);
  });

  it("are refused where there is no such record or note", async () => {
    const id = keep();
    const other = keep();
    await store.shelf.addNote(other, "of the other");
    const [note] = (await store.shelf.notes(other)).notes;
    expect(await codeOfPromise(store.shelf.addNote(newKey(), "x"))).toBe("RECORD_UNKNOWN");
    expect(await codeOfPromise(store.shelf.takeNoteBack(id, note?.id ?? "", true))).toBe(
      "RECORD_NOTE_REFUSED",
    );
    expect((await store.shelf.notes(other)).notes[0]?.isTakenBack).toBe(false);
  });
});

describe("the history of a unit", () => {
  it("has every record of the same description and stamped number, the oldest first", async () => {
    const first = keep({ stampedNumber: null });
    keep({ stampedNumber: "BW 1" });
    keep({ description: "Another unit", stampedNumber: null });
    const last = keep({ stampedNumber: null, isEnded: false });
    await store.shelf.archive(first, true);
    const history = await store.shelf.history(first);
    expect(history.map(({ id, isArchived }) => [id, isArchived])).toEqual([
      [first, true],
      [last, false],
    ]);
    expect(history[0]?.largest).toMatchObject({ advanceDeg: 13.64, branch: "rising" });
    expect(history[1]?.largest).toBeNull();
    expect(await codeOfPromise(store.shelf.history(newKey()))).toBe("RECORD_UNKNOWN");
  });
});
