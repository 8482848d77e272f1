// The sheet as a model: what it says of a run, from the run's documents alone.
import { describe, expect, it } from "vitest";
import type { RigCalibration } from "../../core/calibration/calibration.ts";
import type { EndDocument, RowVerdict, RunDocument, StartDocument } from "../../core/documents.ts";
import { recordJson } from "../../core/sheet/json.ts";
import type { Block, Picture, Table } from "../../core/sheet/model.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import {
  endDocument,
  fullCalibration,
  inventedUnit,
  RECORD_ID,
  runDocuments,
  startDocument,
} from "./fixture.ts";
import { rich } from "./rich.ts";

const options = { paper: "a4", vacuumUnit: "inHg" } as const;

function blocksOf(documents: readonly RunDocument[]): readonly Block[] {
  return buildSheet(documents, options).blocks;
}

function only<K extends Block["kind"]>(
  documents: readonly RunDocument[],
  kind: K,
): Extract<Block, { kind: K }>[] {
  return blocksOf(documents).filter((block) => block.kind === kind) as Extract<
    Block,
    { kind: K }
  >[];
}

const pictures = (documents: readonly RunDocument[]): Picture[] =>
  only(documents, "pictures").flatMap((block) => block.pictures);
const tables = (documents: readonly RunDocument[]): Table[] =>
  only(documents, "tables").flatMap((block) => block.tables);

function fact(documents: readonly RunDocument[], label: string): string | undefined {
  return only(documents, "facts")
    .flatMap(({ facts }) => facts)
    .find((one) => one.label === label)?.value;
}

function withStart(changes: Partial<StartDocument>): RunDocument[] {
  return [{ ...startDocument, ...changes }, ...runDocuments.slice(1)];
}

function withEnd(changes: Partial<EndDocument>): RunDocument[] {
  return [...runDocuments.slice(0, -1), { ...endDocument, ...changes }];
}

describe("honesty", () => {
  it("says large that a simulated run is one, and an invented unit too", () => {
    expect(only(runDocuments, "banner").map(({ text }) => text)).toEqual([
      "SIMULATED — not a measurement of a real unit",
      "INVENTED UNIT",
    ]);
    expect(buildSheet(runDocuments, options).foot).toBe(`SIMULATED. Record ${RECORD_ID}`);
  });

  it("says neither of a real unit on a real rig", () => {
    const rig = { ...startDocument.rig, simulated: false, scenario: null };
    const real = withStart({ rig, unit: { ...inventedUnit, invented: false } });
    expect(only(real, "banner")).toEqual([]);
    expect(buildSheet(real, options).foot).toBe(`Record ${RECORD_ID}`);
  });

  it("says where a tolerance is the workshop's own, and where the rig was never checked", () => {
    expect(fact(runDocuments, "Speed, limits")).toBe(
      "Invented specification, advance table. Judged on both branches. Where the print gives no limits, ± 1° (distributor) is the workshop's own tolerance, not the maker's.",
    );
    expect(fact(runDocuments, "Advance capsule, limits")).toBe(
      "Invented specification, capsule table. Judged on the rising branch. Limits as printed.",
    );
    expect(fact(runDocuments, "Rig last checked")).toBe("never: this rig has never been checked");
  });

  it("says of each part of the rig when it was last checked, and what never was", () => {
    const none = { delay: null, pickup: null, coupling: null, vacuum: null };
    const checked = (calibration: Partial<RigCalibration>) => {
      const rig = { ...startDocument.rig, calibration: { ...none, ...calibration } };
      return fact(withStart({ rig }), "Rig last checked");
    };
    const { delay, pickup, coupling, vacuum } = fullCalibration;
    expect(checked({ delay, vacuum })).toBe(
      "delay 2031-11-02, vacuum sensor 2031-10-12; pickup and coupling never",
    );
    expect(checked({ delay })).toBe("delay 2031-11-02; pickup, coupling and vacuum sensor never");
    expect(checked({ delay, pickup, vacuum })).toBe(
      "delay 2031-11-02, pickup 2031-09-01, vacuum sensor 2031-10-12; coupling never",
    );
    expect(checked({ delay, pickup, coupling, vacuum })).toBe(
      "delay 2031-11-02, pickup 2031-09-01, coupling 2031-09-02, vacuum sensor 2031-10-12",
    );
    expect(checked({})).toBe("never: this rig has never been checked");
  });
});

