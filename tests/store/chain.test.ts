// Which record a run may follow, and what is read back of those that it follows.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { checkedFollowing, earlierOf } from "../../server/store/chain.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { endDocument, inventedUnit, startDocument } from "../sheet/fixture.ts";

const [FIRST, SECOND, THIRD, FOURTH] = ["a1", "a2", "a3", "a4"] as const;
let folder: string;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-chain-"));
  store = await openStore(folder);
});

afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

function keep(recordId: string, afterRecordId: string | null): readonly RunDocument[] {
  const start: StartDocument = { ...startDocument, recordId, afterRecordId };
  store.begin(start, { nowMs: () => 0 }).end(endDocument);
  return store.record(recordId).documents;
}

function codeOf(action: () => unknown): string | null {
  try {
    action();
    return null;
  } catch (error) {
    return error instanceof BobweightError ? error.code : "another error";
  }
}

it("keeps the record that is followed with the start, and none where none is", () => {
  expect(keep(FIRST, null)[0]).toMatchObject({ afterRecordId: null });
  expect(keep(SECOND, FIRST)[0]).toMatchObject({ afterRecordId: FIRST });
});

it("always has the first as received, and the one just before where that is another", () => {
  const names = (documents: readonly RunDocument[]) =>
    earlierOf(store, documents).map(({ name, recordId }) => [name, recordId]);
  expect(names(keep(FIRST, null))).toEqual([]);
  expect(names(keep(SECOND, FIRST))).toEqual([["as received", FIRST]]);
  expect(names(keep(THIRD, SECOND))).toEqual([
    ["as received", FIRST],
    ["before", SECOND],
  ]);
  expect(names(keep(FOURTH, THIRD))).toEqual([
    ["as received", FIRST],
    ["before", THIRD],
  ]);
});

it("cannot be kept after a record that is not there", () => {
  expect(codeOf(() => keep(SECOND, FIRST))).toBe("STORE_FAILED");
});

it("may follow a record of the same unit only, both real or both simulated", () => {
  keep(FIRST, null);
  const follows = { store, recordId: FIRST };
  expect(checkedFollowing(follows, inventedUnit, true)).toBe(FIRST);
  expect(codeOf(() => checkedFollowing(follows, inventedUnit, false))).toBe("RECORD_OTHER_UNIT");
  const other = { ...inventedUnit, stampedNumber: "BW 4102 A" };
  expect(codeOf(() => checkedFollowing(follows, other, true))).toBe("RECORD_OTHER_UNIT");
  const unknown = { store, recordId: SECOND };
  expect(codeOf(() => checkedFollowing(unknown, inventedUnit, true))).toBe("RECORD_UNKNOWN");
  const unkept = { store: null, recordId: FIRST };
  expect(codeOf(() => checkedFollowing(unkept, inventedUnit, true))).toBe("USAGE");
  expect(checkedFollowing({ store: null, recordId: null }, inventedUnit, true)).toBeNull();
});
