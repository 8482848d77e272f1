// The owner's page as a model: what it says, what it leaves out, and that what is not known stays so.
import { describe, expect, it } from "vitest";
import { ENGINE_CAUTIONS, SHORT_ENGINE_CAUTIONS } from "../../core/cautions.ts";
import type { RunDocument } from "../../core/documents.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { type OwnerSubject, ownerSheet } from "../../core/papers/owner.ts";
import { earlierRuns } from "../../core/sheet/earlier.ts";
import type { Block, Sheet } from "../../core/sheet/model.ts";
import { endDocument, inventedUnit, runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded, engine, finding } from "./fixture.ts";

const options = { paper: "a4", vacuumUnit: "kPa" } as const;
const alone: OwnerSubject = { documents: runDocuments, earlier: [], card: null };

/** A real unit on a real rig. */
const realStart = {
  ...startDocument,
  unit: { ...inventedUnit, invented: false, engine },
  rig: { ...startDocument.rig, simulated: false, scenario: null },
};
const real: readonly RunDocument[] = [realStart, ...runDocuments.slice(1)];

const sheetOf = (changes: Partial<OwnerSubject> = {}): Sheet =>
  ownerSheet({ ...alone, ...changes }, options);

function only<K extends Block["kind"]>({ blocks }: Sheet, kind: K): Extract<Block, { kind: K }>[] {
  return blocks.filter((block): block is Extract<Block, { kind: K }> => block.kind === kind);
}

function fact(sheet: Sheet, label: string): string | undefined {
  return only(sheet, "facts")
    .flatMap(({ facts }) => facts)
    .find((one) => one.label === label)?.value;
}

const tables = (sheet: Sheet) => only(sheet, "tables").flatMap((block) => block.tables);

describe("the curve", () => {
  it("has start, middle and end at both shafts, and the hold", () => {
    const [travel] = tables(sheetOf());
    expect(travel?.groups.map(({ text }) => text)).toEqual(["", "as measured, 2031-03-14"]);
    // Between the readings at 1000.6 and 1200.6 rpm: 1000.6 + 200 · (6.82 − 5.61) / (7.35 − 5.61).
    expect(travel?.rows.map(({ cells }) => cells).slice(1, 3)).toEqual([
      ["speed, middle", "6.8° at 1140 rpm", "13.6° at 2279 rpm"],
      ["speed, end", "13.6° at 2601 rpm", "27.3° at 5201 rpm"],
    ]);
    // 2 × 8.12.
    expect(travel?.rows.map(({ cells }) => cells).slice(-2)).toEqual([
      ["Advance capsule, end", "8.1° at 50.80 kPa", "16.2° at 50.80 kPa"],
      ["Advance capsule, hold", "lost 1.64 kPa in 30 s", ""],
    ]);
  });

  it("stands as received and as returned in one table and one picture", () => {
    const later = { ...startDocument, recordId: "later", startedUtc: "2031-03-15T10:00:00.000Z" };
    const sheet = sheetOf({
      documents: [later, ...runDocuments.slice(1)],
      earlier: earlierRuns([runDocuments, runDocuments]),
    });
    expect(tables(sheet)[0]?.groups.map(({ text }) => text)).toEqual([
      "",
      "as received, 2031-03-14",
      "as returned, 2031-03-15",
    ]);
    const [speed, vacuum] = only(sheet, "pictures").flatMap(({ pictures }) => pictures);
    expect(speed?.title).toBe(
      "Advance over speed. Solid: as returned. Dotted: as received. Grey: limits.",
    );
    for (const picture of [speed, vacuum]) {
      expect(picture?.lines.map(({ look }) => look)).toEqual(["as received", "rising"]);
    }
  });

  it("says what a run that never began to advance does not tell", () => {
    const flat = endDocument.result.speed.rising.map((point) => ({ ...point, advanceDeg: 0 }));
    const result = { ...endDocument.result, speed: { rising: flat, falling: [] } };
    const documents = [...runDocuments.slice(0, -1), { ...endDocument, result }];
    expect(
      tables(sheetOf({ documents }))[0]
        ?.rows.slice(0, 3)
        .map(({ cells }) => cells),
    ).toEqual([
      ["speed, start", "not told", ""],
      ["speed, middle", "not told", ""],
      ["speed, end", "0.0° at 2901 rpm, no farther read", "0.0° at 5801 rpm"],
    ]);
  });
});

