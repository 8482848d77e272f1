// Units on hand: an edit is a new version, and what it was before stays.
import { describe, expect, it } from "vitest";
import { BOTH, opensOn } from "./both.ts";
import { codeOfPromise } from "./codes.ts";

describe.each(BOTH)("on %s", (kind) => {
  const opened = opensOn(kind);

  const idsBefore = async (id: string) =>
    ((await opened.store.units.versionsBefore()).get(id) ?? []).map((version) => version.id);

  const texts = async () => (await opened.store.units.current()).map(({ fileText }) => fileText);

  it("an edit takes the place of the unit, which stays readable", async () => {
    const first = await opened.store.units.add("one");
    const other = await opened.store.units.add("other");
    const second = await opened.store.units.add("two", first);
    expect(await texts()).toEqual(["two", "other"]);
    expect((await opened.store.units.unit(first)).fileText).toBe("one");
    expect(await idsBefore(second)).toEqual([first]);
    expect(await idsBefore(other)).toEqual([]);
    // Back to what it was is a version too.
    const third = await opened.store.units.add("one", second);
    expect(third).not.toBe(first);
    expect(await idsBefore(third)).toEqual([second, first]);
  });

  it("an edit that changes nothing keeps the unit", async () => {
    const first = await opened.store.units.add("one");
    expect(await opened.store.units.add("one", first)).toBe(first);
    expect(await idsBefore(first)).toEqual([]);
  });

  it("of two edits of the same version the second is refused, and one of no unit at all", async () => {
    const first = await opened.store.units.add("one");
    await opened.store.units.add("two", first);
    expect(await codeOfPromise(opened.store.units.add("three", first))).toBe("UNIT_REPLACED");
    expect(await codeOfPromise(opened.store.units.add("three", "nobody"))).toBe("UNIT_UNKNOWN");
    expect(await texts()).toEqual(["two"]);
  });
});
