// A record computed again from its raw bytes: the same bits, or it says what differs.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { compare } from "../../core/comparison.ts";
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { replay } from "../../core/replay.ts";
import { makeRun } from "../../server/measurement.ts";
import { STAND_IN } from "../../server/rigFile.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import { openStore } from "../../server/store/store.ts";

const UNIT = JSON.parse(readFileSync("examples/everyday.unit.json", "utf8"));
const HEALTHY = JSON.parse(readFileSync("examples/healthy.scenario.json", "utf8"));
const PLAN = { secondsPerReading: 1, hold: { settleS: 1, seconds: 3 } };

interface Recorded {
  readonly documents: readonly RunDocument[];
  readonly raw: Uint8Array;
}

/** A run as the store gives it back. `stopAt`: ends it after so many readings; `explains`: and says what is wrong. */
async function recorded(
  rig: object,
  { stopAt = Number.POSITIVE_INFINITY, explains = false } = {},
): Promise<Recorded> {
  const folder = mkdtempSync(join(tmpdir(), "bobweight-replay-"));
  const store = await openStore(folder);
  try {
    const scheduler = new VirtualScheduler();
    const named = (name: string, content: unknown) => ({ name, content });
    let points = 0;
    const run = await makeRun(
      {
        rig: STAND_IN,
        unitFile: named("unit", UNIT),
        scenario: named("scenario", { ...HEALTHY, rig }),
        plan: named("plan", PLAN),
        capsule: 0,
        contacts: null,
        afterRecordId: null,
      },
      {
        scheduler,
        store,
        emit: (document) => {
          if (document.type === "point" && ++points >= stopAt) run.stop("STOPPED_BY_USER");
        },
        liveEveryMs: null,
        explains,
        isFresh: () => true,
      },
    );
    await scheduler.run(run.prepare().then(() => run.carryOut()));
    const id = (await store.heads({ limit: 1, before: null }))[0]?.id ?? "";
    return { documents: (await store.record(id)).documents, raw: await store.rawLines(id) };
  } finally {
    await store.close();
    rmSync(folder, { recursive: true });
  }
}

function compared({ documents, raw }: Recorded) {
  const { unit } = documents[0] as StartDocument;
  return compare(unit, documents, replay(documents, raw));
}

describe("a record computed again", () => {
  it.each<[string, object, boolean?]>([
    ["36 edges", { pickupEdges: 36, spacingErrorPeakDeg: 0.3, eventJitterUs: 2 }],
    ["one index", { pickupEdges: 1, eventJitterUs: 2, indexJitterUs: 1 }, true],
    [
      "noise, missing events and lost edges",
      { doubleEdgeShare: 0.03, missingEventShare: 0.03, lostShare: 0.02 },
    ],
    ["a slow link", { linkBytesPerS: 4000 }],
  ])("is the same bit for bit: %s", async (_, rig, explains) => {
    const run = await recorded(rig, { explains });
    const comparison = compared(run);
    expect(comparison.readings.length).toBeGreaterThan(40);
    expect(comparison.same).toBe(true);
    expect(comparison.verdict).toBe(comparison.recordedVerdict);
  });

  it("works for a run that was stopped", async () => {
    const run = await recorded({ pickupEdges: 36 }, { stopAt: 8 });
    const comparison = compared(run);
    expect(comparison.readings.length).toBe(8);
    expect(comparison.same).toBe(true);
  });

  it("says so where a stored figure was changed by one bit", async () => {
    const { documents, raw } = await recorded({ pickupEdges: 36 }, { stopAt: 6 });
    const changed = documents.map((document) => {
      if (document.type !== "final") return document;
      const [first, second, ...rest] = document.readings;
      if (first === undefined || second === undefined) throw new Error("too few readings");
      return {
        ...document,
        readings: [first, { ...second, advanceDeg: second.advanceDeg + Number.EPSILON }, ...rest],
      };
    });
    const comparison = compared({ documents: changed, raw });
    expect(comparison.same).toBe(false);
    expect(comparison.readings.filter(({ same }) => !same)).toHaveLength(1);
  });

  it("refuses raw bytes that do not hold the readings", async () => {
    const { documents, raw } = await recorded({ pickupEdges: 36 }, { stopAt: 6 });
    expect(() => replay(documents, raw.slice(0, raw.length / 2))).toThrow(/RECORD_INCOMPLETE/);
    expect(() => replay(documents, new Uint8Array(0))).toThrow(/RECORD_INCOMPLETE/);
  });
});
