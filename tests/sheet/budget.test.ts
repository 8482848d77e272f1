// The uncertainty budget of one reading as text, and what the run told of the rig.
import { describe, expect, it } from "vitest";
import type { FinalDocument, RunDocument, UncertaintyPart } from "../../core/documents.ts";
import { budgetLines } from "../../core/sheet/budget.ts";
import { budgetText } from "../../core/sheet/budgetText.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { endDocument, runDocuments, startDocument } from "./fixture.ts";

const BUDGET: readonly UncertaintyPart[] = [
  {
    name: "tick",
    standardUncertainty: 0.003,
    degreesOfFreedom: null,
    shape: "normal",
    shared: false,
  },
  {
    name: "repeatability",
    standardUncertainty: 0.004,
    degreesOfFreedom: 17.6,
    shape: "normal",
    shared: false,
  },
  {
    name: "zero",
    standardUncertainty: 0.012,
    degreesOfFreedom: null,
    shape: "rectangular",
    shared: true,
  },
];

function withBudgets(): readonly RunDocument[] {
  const { result } = endDocument;
  const rising = result.speed.rising.map((point, i) =>
    i === 2
      ? { ...point, standardUncertaintyDeg: 0.013, coverageFactor: 1.9, budget: BUDGET }
      : point,
  );
  const end = { ...endDocument, result: { ...result, speed: { ...result.speed, rising } } };
  return [...runDocuments.slice(0, -1), end];
}

describe("the budget of a reading", () => {
  it("is a table of its parts, largest first, with their sums", () => {
    expect(budgetText(withBudgets(), 820)).toBe(
      `Four-cylinder unit, contacts, single capsule, record ${startDocument.recordId}
advance 3.740° ± 0.0247° (distributor) at 800.6 rpm, rising

standard uncertainty °  degrees of freedom  shape        stands in     part
0.0120                  ∞                   rectangular  all readings  reference, delay and unseen ripple together, as the slow readings tell them
0.0040                  18                  normal       this reading  turns that differ from one another
0.0030                  ∞                   normal       this reading  rounding to the ticks of the rig's clock

combined standard uncertainty 0.0130°
coverage factor for 95 % 1.90
expanded uncertainty 0.0247°
`,
    );
  });

  it("is of the reading known worst where no speed is asked for", () => {
    // All others have 0.06° and k = 2.
    expect(budgetText(withBudgets(), null)).toContain("at 400.6 rpm");
    expect(budgetText(withBudgets(), null)).toContain("expanded uncertainty 0.1200°");
  });

  it("has nothing to tell of a record without readings", () => {
    expect(() => budgetText([startDocument], null)).toThrow(/^RECORD_INCOMPLETE: /);
  });

  it("says so where the version that recorded it kept no parts", () => {
    const [line] = budgetLines({
      budget: [{ ...(BUDGET[0] as UncertaintyPart), name: "together" }],
    });
    expect(line?.part).toMatch(/did not keep them apart/);
  });
});

describe("what the run told of the rig", () => {
  const told = (changes: Partial<FinalDocument["rig"]>) => {
    const rig = {
      spacingErrorsDeg: [0, 0.05, -0.1234],
      rippleSeenDeg: 0.042,
      rippleUnseenDegAt1000Rpm: -0.004,
      rippleUnseenStandardUncertaintyDegAt1000Rpm: 0.002,
      ...changes,
    };
    const documents = [...runDocuments, { type: "final", readings: [], rig } as const];
    return buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" })
      .blocks.flatMap((block) => (block.kind === "facts" ? block.facts : []))
      .find(({ label }) => label === "Rig, as this run tells")?.value;
  };

  it("stands under the conditions", () => {
    expect(told({})).toBe(
      "pickup edges up to 0.123° off, taken out; ripple of the drive up to 0.042° at the slowest, taken out; ripple not seen −0.004° at 1000 rpm, standard uncertainty 0.002°",
    );
    expect(told({ spacingErrorsDeg: null, rippleSeenDeg: null })).toBe(
      "ripple not seen −0.004° at 1000 rpm, standard uncertainty 0.002°",
    );
  });
});
