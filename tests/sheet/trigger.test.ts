// The sheet's block on the trigger: only what was found, in the workshop's words.
import { describe, expect, it } from "vitest";
import type { RunDocument, RunResult } from "../../core/documents.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { triggerFacts } from "../../core/sheet/trigger.ts";
import type { FigureAt, Trend, TriggerResult } from "../../core/triggerResult.ts";
import { endDocument, runDocuments, startDocument } from "./fixture.ts";

const NOTHING: TriggerResult = {
  dwell: null,
  bounce: null,
  missing: { overSpeed: null, overVacuum: [null] },
  scatter: null,
};

function factsOf(changes: Partial<TriggerResult>): (readonly [string, string])[] {
  const result: RunResult = { ...endDocument.result, trigger: { ...NOTHING, ...changes } };
  return triggerFacts(result, "kPa").map(({ label, value }) => [label, value]);
}

function at(x: number, valueDeg: number, expandedUncertaintyDeg: number): FigureAt {
  return { x, valueDeg, expandedUncertaintyDeg };
}

function trend(low: FigureAt, high: FigureAt, isClear: boolean): Trend {
  const changeDeg = high.valueDeg - low.valueDeg;
  return { low, change: { high, changeDeg, expandedUncertaintyDeg: 0.02, isClear } };
}

const PLACES = { share: 0.48, soundBelow: 3, soundAbove: 2, soundBetween: 0, plateDeg: null };

describe("the trigger on the sheet", () => {
  it.each([
    ["both", "both connected"],
    ["first", "the first alone connected, the second insulated"],
    ["second", "the second alone connected, the first insulated"],
  ] as const)("says what was connected of two sets: %s", (connected, words) => {
    const contactSets = {
      arrangement: "staggered",
      connected,
      lobeAnglesDeg: [0, 90, 180, 270],
      dwellLimitsDeg: { first: null, second: null, both: null },
    } as const;
    const start = { ...startDocument, unit: { ...startDocument.unit, contactSets } };
    const documents = [start, ...runDocuments.slice(1)];
    const facts = buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" }).blocks.flatMap(
      (block) => (block.kind === "facts" ? block.facts : []),
    );
    expect(facts.find(({ label }) => label === "Trigger")?.value).toBe(
      `two sets of contacts, staggered: ${words}`,
    );
  });

  it("is a block of its own, left out where nothing was found", () => {
    const headings = (documents: readonly RunDocument[]) =>
      buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" }).blocks.flatMap((block) =>
        block.kind === "heading" ? [block.text] : [],
      );
    expect(headings(runDocuments)).toContain("Trigger");
    const result = { ...endDocument.result, trigger: NOTHING };
    const silent = [...runDocuments.slice(0, -1), { ...endDocument, result }];
    expect(headings(silent)).not.toContain("Trigger");
    expect(factsOf({})).toEqual([]);
  });

  it("gives the dwell of each lobe and its changes", () => {
    const dwell = {
      atRpm: 800,
      lobesDeg: [51.04, 52.4, null, 51],
      lobeExpandedUncertaintyDeg: 0.012,
      overSpeed: trend(at(800, 51, 0.02), at(2640, 47.39, 0.01), true),
      overVacuum: [trend(at(5000, 51, 0.02), at(44_000, 51.01, 0.02), false)],
    };
    expect(factsOf({ dwell })).toEqual([
      ["Dwell of each lobe", "51.0, 52.4, –, 51.0°, each ± 0.1°, at 800 rpm"],
      ["Dwell over speed", "falls by 3.61° ± 0.02°, from 51.00° at 800 rpm to 47.39° at 2640 rpm"],
      ["Dwell over vacuum", "the same to 44.00 kPa, within ± 0.02°"],
    ]);
  });

  it("gives bounce with its beginning, where it has one", () => {
    const bounce = {
      at: [
        { speedRpm: 1200, share: 0 },
        { speedRpm: 1350, share: 0.037 },
        { speedRpm: 2640, share: 0.43 },
      ],
      begins: { afterRpm: 1200, byRpm: 1350 },
    };
    const share = "43 % of the closings open again for a moment at 2640 rpm";
    expect(factsOf({ bounce })).toEqual([["Bounce", `${share}; begins between 1200 and 1350 rpm`]]);
    expect(factsOf({ bounce: { ...bounce, begins: { afterRpm: null, byRpm: 1200 } } })).toEqual([
      ["Bounce", `${share}; at every speed read, from 1200 rpm on`],
    ]);
    expect(factsOf({ bounce: { ...bounce, begins: null } })).toEqual([
      ["Bounce", `${share}; not at every speed above, so no beginning can be told`],
    ]);
  });

  it("says where openings are missing, and whether only there", () => {
    const vacuum = (changes: object) =>
      factsOf({
        missing: {
          overSpeed: null,
          overVacuum: [{ fromX: 20_000, toX: 27_000, ...PLACES, ...changes }],
        },
      });
    expect(vacuum({ plateDeg: { from: 2.8, to: 6.1 } })).toEqual([
      [
        "Openings missing",
        "48 % at 20.00–27.00 kPa only; the capsule had the plate moved by 2.8 to 6.1° there",
      ],
    ]);
    expect(vacuum({ toX: 20_000, share: 0.0052 })).toEqual([
      ["Openings missing", "0.52 % at 20.00 kPa only"],
    ]);
    expect(vacuum({ soundBetween: 1 })[0]?.[1]).toBe("48 % at 20.00–27.00 kPa at some places");
    const everywhere = { soundBelow: 0, soundAbove: 0 };
    expect(vacuum(everywhere)[0]?.[1]).toBe("48 % at 20.00–27.00 kPa everywhere it was read");
    const overSpeed = { fromX: 1799.9, toX: 2640, ...PLACES };
    expect(factsOf({ missing: { overSpeed, overVacuum: [null] } })).toEqual([
      ["Openings missing", "48 % at 1800–2640 rpm only"],
    ]);
  });

  it("gives the scatter in its parts, and none where chance explains it", () => {
    const scatter = {
      fixed: trend(at(180, 0.15, 0.38), at(2640, 0.15, 0.012), false),
      oncePerTurn: null,
      random: trend(at(180, 0.1, 0.001), at(2640, 0.38, 0.001), true),
    };
    expect(factsOf({ scatter })).toEqual([
      [
        "Scatter of the lobes",
        "none above 0.38° at 180, 0.15° at 2640 rpm; the same within ± 0.02°",
      ],
      ["Scatter by chance", "0.10° at 180, 0.38° at 2640 rpm; grows by 0.28 ± 0.02°"],
    ]);
    const nothing = trend(at(180, 0.1, 0.38), at(2640, 0.01, 0.012), false);
    expect(factsOf({ scatter: { ...scatter, fixed: nothing } })[0]).toEqual([
      "Scatter of the lobes",
      "none above 0.38°",
    ]);
    const alone = { ...scatter, fixed: null, random: { low: at(180, 0.1, 0.001), change: null } };
    expect(factsOf({ scatter: alone })).toEqual([["Scatter by chance", "0.10° at 180 rpm"]]);
  });
});
