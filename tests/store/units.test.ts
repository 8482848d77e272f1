// Units on hand: an edit is a new version, and what it was before stays.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { openStore, type Store } from "../../server/store/store.ts";
import { codeOf } from "./codes.ts";

let folder: string;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-units-"));
  store = await openStore(folder);
});

afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

const texts = () => store.units.current().map(({ fileText }) => fileText);

it("an edit takes the place of the unit, which stays readable", () => {
  const first = store.units.add("one");
  const other = store.units.add("other");
  const second = store.units.add("two", first);
  expect(texts()).toEqual(["two", "other"]);
  expect(store.units.unit(first).fileText).toBe("one");
  expect(store.units.versionsBefore(second).map(({ id }) => id)).toEqual([first]);
  expect(store.units.versionsBefore(other)).toEqual([]);
  // Back to what it was is a version too.
  const third = store.units.add("one", second);
  expect(third).not.toBe(first);
  expect(store.units.versionsBefore(third).map(({ id }) => id)).toEqual([second, first]);
});

it("an edit that changes nothing keeps the unit", () => {
  const first = store.units.add("one");
  expect(store.units.add("one", first)).toBe(first);
  expect(store.units.versionsBefore(first)).toEqual([]);
});

it("of two edits of the same version the second is refused, and one of no unit at all", () => {
  const first = store.units.add("one");
  store.units.add("two", first);
  expect(codeOf(() => store.units.add("three", first))).toBe("UNIT_REPLACED");
  expect(codeOf(() => store.units.add("three", "nobody"))).toBe("UNIT_UNKNOWN");
  expect(texts()).toEqual(["two"]);
});
