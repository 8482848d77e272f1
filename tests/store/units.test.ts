// Units on hand: an edit is a new version, and what it was before stays.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { openStore, type Store } from "../../server/store/store.ts";
import { codeOfPromise } from "./codes.ts";

let folder: string;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-units-"));
  store = await openStore(folder);
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

const idsBefore = async (id: string) =>
  ((await store.units.versionsBefore()).get(id) ?? []).map((version) => version.id);

const texts = async () => (await store.units.current()).map(({ fileText }) => fileText);

it("an edit takes the place of the unit, which stays readable", async () => {
  const first = await store.units.add("one");
  const other = await store.units.add("other");
  const second = await store.units.add("two", first);
  expect(await texts()).toEqual(["two", "other"]);
  expect((await store.units.unit(first)).fileText).toBe("one");
  expect(await idsBefore(second)).toEqual([first]);
  expect(await idsBefore(other)).toEqual([]);
  // Back to what it was is a version too.
  const third = await store.units.add("one", second);
  expect(third).not.toBe(first);
  expect(await idsBefore(third)).toEqual([second, first]);
});

it("an edit that changes nothing keeps the unit", async () => {
  const first = await store.units.add("one");
  expect(await store.units.add("one", first)).toBe(first);
  expect(await idsBefore(first)).toEqual([]);
});

it("of two edits of the same version the second is refused, and one of no unit at all", async () => {
  const first = await store.units.add("one");
  await store.units.add("two", first);
  expect(await codeOfPromise(store.units.add("three", first))).toBe("UNIT_REPLACED");
  expect(await codeOfPromise(store.units.add("three", "nobody"))).toBe("UNIT_UNKNOWN");
  expect(await texts()).toEqual(["two"]);
});
