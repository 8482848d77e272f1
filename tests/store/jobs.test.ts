// Jobs: cards of which every edit can be taken back, photos, records that go with them.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { EMPTY_CARD, type JobCard } from "../../core/jobs/card.ts";
import { openStore } from "../../server/store/store.ts";
import { RECORD_ID, startDocument } from "../sheet/fixture.ts";
import { BOTH, opensOn } from "./both.ts";
import { codeOfPromise } from "./codes.ts";

describe.each(BOTH)("on %s", (kind) => {
  const opened = opensOn(kind);

  const card = (known: Partial<JobCard>): JobCard => ({ ...EMPTY_CARD, ...known });
  const all = { search: "", archived: false };

  describe("a card", () => {
    it("is kept over a reopening, with the next number of the year", async () => {
      const first = await opened.store.jobs.add(card({ owner: "A. Owner" }));
      const second = await opened.store.jobs.add(card({ vehicle: "A saloon" }));
      await opened.store.close();
      opened.store = await openStore(opened.folder, opened.databaseUrl);
      const year = new Date().getUTCFullYear();
      expect((await opened.store.jobs.job(first)).card).toEqual(
        card({ owner: "A. Owner", number: `${year}-001` }),
      );
      expect((await opened.store.jobs.job(second)).card.number).toBe(`${year}-002`);
    });

    it("cannot have another job's number", async () => {
      const id = await opened.store.jobs.add(card({ number: "7" }));
      expect(await codeOfPromise(opened.store.jobs.add(card({ number: "7" })))).toBe("JOB_INVALID");
      const other = await opened.store.jobs.add(card({ number: "8" }));
      expect(await codeOfPromise(opened.store.jobs.edit(other, card({ number: "7" })))).toBe(
        "JOB_INVALID",
      );
      await opened.store.jobs.edit(id, card({ number: "7", notes: "its own is no other's" }));
      expect((await opened.store.jobs.job(id)).card.notes).toBe("its own is no other's");
    });

    it("is what it was after as many undos as edits, whatever was done in between", async () => {
      const steps = fc.array(fc.oneof(fc.constant(null), fc.string({ maxLength: 5 })), {
        maxLength: 12,
      });
      await fc.assert(
        fc.asyncProperty(steps, async (notes) => {
          const id = await opened.store.jobs.add(card({}));
          const past = [""];
          for (const note of notes) {
            if (note === null) {
              const taken = await codeOfPromise(opened.store.jobs.undo(id));
              expect(taken).toBe(past.length > 1 ? "nothing thrown" : "JOB_INVALID");
              if (past.length > 1) past.pop();
            } else {
              await opened.store.jobs.edit(id, card({ notes: note }));
              past.push(note);
            }
            const job = await opened.store.jobs.job(id);
            expect(job.card.notes).toBe(past.at(-1)?.trim());
            expect(job.canUndo).toBe(past.length > 1);
          }
        }),
        { numRuns: 30 },
      );
    });

    it("of an unknown job is refused", async () => {
      expect(await codeOfPromise(opened.store.jobs.job("nobody"))).toBe("JOB_UNKNOWN");
      expect(await codeOfPromise(opened.store.jobs.edit("nobody", EMPTY_CARD))).toBe("JOB_UNKNOWN");
    });
  });

  describe("the list", () => {
    it("finds all words anywhere on a card, without regard to accents and capitals", async () => {
      await opened.store.jobs.add(
        card({ number: "1", owner: "Jörg Müller", vehicle: "Two-seater" }),
      );
      await opened.store.jobs.add(
        card({ number: "2", owner: "Jane Miller", condition: "rusted weights" }),
      );
      const found = async (search: string) =>
        (await opened.store.jobs.list({ ...all, search })).map((job) => job.number);
      expect(await found("muller two")).toEqual(["1"]);
      expect(await found("WEIGHTS")).toEqual(["2"]);
      expect(await found("muller rusted")).toEqual([]);
      expect((await found("")).sort()).toEqual(["1", "2"]);
    });

    it("leaves out what is archived, until it is asked for or taken back", async () => {
      const id = await opened.store.jobs.add(card({ number: "1" }));
      await opened.store.jobs.archive(id, true);
      expect(await opened.store.jobs.list(all)).toEqual([]);
      expect(
        (await opened.store.jobs.list({ ...all, archived: true })).map((job) => job.id),
      ).toEqual([id]);
      await opened.store.jobs.undo(id);
      expect((await opened.store.jobs.list(all)).map((job) => job.id)).toEqual([id]);
    });
  });

  describe("a record", () => {
    it("goes with the job it was put to last", async () => {
      opened.store.begin(startDocument, { nowMs: () => 0 });
      await opened.store.handOver?.wake();
      const [one, other] = [
        await opened.store.jobs.add(card({})),
        await opened.store.jobs.add(card({})),
      ];
      await opened.store.jobs.attach(one, RECORD_ID);
      await opened.store.jobs.attach(other, RECORD_ID);
      expect((await opened.store.jobs.job(one)).records).toEqual([]);
      expect((await opened.store.jobs.job(other)).records.map(({ id }) => id)).toEqual([RECORD_ID]);
      expect(await opened.store.jobs.jobIdOf(RECORD_ID)).toBe(other);
      expect((await opened.store.jobs.list(all)).find(({ id }) => id === other)).toMatchObject({
        recordCount: 1,
        last: { ending: null, simulated: true },
      });
    });

    it("that is not there cannot", async () => {
      const id = await opened.store.jobs.add(card({}));
      expect(await codeOfPromise(opened.store.jobs.attach(id, "nothing"))).toBe("RECORD_UNKNOWN");
      expect(await opened.store.jobs.jobIdOf("nothing")).toBeNull();
    });
  });

  describe("a photo", () => {
    it("comes back byte for byte, and goes off the job alone", async () => {
      const id = await opened.store.jobs.add(card({}));
      const bytes = Buffer.from([0xff, 0xd8, 0xff, 0, 1, 2]);
      const photoId = await opened.store.jobs.addPhoto(id, {
        name: "as it came",
        type: "image/jpeg",
        bytes,
      });
      expect((await opened.store.jobs.job(id)).photos.map(({ name }) => name)).toEqual([
        "as it came",
      ]);
      expect(await opened.store.jobs.photo(id, photoId)).toEqual({ type: "image/jpeg", bytes });
      const other = await opened.store.jobs.add(card({}));
      expect(await codeOfPromise(opened.store.jobs.photo(other, photoId))).toBe("JOB_UNKNOWN");
      await opened.store.jobs.takePhotoOff(id, photoId);
      expect((await opened.store.jobs.job(id)).photos).toEqual([]);
    });
  });
});
