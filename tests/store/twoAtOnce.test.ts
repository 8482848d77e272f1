// Two desks that write at once are as if one had come after the other.
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { openStore } from "../../server/store/store.ts";
import { opensOn } from "./both.ts";
import { codeOfPromise } from "./codes.ts";

describe("two desks on one database", () => {
  const opened = opensOn("PostgreSQL");

  it("give no number twice, and take one of two edits of the same unit", async () => {
    const other = await openStore(join(opened.folder, "other"), opened.databaseUrl);
    const desks = [opened.store, other];
    const ids = await Promise.all(
      Array.from({ length: 8 }, (_, i) => desks[i % 2]?.jobs.add(EMPTY_CARD)),
    );
    const numbers = await Promise.all(
      ids.map(async (id) => (await other.jobs.job(id ?? "")).card.number),
    );
    expect(new Set(numbers).size).toBe(8);
    const unit = await other.units.add("one");
    const edits = desks.map(({ units }, i) => codeOfPromise(units.add(`edit ${i}`, unit)));
    expect((await Promise.all(edits)).sort()).toEqual(["UNIT_REPLACED", "nothing thrown"]);
    await other.close();
  });
});