describe("the card", () => {
  it("is told as far as it goes", () => {
    const sheet = sheetOf({ card });
    expect(fact(sheet, "Job")).toBe("2031-014");
    expect(fact(sheet, "Car")).toBe("Saloon, 1½ litre");
    expect(fact(sheet, "Received")).toBeUndefined();
    expect(fact(sheet, "Stamped number")).toBe("BW 4101 A 12 66");
    expect(fact(sheet, "Parts replaced")).toBe("Contacts; Diaphragm capsule");
    expect(fact(sheet, "Gap as set")).toBe("0.40 mm, found at 0.25 mm");
    expect(fact(sheet, "Dwell")).toBe("60.4°, 67 % of the lobe spacing");
  });

  it.each([null, EMPTY_CARD])("leaves what nobody wrote not known", (empty) => {
    const sheet = sheetOf({ card: empty });
    expect(fact(sheet, "Owner")).toBeUndefined();
    expect(fact(sheet, "Stamped number")).toBe("BW 4101 A");
    expect(fact(sheet, "Parts replaced")).toBe("not known");
    expect(fact(sheet, "Gap as set")).toBe("not known");
  });

  it("invents no gap, dwell or specification where there is none", () => {
    const unit = {
      ...inventedUnit,
      stampedNumber: null,
      trigger: { kind: "hall", firingEdge: "a" } as const,
      speedBand: null,
      capsules: [],
    };
    const result = { ...endDocument.result, dwellDeg: null, capsules: [] };
    const sheet = sheetOf({
      documents: [
        { ...startDocument, unit },
        { ...endDocument, result },
      ],
    });
    expect(fact(sheet, "Gap as set")).toBeUndefined();
    expect(fact(sheet, "Dwell")).toBeUndefined();
    expect(fact(sheet, "Stamped number")).toBe("not known");
    expect(fact(sheet, "Specification")).toBe("not known");
  });

  it("cuts long sources, never what stands behind them", () => {
    const sheet = sheetOf(crowded);
    expect(fact(sheet, "Speed, the user's own target")).toMatch(
      /^A long text .*…\. Judged on both branches\. .* is the workshop's own tolerance, not the maker's\.$/,
    );
    expect(fact(sheet, "Initial timing")).toMatch(/, vacuum line off and plugged$/);
    expect(fact(sheet, "Capsule fed by")).toMatch(/: almost none at idle$/);
  });

  it("says how many parts more there are than find room", () => {
    expect(fact(sheetOf(crowded), "Parts replaced")).toMatch(/…; and 49 more on the job card$/);
  });
});

describe("the engine", () => {
  it("has initial timing with its speed, the port, and at most six marks", () => {
    const sheet = sheetOf({ documents: real });
    expect(fact(sheet, "Initial timing")).toBe(
      "8° before top dead centre, set at 600 engine rpm, vacuum line off and plugged",
    );
    expect(fact(sheet, "Capsule fed by")).toBe(
      "a port above the throttle plate: almost none at idle",
    );
    // The capsule's curve still rises at its end, below the vacuum of an engine without load.
    const marks = tables(sheet)[1];
    expect(marks?.columns.map(({ head }) => head)).toEqual([
      "engine rpm",
      "line plugged",
      "by specification",
    ]);
    expect(marks?.rows).toHaveLength(6);
    expect(marks?.rows[0]).toMatchObject({ cells: ["600", "8.0 as set", "–"] });
    expect(marks?.rows.at(-1)?.cells[0]).toBe("4000");
  });

  it("says what is not known of it", () => {
    const [text] = only(sheetOf(), "paragraph");
    expect(text?.text).toMatch(/^Initial timing, .* are not known here: take them from/);
    expect(tables(sheetOf())).toHaveLength(1);
  });

  it("has every caution, in fewer words only where the page would overflow", () => {
    const lists = (sheet: Sheet) => only(sheet, "list").map(({ items }) => items);
    const paragraphs = (sheet: Sheet) => only(sheet, "paragraph").map(({ text }) => text);
    const short = SHORT_ENGINE_CAUTIONS.join(" ");
    expect(SHORT_ENGINE_CAUTIONS).toHaveLength(ENGINE_CAUTIONS.length);
    const roomy = sheetOf({ documents: real });
    expect(roomy.print).toBe("usual");
    expect(lists(roomy)).toContainEqual(ENGINE_CAUTIONS);
    expect(paragraphs(roomy)).not.toContain(short);
    const tight = sheetOf(crowded);
    expect(tight.print).toBe("smallest");
    expect(lists(tight)).not.toContainEqual(ENGINE_CAUTIONS);
    expect(paragraphs(tight)).toContain(short);
  });
});

describe("honesty", () => {
  it("keeps banners, ending and verdict of the test sheet", () => {
    expect(only(sheetOf(), "banner").map(({ text }) => text)).toEqual([
      "SIMULATED — not a measurement of a real unit",
      "INVENTED UNIT",
    ]);
    expect(only(sheetOf({ documents: real }), "banner")).toEqual([]);
    expect(only(sheetOf(), "verdict")[0]).toMatchObject({ text: "Too close to call" });
    expect(sheetOf().foot).toBe(`SIMULATED. Record ${startDocument.recordId}`);
    expect(fact(sheetOf(), "Rig last checked")).toBe("never: this rig has never been checked");
  });

  it("has a line a finding, the serious ones as banners, and counts those left out", () => {
    const findings = {
      found: [
        finding("spring-light", false),
        finding("cam-worn", false),
        finding("stop-worn", true),
        finding("weights-dry", false),
        finding("shaft-bent", false),
      ],
      notTestable: [],
    };
    const sheet = sheetOf({ documents: [realStart, { ...endDocument, findings }] });
    expect(only(sheet, "banner").map(({ text }) => text)).toEqual([
      "Travel beyond the specification's end: worn stop, or its bush gone",
    ]);
    expect(only(sheet, "list")[0]?.items).toEqual([
      "Light or wrong spring: early and steeper. Likely (80 of 100).",
      "Worn cam: fixed lobe error. Likely (80 of 100).",
      "Weights move dry: wide gap between rising and falling. Likely (80 of 100).",
      "1 more on the workshop's sheet.",
    ]);
  });
});
