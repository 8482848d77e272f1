// The owner's sheet of engine figures, and the same as CSV.
import { describe, expect, it } from "vitest";
import { ENGINE_CAUTIONS } from "../../core/cautions.ts";
import { judgeReadings } from "../../core/engine/agreement.ts";
import { judgedReadingsCsv, marksCsv } from "../../core/engine/csv.ts";
import { type EngineCurves, engineMarks } from "../../core/engine/marks.ts";
import { type EngineFigures, engineSheet } from "../../core/engine/sheet.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import type { Table } from "../../core/sheet/model.ts";
import { startDocument } from "../sheet/fixture.ts";
import { CURVES, conditions, FOUR } from "./curves.ts";

const READINGS = [
  { engineRpm: 1600, markCrankshaftDeg: 18, vacuumLine: "plugged" },
  { engineRpm: 2400, markCrankshaftDeg: 30, vacuumLine: "plugged" },
] as const;

function figures(changes: Partial<EngineFigures> = {}): EngineFigures {
  const how = conditions({ engineSpeedsRpm: [800, 2400], source: "invented" });
  const curves: EngineCurves = changes.curves === undefined ? CURVES : changes.curves;
  return {
    unit: FOUR,
    record: startDocument,
    curves,
    conditions: how,
    marks: engineMarks(FOUR, curves, how),
    readings: null,
    ...changes,
  };
}

const sheetOf = (changes: Partial<EngineFigures> = {}) =>
  engineSheet(figures(changes), { paper: "a4", vacuumUnit: "kPa" });

function tablesOf(changes: Partial<EngineFigures> = {}): readonly Table[] {
  return sheetOf(changes).blocks.flatMap((block) => (block.kind === "tables" ? block.tables : []));
}

describe("the sheet", () => {
  it("says what it is of, with the cautions before the marks", () => {
    const { blocks, foot } = sheetOf();
    expect(foot).toBe(`SIMULATED. Record ${startDocument.recordId}`);
    expect(blocks.filter(({ kind }) => kind === "banner")).toHaveLength(2);
    const cautions = blocks.findIndex(
      (block) => block.kind === "list" && block.items === ENGINE_CAUTIONS,
    );
    const table = blocks.findIndex(({ kind }) => kind === "tables");
    expect(cautions).toBeGreaterThan(0);
    expect(table).toBeGreaterThan(cautions);
    const html = sheetHtml(sheetOf());
    expect(html).toContain("10° before top dead centre, set at rest");
    expect(html).toMatch(/Re-time the engine after fitting the unit, and recheck the contact gap/);
  });

  it("has a row a speed, and only the columns that are known", () => {
    const [marks] = tablesOf();
    expect(marks?.columns.map(({ head }) => head)).toEqual([
      "engine rpm",
      "line plugged",
      "line on, no load",
      "line on, cruise at 25.00 kPa",
    ]);
    expect(marks?.rows.map(({ cells }) => cells)).toEqual([
      ["800", "10.0 ± 0.2", "26.0° ± 0.3", "18.0 ± 0.3"],
      ["2400", "26.0 ± 0.2", "42.0° ± 0.3", "34.0 ± 0.3"],
    ]);
  });

  it("has the owner's readings, at the distributor too, what is off in bold", () => {
    const how = conditions();
    const readings = judgeReadings(FOUR, CURVES, how, READINGS);
    const [, table] = tablesOf({ readings });
    expect(table?.rows).toEqual([
      {
        cells: ["1600", "plugged", "18.0", "18.0° ± 0.2", "agrees", "–", "800", "4.0"],
        strong: false,
      },
      {
        cells: ["2400", "plugged", "30.0", "26.0° ± 0.2", "does not agree", "–", "1200", "10.0"],
        strong: true,
      },
    ]);
    const pictures = sheetOf({ readings }).blocks.filter(({ kind }) => kind === "pictures");
    expect(pictures).toHaveLength(1);
  });

  it("says so where nothing was measured", () => {
    const { foot, blocks } = sheetOf({ record: null, curves: null, marks: [] });
    expect(foot).toBe("From the specification alone; no unit was measured");
    expect(blocks[0]).toMatchObject({ aside: "from the specification" });
  });
});

describe("CSV", () => {
  it("has the marks, empty where the curve does not tell", () => {
    const lines = marksCsv(figures().marks).split("\r\n");
    expect(lines[0]?.split(",")).toHaveLength(12);
    expect(lines[2]).toMatch(/^2400,26,0\.196,,,,,42,42,0\.277\d*,34,0\.277\d*$/);
  });

  it("has the readings", () => {
    const judged = judgeReadings(FOUR, CURVES, conditions(), READINGS);
    const lines = judgedReadingsCsv(judged).split("\r\n");
    expect(lines[2]).toBe("2400,plugged,30,26,26,0.196,does not,,1200,10");
  });
});
