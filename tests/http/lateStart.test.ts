// A start that had to wait long for the database is no start any more: whoever pressed it may be elsewhere.
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it, vi } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { WorkshopBench } from "../../server/bench.ts";
import { openStore } from "../../server/store/store.ts";

const REQUEST = {
  rigId: "stand-in",
  unitId: "everyday",
  scenarioId: null,
  plan: null,
  pace: 25,
  contacts: null,
  afterRecordId: null,
} as const;

it("is refused before anything is asked of the rig, and the bench is free for the next", async () => {
  const store = await openStore(mkdtempSync(join(tmpdir(), "bobweight-late-")));
  const jobId = await store.jobs.add(EMPTY_CARD);
  let nowMs = 0;
  let waitMs = 10_001;
  vi.spyOn(store.jobs, "known").mockImplementation(async () => {
    nowMs += waitMs;
  });
  const bench = new WorkshopBench(
    store,
    "",
    async () => [],
    () => nowMs,
  );
  const documents: RunDocument[] = [];
  const start = () => bench.start({ ...REQUEST, jobId }, (document) => documents.push(document));
  await expect(start()).rejects.toMatchObject({
    code: "DATABASE_AWAY",
    message: expect.stringContaining("The database took 10 s to answer"),
  });
  expect(documents).toEqual([]);
  waitMs = 10_000;
  const run = await start();
  run.stop("STOPPED_BY_USER");
  expect(await run.ended).toMatchObject({ ending: "stopped" });
  await store.close();
});
