// What a chart of several curves draws, and days as moments.
import { describe, expect, it } from "vitest";
import { comparedRecord } from "../../core/records/compare.ts";
import { dayEndUtc, dayStartUtc } from "../../web/src/days.ts";
import { comparedModel, comparedSubjects, overlayModel } from "../../web/src/overlayModel.ts";
import { inventedUnit, runDocuments } from "../sheet/fixture.ts";

const record = comparedRecord(runDocuments);

describe("curves on one chart", () => {
  it("have a letter each, and the first one's band", () => {
    const model = comparedModel([record, record], { kind: "speed" });
    expect(model.lines.map(({ letter }) => letter)).toEqual(["A", "B"]);
    expect(model.lines[0]?.rising.at(-1)?.y).toBe(13.64);
    expect(model.bars).toHaveLength(5);
    expect(model.yAxis.max).toBe(14);
  });

  it("are of vacuum in kilopascals, for each capsule that was read", () => {
    expect(comparedSubjects([record], "kPa")).toEqual([
      { kind: "speed" },
      { kind: "vacuum", capsule: 0, unit: "kPa" },
    ]);
    const none = { ...record, result: { ...record.result, capsules: [] } };
    expect(comparedSubjects([none], "kPa")).toEqual([{ kind: "speed" }]);
    const model = comparedModel([none, record], { kind: "vacuum", capsule: 0, unit: "kPa" });
    expect(model.lines[0]).toEqual({ letter: "A", rising: [], falling: [] });
    expect(model.xAxis.max).toBeLessThan(101);
  });

  it("may be a band alone", () => {
    const model = overlayModel({ kind: "speed" }, inventedUnit.speedBand, 2, []);
    expect([model.lines, model.bars.length, model.xAxis.max]).toEqual([[], 5, 3000]);
  });
});

describe("a day", () => {
  it("reaches from its first moment to that of the next, over the end of a year", () => {
    const from = dayStartUtc("2031-12-31") ?? "";
    const to = dayEndUtc("2031-12-31") ?? "";
    expect(new Date(to).getTime() - new Date(from).getTime()).toBe(24 * 3600 * 1000);
    expect(new Date(from).getDate()).toBe(31);
    expect(dayStartUtc("")).toBeNull();
  });
});
