// Which record a run may follow, and what is read back of those that it follows.
import { describe, expect, it } from "vitest";
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { checkedFollowing, earlierOf } from "../../server/store/chain.ts";
import { endDocument, inventedUnit, startDocument } from "../sheet/fixture.ts";
import { BOTH, opensOn } from "./both.ts";
import { codeOfPromise } from "./codes.ts";

const [FIRST, SECOND, THIRD, FOURTH] = ["a1", "a2", "a3", "a4"] as const;
describe.each(BOTH)("on %s", (kind) => {
  const opened = opensOn(kind);

  async function keep(
    recordId: string,
    afterRecordId: string | null,
  ): Promise<readonly RunDocument[]> {
    const start: StartDocument = { ...startDocument, recordId, afterRecordId };
    opened.store.begin(start, { nowMs: () => 0 }).end(endDocument);
    await opened.store.handOver?.wake();
    return (await opened.store.record(recordId)).documents;
  }

  it("keeps the record that is followed with the start, and none where none is", async () => {
    expect((await keep(FIRST, null))[0]).toMatchObject({ afterRecordId: null });
    expect((await keep(SECOND, FIRST))[0]).toMatchObject({ afterRecordId: FIRST });
  });

  it("always has the first as received, and the one just before where that is another", async () => {
    const names = async (documents: readonly RunDocument[]) =>
      (await earlierOf(opened.store, documents)).map(({ name, recordId }) => [name, recordId]);
    expect(await names(await keep(FIRST, null))).toEqual([]);
    expect(await names(await keep(SECOND, FIRST))).toEqual([["as received", FIRST]]);
    expect(await names(await keep(THIRD, SECOND))).toEqual([
      ["as received", FIRST],
      ["before", SECOND],
    ]);
    expect(await names(await keep(FOURTH, THIRD))).toEqual([
      ["as received", FIRST],
      ["before", THIRD],
    ]);
  });

  it("cannot be kept after a record that is not there", async () => {
    if (kind === "SQLite") {
      expect(await codeOfPromise(keep(SECOND, FIRST))).toBe("STORE_FAILED");
    } else {
      // Nobody could say so while it ran: it waits on the bench, and the page says why.
      await keep(SECOND, FIRST);
      expect(opened.store.handOver?.now()).toMatchObject({
        waiting: 1,
        trouble: { code: "STORE_FAILED" },
      });
    }
  });

  it("may follow a record of the same unit only, both real or both simulated", async () => {
    await keep(FIRST, null);
    const follows = { store: opened.store, recordId: FIRST };
    expect(await checkedFollowing(follows, inventedUnit, true)).toBe(FIRST);
    expect(await codeOfPromise(checkedFollowing(follows, inventedUnit, false))).toBe(
      "RECORD_OTHER_UNIT",
    );
    const other = { ...inventedUnit, stampedNumber: "BW 4102 A" };
    expect(await codeOfPromise(checkedFollowing(follows, other, true))).toBe("RECORD_OTHER_UNIT");
    const unknown = { store: opened.store, recordId: SECOND };
    expect(await codeOfPromise(checkedFollowing(unknown, inventedUnit, true))).toBe(
      "RECORD_UNKNOWN",
    );
    const unkept = { store: null, recordId: FIRST };
    expect(await codeOfPromise(checkedFollowing(unkept, inventedUnit, true))).toBe("USAGE");
    expect(await checkedFollowing({ store: null, recordId: null }, inventedUnit, true)).toBeNull();
  });
});
