// A run's documents merged into what the page shows.
import { describe, expect, it } from "vitest";
import type { LiveDocument, RunDocument, StepDocument } from "../../core/documents.ts";
import {
  emptyRun,
  holdOf,
  isUnderWay,
  lobeDeviations,
  mergeAll,
  mergeDocument,
  newestDwellDeg,
  paceSeen,
  progressShare,
  type RunView,
  remainingHereS,
  staleMs,
  stepKey,
} from "../../web/src/runView.ts";
import { endDocument, holdDocument, runDocuments, startDocument } from "../sheet/fixture.ts";

const holdStep: StepDocument = {
  type: "step",
  step: "hold",
  capsule: 0,
  branch: null,
  targetRpm: 300,
  targetPa: 54_182,
  done: 5,
  total: 20,
  remainingS: 120,
};

const live: LiveDocument = {
  type: "live",
  runS: 10,
  speedRpm: 300,
  targetRpm: 300,
  advanceDeg: 0.1,
  vacuumPa: 54_000,
  targetPa: 54_182,
  lobeDeviationsDeg: [0.4, -0.4, 0.2, -0.2],
};

/** Live documents every given host millisecond, ten run seconds to each host second. */
function afterLive(view: RunView, hostMs: readonly number[]): RunView {
  return hostMs.reduce(
    (before, ms) => mergeDocument(before, { ...live, runS: ms / 100 }, ms),
    view,
  );
}

const begun = mergeDocument(mergeDocument(emptyRun, startDocument, 0), holdStep, 0);

describe("merging", () => {
  it("gathers a whole run", () => {
    const view = mergeAll(runDocuments);
    expect(view.start?.recordId).toBe(startDocument.recordId);
    expect(view.points).toHaveLength(19);
    expect(view.end).toBe(endDocument);
    expect(holdOf(view, 0)).toBe(holdDocument);
    expect(holdOf(view, 1)).toBeNull();
    expect(isUnderWay(view)).toBe(false);
  });

  it("begins anew with each start", () => {
    expect(mergeDocument(mergeAll(runDocuments), startDocument, 0)).toEqual({
      ...emptyRun,
      start: startDocument,
    });
  });

  it("passes over documents that it does not know", () => {
    const unknown = { type: "later" } as unknown as RunDocument;
    expect(mergeDocument(begun, unknown, 0)).toBe(begun);
  });

  it("draws the hold from its own step on, until the hold's document brings the trace", () => {
    const view = afterLive(begun, [1000, 1100, 1300]);
    expect(view.holdTrace).toEqual([
      [0, 54_000],
      [1, 54_000],
      [3, 54_000],
    ]);
    expect(mergeDocument(view, holdDocument, 1400).holdTrace).toEqual([]);
    const inSweep = mergeDocument(view, { ...holdStep, step: "vacuum", branch: "rising" }, 1400);
    expect(afterLive(inSweep, [1500]).holdTrace).toEqual([]);
  });

  it("keeps a long trace within bounds, its first point and its newest in it", () => {
    const view = afterLive(
      begun,
      Array.from({ length: 1201 }, (_, i) => 1000 + 100 * i),
    );
    expect(view.holdTrace).toHaveLength(601);
    expect(view.holdTrace[0]).toEqual([0, 54_000]);
    expect(view.holdTrace[600]).toEqual([1200, 54_000]);
  });
});

describe("old numbers", () => {
  const view = afterLive(begun, [1000]);

  it.each([
    [1900, null],
    [2000, null],
    [2001, 1001],
    [4000, 3000],
  ])("at %d ms are %s ms old", (nowMs, age) => {
    expect(staleMs(view, nowMs)).toBe(age);
  });

  it("are no matter once the run has ended", () => {
    expect(staleMs(mergeDocument(view, endDocument, 1000), 9000)).toBeNull();
  });
});

describe("time left", () => {
  it("waits until the pace has been seen", () => {
    const view = afterLive(begun, [1000, 2499]);
    expect(paceSeen(view)).toBeNull();
    expect(remainingHereS(view)).toBeNull();
  });

  it("counts in the reader's seconds, less what has passed in the step", () => {
    const view = afterLive(begun, [1000, 3000]);
    expect(paceSeen(view)).toBe(10);
    // 120 s of the rig's, 20 of them gone, ten to a second here.
    expect(remainingHereS(view)).toBe(10);
  });

  it("never falls below nothing, and ends with the run", () => {
    const view = afterLive(begun, [1000, 60_000]);
    expect(remainingHereS(view)).toBe(0);
    expect(remainingHereS(mergeDocument(view, endDocument, 60_000))).toBeNull();
  });
});

describe("what is shown", () => {
  it("takes progress from the step, and a completed run as whole", () => {
    expect(progressShare(emptyRun)).toBe(0);
    expect(progressShare(begun)).toBe(0.25);
    expect(progressShare(mergeDocument(begun, endDocument, 0))).toBe(1);
    const stopped = { ...endDocument, ending: "stopped" } as const;
    expect(progressShare(mergeDocument(begun, stopped, 0))).toBe(0.25);
  });

  it("takes lobes live while running, from the last reading afterwards", () => {
    expect(lobeDeviations(emptyRun)).toEqual([]);
    expect(lobeDeviations(afterLive(begun, [1000]))).toEqual([0.4, -0.4, 0.2, -0.2]);
    expect(lobeDeviations(mergeAll(runDocuments))).toEqual([0.12, -0.21, 0.3, -0.21]);
  });

  it("takes dwell from the newest reading that has it", () => {
    expect(newestDwellDeg(begun)).toBeNull();
    expect(newestDwellDeg(mergeAll(runDocuments))).toBe(60.4);
  });

  it("speaks of a step again only when part, capsule or branch change", () => {
    expect(stepKey(null)).toBe("");
    expect(stepKey(holdStep)).toBe("hold/0/");
    expect(stepKey({ ...holdStep, done: 6, targetPa: 100 })).toBe(stepKey(holdStep));
    expect(stepKey({ ...holdStep, step: "speed", capsule: null, branch: "falling" })).toBe(
      "speed//falling",
    );
  });
});
