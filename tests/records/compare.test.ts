// Records side by side: what is said of the mixture, and the rows with their differences.
import { describe, expect, it } from "vitest";
import type { RowVerdict, RunResult } from "../../core/documents.ts";
import {
  type ComparedRecord,
  comparedRecord,
  comparedRows,
  mixtureOf,
} from "../../core/records/compare.ts";
import { largestAdvance } from "../../core/records/listed.ts";
import { inventedUnit, RECORD_ID, runDocuments } from "../sheet/fixture.ts";

const first = comparedRecord(runDocuments);

function withRows(change: (row: RowVerdict) => RowVerdict | null): ComparedRecord {
  const rows = first.result.rows.flatMap((row) => change(row) ?? []);
  return { ...first, recordId: "other", result: { ...first.result, rows } };
}

describe("records side by side", () => {
  it("are told by what their start says", () => {
    expect(first).toMatchObject({ recordId: RECORD_ID, isSimulated: true, isByHand: false });
    expect(mixtureOf([first, first])).toEqual({
      isPartSimulated: false,
      isPartByHand: false,
      isOfSeveralUnits: false,
      hasSeveralBands: false,
    });
  });

  it("are said to be simulated in part, of several units, judged by several bands", () => {
    const measured = { ...first, isSimulated: false, isByHand: true };
    expect(mixtureOf([first, measured])).toMatchObject({
      isPartSimulated: true,
      isPartByHand: true,
    });
    const other = { ...first, unit: { ...inventedUnit, stampedNumber: "BW 4102 A" } };
    expect(mixtureOf([first, other])).toMatchObject({ isOfSeveralUnits: true });
    const loose = { ...first, unit: { ...inventedUnit, speedBand: null } };
    expect(mixtureOf([first, loose])).toMatchObject({
      isOfSeveralUnits: false,
      hasSeveralBands: true,
    });
  });

  it("have each row once, with the difference from the first", () => {
    const other = withRows((row) => ({
      ...row,
      measured: row.measured === null ? null : row.measured + 1.5,
      expandedUncertainty: 0.4,
    }));
    const sure = withRows((row) => ({ ...row, expandedUncertainty: 0.3 }));
    const rows = comparedRows([sure, other]);
    expect(rows).toHaveLength(first.result.rows.length);
    const [row] = rows.filter(({ row }) => row.measured !== null);
    expect(row?.differences[0]).toBeNull();
    expect(row?.differences[1]?.value).toBeCloseTo(1.5, 12);
    expect(row?.differences[1]?.expandedUncertainty).toBeCloseTo(0.5, 12);
  });

  it("leave a place empty where a record has no such row, and tell no difference", () => {
    const printed = first.result.rows[0]?.printed;
    const fewer = withRows((row) => (row.printed === printed ? null : row));
    const found = comparedRows([first, fewer]).find(({ row }) => row.printed === printed);
    expect(found?.figures[1]).toBeNull();
    expect(found?.differences).toEqual([null, null]);
  });
});

describe("the largest advance", () => {
  const point = (x: number, advanceDeg: number) => ({
    x,
    targetX: x,
    advanceDeg,
    standardUncertaintyDeg: 0.05,
    coverageFactor: 2,
    budget: [],
  });
  const speed = (rising: number[], falling: number[]): RunResult["speed"] => ({
    rising: rising.map((deg, i) => point(500 * (i + 1), deg)),
    falling: falling.map((deg, i) => point(500 * (i + 1), deg)),
  });

  it("is the rising branch's, at the first speed that has it", () => {
    expect(largestAdvance(speed([0, 9.5, 9.5], [0, 12]))).toEqual({
      advanceDeg: 9.5,
      expandedUncertaintyDeg: 0.1,
      speedRpm: 1000,
      branch: "rising",
    });
  });

  it("is the falling one's where nothing was read rising, and none without readings", () => {
    expect(largestAdvance(speed([], [2, 3]))).toMatchObject({ advanceDeg: 3, branch: "falling" });
    expect(largestAdvance(speed([], []))).toBeNull();
  });
});