describe("the verdict in words", () => {
  it.each([
    ["within", "Within specification"],
    ["outside", "Outside specification"],
    ["unproven", "Too close to call"],
    [null, "Not judged"],
  ] as const)("%s is %s", (verdict, text) => {
    const judged = withEnd({ result: { ...endDocument.result, verdict } });
    expect(only(judged, "verdict")).toMatchObject([{ verdict, text }]);
  });

  it("says that rows are left open by a delay", () => {
    const rows = endDocument.result.rows.map(
      (row): RowVerdict => ({ ...row, verdict: "unproven", isOpenByDelay: true }),
    );
    const open = withEnd({ result: { ...endDocument.result, rows } });
    expect(only(open, "verdict")[0]?.details).toContain(
      "Some rows are left open: the edges may come late, by condenser or rig, and without that they would read otherwise. See the findings.",
    );
  });

  it("counts what was judged", () => {
    expect(only(runDocuments, "verdict")[0]?.details).toEqual([
      "Nothing is proved outside, but what is marked lies nearer to a limit than the uncertainty.",
      "16 judged: 15 within, 0 outside, 1 too close to call.",
    ]);
  });
});

describe("figures", () => {
  it("stand in distributor and in crankshaft figures, rising beside falling", () => {
    const [, speed, capsule] = tables(runDocuments);
    expect(speed?.rows[2]?.cells).toEqual([
      "800",
      "3.74",
      "4.31",
      "0.12",
      "1600",
      "7.48",
      "8.62",
      "0.24",
    ]);
    expect(capsule?.rows[4]?.cells).toEqual([
      "10.00",
      "6.31",
      "6.98",
      "0.12",
      "12.62",
      "13.96",
      "0.24",
    ]);
  });

  it("give start, middle and end of the rising curve", () => {
    // By hand: the line through 600.6² → 1.4° and 800.6² → 3.74° meets zero at 439.4²;
    // 1000.6 + 200 × (6.82 − 5.61)/1.74; 13.62 is not told from 13.64 with U = 2 × 0.06 × √2.
    expect(fact(runDocuments, "Speed, rising")).toBe(
      "begins at 439 rpm (crankshaft 879); halfway, 6.8°, at 1140 rpm (crankshaft 2279); goes to 13.6° (crankshaft 27.3°), reached at 2601 rpm (crankshaft 5201)",
    );
  });

  it("give hold, dwell, scatter and return", () => {
    expect(fact(runDocuments, "Advance capsule, hold")).toBe(
      "16.00 inHg reached with pump at 41 %; lost 0.48 inHg in 30 s",
    );
    expect(fact(runDocuments, "Dwell")).toBe("60.4°, 67 % of the lobe spacing");
    expect(fact(runDocuments, "Scatter")).toBe("0.30° off even spacing, the worst lobe");
    expect(fact(runDocuments, "Return")).toBe("0.08° left over at 200 rpm after everything");
  });

  it("put every printed row against its limits, both branches in one line", () => {
    const judged = tables(runDocuments)[0];
    expect(judged?.rows).toHaveLength(11);
    expect(judged?.rows[3]).toEqual({
      cells: [
        "speed",
        "10 to 12 at 1800",
        "10 to 12° at 1800 rpm",
        "11.22 ± 0.12°: within",
        "11.94 ± 0.12°: too close to call",
      ],
      strong: true,
    });
    expect(judged?.rows[5]).toEqual({
      cells: ["vacuum", "starts 3 to 5 inHg", "3 to 5 inHg", "3.48 ± 0.18 inHg: within", ""],
      strong: false,
    });
  });
});

