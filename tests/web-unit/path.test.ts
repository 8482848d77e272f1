// Where a job stands, from its card to its sheet.
import { describe, expect, it } from "vitest";
import type { EndDocument, StartDocument } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import type { Job } from "../../core/jobs/job.ts";
import { type Path, PLACES, pathOf } from "../../web/src/path.ts";
import { emptyRun, mergeAll, type RunView } from "../../web/src/runView.ts";
import { endDocument, runDocuments, startDocument } from "../sheet/fixture.ts";

const job: Job = {
  id: "a job",
  createdUtc: "2031-03-14T09:00:00.000Z",
  changedUtc: "2031-03-14T09:00:00.000Z",
  isArchived: false,
  card: { ...EMPTY_CARD, number: "2031-001" },
  canUndo: false,
  records: [],
  photos: [],
};

/** In the order of the work, as one word a place. */
const told = (path: Path) => PLACES.map((place) => path[place]).join(" ");

function ended(end: Partial<EndDocument>, start: Partial<StartDocument> = {}): RunView {
  const view = mergeAll(runDocuments);
  return {
    ...view,
    start: { ...startDocument, ...start },
    end: { ...endDocument, ...end },
  };
}

const within = { result: { ...endDocument.result, verdict: "within" } } as const;
const outside = { result: { ...endDocument.result, verdict: "outside" } } as const;
const nothing = { ...(endDocument.findings ?? { hidden: [] }), found: [] } as NonNullable<
  EndDocument["findings"]
>;

describe("before a run", () => {
  it("a job begins with its card, whose number alone is none", () => {
    expect(told(pathOf(job, emptyRun, false))).toBe("next open open open open open open open open");
  });

  it("goes on to the rig once something is noted, and straight in without a job", () => {
    const noted = { ...job, card: { ...job.card, owner: "A. Owner" } };
    expect(told(pathOf(noted, emptyRun, false))).toBe(
      "done next open open open open open open open",
    );
    expect(told(pathOf(null, emptyRun, false))).toBe(
      "none next open open open open open open open",
    );
  });
});

describe("while it runs", () => {
  const running = (...documents: typeof runDocuments) => pathOf(null, mergeAll(documents), true);

  it("is at the rig until the first step, then where the step is", () => {
    expect(running(startDocument).rig).toBe("now");
    const at = { capsule: null, targetRpm: 500, targetPa: null, done: 1, total: 9, remainingS: 9 };
    for (const [step, place] of [
      ["reference", "contacts"],
      ["hold", "vacuum"],
      ["vacuum", "vacuum"],
      ["speed", "speed"],
      ["return", "contacts"],
    ] as const) {
      const path = running(startDocument, { type: "step", step, branch: null, ...at });
      expect(PLACES.filter((one) => path[one] === "now")).toEqual([place]);
      expect(path.rig).toBe("done");
    }
  });
});

describe("after a run", () => {
  it("goes to the sheet where all is right", () => {
    expect(told(pathOf(null, ended({ ...within, findings: nothing }), false))).toBe(
      "none done done done done done none none next",
    );
  });

  it("goes to the change where something is outside, and on to measuring again", () => {
    expect(told(pathOf(null, ended({ ...outside, findings: nothing }), false))).toBe(
      "none done done done done done next open open",
    );
  });

  it("knows that a run after a change was the measuring again", () => {
    const after = ended({ ...within, findings: nothing }, { afterRecordId: "earlier" });
    expect(told(pathOf(null, after, false))).toBe("none done done done done done done done next");
  });

  it("asks to measure again where the run was stopped", () => {
    const path = pathOf(null, ended({ ...outside, ending: "stopped" }), false);
    expect([path.again, path.change, path.sheet]).toEqual(["next", "none", "open"]);
  });

  it("does without vacuum where the unit has no capsule", () => {
    const unit = { ...startDocument.unit, capsules: [] };
    const path = pathOf(null, ended({ ...within, findings: nothing }, { unit }), false);
    expect(path.vacuum).toBe("none");
  });
});
