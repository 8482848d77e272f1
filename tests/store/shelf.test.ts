// Records on the shelf: found again, noted on, archived, and set in a row by unit, while they stay as they are.
import { describe, expect, it } from "vitest";
import type { EndDocument } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { RecordSearch } from "../../core/records/listed.ts";
import { newKey } from "../../server/store/keys.ts";
import { endDocument, inventedUnit, startDocument } from "../sheet/fixture.ts";
import { BOTH, opensOn } from "./both.ts";
import { codeOfPromise } from "./codes.ts";

describe.each(BOTH)("on %s", (kind) => {
  const opened = opensOn(kind);

  interface Kept {
    readonly description?: string;
    readonly stampedNumber?: string | null;
    readonly startedUtc?: string;
    readonly simulated?: boolean;
    readonly verdict?: EndDocument["result"]["verdict"];
    readonly isEnded?: boolean;
  }

  async function keep(kept: Kept = {}): Promise<string> {
    const { description = "A unit", stampedNumber = "BW 1", simulated = true } = kept;
    const start = {
      ...startDocument,
      recordId: newKey(),
      startedUtc: kept.startedUtc ?? startDocument.startedUtc,
      unit: { ...inventedUnit, description, stampedNumber },
      rig: { ...startDocument.rig, simulated },
    };
    const writer = opened.store.begin(start, { nowMs: () => 0 });
    const result = { ...endDocument.result, verdict: kept.verdict ?? null };
    if (kept.isEnded !== false) writer.end({ ...endDocument, result });
    await opened.store.handOver?.wake();
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
    return (
      await opened.store.shelf.list({ ...ANY, ...search }, { limit: 50, before: null })
    ).records.map(({ id }) => id);
  }

  describe("the list", () => {
    it("finds by words over unit, stamped number and job number, however they are written", async () => {
      const four = await keep({ description: "Vierzylinder, Müller", stampedNumber: "BW 4101 A" });
      const six = await keep({ description: "Six-cylinder unit", stampedNumber: null });
      await opened.store.jobs.attach(
        await opened.store.jobs.add({ ...EMPTY_CARD, number: "2031-007" }),
        six,
      );
      expect(await found()).toEqual([six, four]);
      expect(await found({ text: "muller 4101" })).toEqual([four]);
      expect(await found({ text: "2031-007" })).toEqual([six]);
      expect(await found({ text: "muller 2031-007" })).toEqual([]);
      expect(
        (await opened.store.shelf.list(ANY, { limit: 1, before: null })).records[0],
      ).toMatchObject({
        id: six,
        jobNumber: "2031-007",
      });
    });

    it("finds by verdict, by kind and by time", async () => {
      const may = await keep({ startedUtc: "2031-05-01T08:00:00.000Z", verdict: "within" });
      const june = await keep({ startedUtc: "2031-06-01T08:00:00.000Z", simulated: false });
      const died = await keep({ startedUtc: "2031-07-01T08:00:00.000Z", isEnded: false });
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
        const id = await keep({ simulated: i % 3 !== 0, isEnded: false });
        if (i % 3 === 0) wanted.unshift(id);
      }
      const paged: string[] = [];
      let before: string | null = null;
      do {
        const page = await opened.store.shelf.list({ ...ANY, kind: "real" }, { limit: 40, before });
        expect(page.records.length).toBeLessThanOrEqual(40);
        paged.push(...page.records.map(({ id }) => id));
        before = page.before;
      } while (before !== null);
      expect(paged).toEqual(wanted);
    });
  });

  describe("the archive", () => {
    it("hides a record from the list, and brings it back, the record as it was", async () => {
      const id = await keep();
      const before = JSON.stringify(await opened.store.record(id));
      await opened.store.shelf.archive(id, true);
      await opened.store.shelf.archive(id, true);
      expect([await found(), await found({ isArchived: true })]).toEqual([[], [id]]);
      expect(JSON.stringify(await opened.store.record(id))).toBe(before);
      await opened.store.shelf.archive(id, false);
      expect([await found(), await found({ isArchived: true })]).toEqual([[id], []]);
      expect(await codeOfPromise(opened.store.shelf.archive(newKey(), true))).toBe(
        "RECORD_UNKNOWN",
      );
    });
  });

  describe("notes", () => {
    it("stay with their date, are taken back and put back, and never touch the record", async () => {
      const id = await keep();
      const before = JSON.stringify(await opened.store.record(id));
      await opened.store.shelf.addNote(id, "Bush replaced after this.");
      await opened.store.shelf.addNote(id, "Owner told.");
      const [first, second] = (await opened.store.shelf.notes(id)).notes;
      expect(first?.writtenUtc).toMatch(/^20\d\d-/);
      await opened.store.shelf.takeNoteBack(id, second?.id ?? "", true);
      expect(
        (await opened.store.shelf.notes(id)).notes.map(({ text, isTakenBack }) => [
          text,
          isTakenBack,
        ]),
      ).toEqual([
        ["Bush replaced after this.", false],
        ["Owner told.", true],
      ]);
      expect(
        (await opened.store.shelf.list(ANY, { limit: 1, before: null })).records[0]?.noteCount,
      ).toBe(1);
      await opened.store.shelf.takeNoteBack(id, second?.id ?? "", false);
      expect((await opened.store.shelf.notes(id)).notes[1]?.isTakenBack).toBe(false);
      expect(JSON.stringify(await opened.store.record(id))).toBe(before);
    });

    it("are refused where there is no such record or note", async () => {
      const id = await keep();
      const other = await keep();
      await opened.store.shelf.addNote(other, "of the other");
      const [note] = (await opened.store.shelf.notes(other)).notes;
      expect(await codeOfPromise(opened.store.shelf.addNote(newKey(), "x"))).toBe("RECORD_UNKNOWN");
      expect(await codeOfPromise(opened.store.shelf.takeNoteBack(id, note?.id ?? "", true))).toBe(
        "RECORD_NOTE_REFUSED",
      );
      expect((await opened.store.shelf.notes(other)).notes[0]?.isTakenBack).toBe(false);
    });
  });

  describe("the history of a unit", () => {
    it("has every record of the same description and stamped number, the oldest first", async () => {
      const first = await keep({ stampedNumber: null });
      await keep({ stampedNumber: "BW 1" });
      await keep({ description: "Another unit", stampedNumber: null });
      const last = await keep({ stampedNumber: null, isEnded: false });
      await opened.store.shelf.archive(first, true);
      const history = await opened.store.shelf.history(first);
      expect(history.map(({ id, isArchived }) => [id, isArchived])).toEqual([
        [first, true],
        [last, false],
      ]);
      expect(history[0]?.largest).toMatchObject({ advanceDeg: 13.64, branch: "rising" });
      expect(history[1]?.largest).toBeNull();
      expect(await codeOfPromise(opened.store.shelf.history(newKey()))).toBe("RECORD_UNKNOWN");
    });
  });
});