describe("pictures", () => {
  it("are the speed curve, the capsule's curve and the trace of the hold", () => {
    expect(
      pictures(runDocuments).map(({ title, lines }) => [title, ...lines.map((l) => l.look)]),
    ).toEqual([
      ["Advance over speed", "rising", "falling"],
      ["Advance capsule: advance over vacuum", "rising", "falling"],
      ["Advance capsule: hold", "trace"],
    ]);
  });

  it("have round axes that hold every reading and limit, and the crankshaft's beside them", () => {
    const speed = pictures(runDocuments)[0];
    expect(speed?.x).toEqual({
      label: "distributor rpm",
      decimalMark: ".",
      min: 0,
      max: 3000,
      step: 500,
      crankshaft: { label: "crankshaft rpm", factor: 2 },
    });
    expect(speed?.y).toMatchObject({ min: -2, max: 16, step: 2 });
  });

  it("draw each printed row as a bar, flagged where it is not within", () => {
    expect(pictures(runDocuments)[0]?.bars).toEqual([
      { fromX: 0, toX: 450, min: -0.5, max: 0.5, flag: "" },
      { fromX: 800, toX: 800, min: 3, max: 5, flag: "" },
      { fromX: 1200, toX: 1200, min: 6.5, max: 8.5, flag: "" },
      { fromX: 1800, toX: 1800, min: 10, max: 12, flag: "close" },
      { fromX: 2600, toX: 3000, min: 12, max: 14, flag: "" },
    ]);
  });

  it("need no crankshaft's axis where the shaft turns with it", () => {
    const same = withStart({ unit: { ...inventedUnit, driveRatio: 1 } });
    expect(pictures(same)[0]?.x.crankshaft).toBeNull();
  });
});

describe("runs cut short", () => {
  const nothing: EndDocument["result"] = {
    ...endDocument.result,
    verdict: null,
    rows: [],
    speed: { rising: [], falling: [] },
    capsules: [],
    rowsNotMeasured: 5,
    dwellDeg: null,
    scatterDeg: null,
    returnDeg: null,
  };

  it("give a sheet that says why, with nothing measured", () => {
    const stopped: RunDocument[] = [
      startDocument,
      {
        ...endDocument,
        ending: "stopped",
        reason: { code: "STOPPED_BY_USER", text: "Stop was pressed." },
        result: nothing,
      },
    ];
    expect(only(stopped, "verdict")).toEqual([
      {
        kind: "verdict",
        verdict: null,
        text: "Not judged",
        details: [
          "The run did not complete (stopped). Stop was pressed. What was measured before is shown.",
          "Of the specification's rows, 5 not measured, or not on every branch.",
        ],
      },
    ]);
    expect([pictures(stopped), tables(stopped)]).toEqual([[], []]);
  });

  it("show the readings so far where the record has no end", () => {
    const cut = runDocuments.slice(0, 14);
    expect(only(cut, "verdict")[0]?.details[0]).toBe(
      "The record has no end: the run was still going, or the program was cut off.",
    );
    const [judged, speed, vacuum] = tables(cut);
    expect([speed?.rows.length, vacuum?.rows.length]).toEqual([4, 7]);
    // The judge works on what there is: 0.6 rpm below the reading of 3.74 at 800.6.
    expect(judged?.rows.map(({ cells }) => cells.slice(1, 5))).toContainEqual([
      "3 to 5 at 800",
      "3 to 5° at 800 rpm",
      "3.73 ± 0.12°: within",
      "",
    ]);
    expect(speed?.rows[3]?.cells).toEqual([
      "1000",
      "5.61",
      "–",
      "0.12",
      "2000",
      "11.22",
      "–",
      "0.24",
    ]);
  });

  it("say so where the hold's target was not reached", () => {
    const [capsule] = endDocument.result.capsules;
    if (capsule?.hold === null || capsule === undefined) throw new Error("fixture has a hold");
    const hold = { ...capsule.hold, reached: false, startPa: 9000, endPa: 8000, pumpEffort: 1 };
    const torn = withEnd({
      result: { ...endDocument.result, capsules: [{ ...capsule, hold }] },
    });
    expect(fact(torn, "Advance capsule, hold")).toBe(
      "16.00 inHg NOT reached: 2.66 inHg with pump at 100 %",
    );
  });
});

it("gives the whole record as JSON", () => {
  expect(JSON.parse(recordJson(runDocuments))).toEqual({
    bobweightRecord: 1,
    documents: runDocuments,
  });
});

it.each(["inHg", "kPa"] as const)(
  "tells the evidence of findings in %s where that is asked for",
  (vacuumUnit) => {
    const sheet = buildSheet(rich, { ...options, vacuumUnit, fingerprint: null }, []);
    const found = JSON.stringify(sheet.blocks.find(({ kind }) => kind === "numbered list"));
    expect(found).toContain(` ${vacuumUnit} ± `);
    expect(found).not.toContain(vacuumUnit === "kPa" ? "inHg" : "kPa");
  },
);
