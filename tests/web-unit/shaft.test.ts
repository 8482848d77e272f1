// Speed and advance as they are shown at either shaft; what is stored is the distributor's.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RowVerdict } from "../../core/documents.ts";
import { comparedRecord } from "../../core/records/compare.ts";
import { curveModel, livePoint } from "../../web/src/curveModel.ts";
import { comparedModel, overlayModel } from "../../web/src/overlayModel.ts";
import { mergeAll } from "../../web/src/runView.ts";
import { atShownShaft, rowAtShownShaft, showAt } from "../../web/src/shaft.ts";
import { de } from "../../web/src/words/de/index.ts";
import { en } from "../../web/src/words/en/index.ts";
import { inventedUnit, runDocuments, startDocument } from "../sheet/fixture.ts";

const row: RowVerdict = {
  about: "speed",
  capsule: null,
  branch: "rising",
  printed: "4 at 800",
  x: 800,
  measured: 3.5,
  expandedUncertainty: 0.1,
  limits: { min: 3, max: null },
  unit: "deg",
  verdict: "within",
};
const speed = { kind: "speed" } as const;
const vacuum = { kind: "vacuum", capsule: 0, unit: "kPa" } as const;
const ended = mergeAll(runDocuments);

afterEach(() => showAt("distributor"));

it("shows the distributor's figures as they are until another shaft is asked for", () => {
  expect([atShownShaft(800, 2), atShownShaft(7.5, 2)]).toEqual([800, 7.5]);
  expect(rowAtShownShaft(row, 2)).toEqual(row);
});

describe("at the crankshaft", () => {
  beforeEach(() => showAt("crankshaft"));

  it.each([
    [800, 2, 1600],
    [-0.5, 2, -1],
    [7, 1, 7],
  ])("%d at a drive ratio of %d is %d", (distributor, driveRatio, shown) => {
    expect(atShownShaft(distributor, driveRatio)).toBe(shown);
  });

  it("turns a row's figures by the unit's own ratio, and a start's speeds", () => {
    expect(rowAtShownShaft(row, 2)).toMatchObject({
      measured: 7,
      expandedUncertainty: 0.2,
      limits: { min: 6, max: null },
    });
    expect(rowAtShownShaft(row, 1)).toEqual(row);
    const start = { ...row, unit: "rpm", measured: 410, limits: { min: 400, max: 500 } } as const;
    expect(rowAtShownShaft(start, 2)).toMatchObject({
      measured: 820,
      limits: { min: 800, max: 1000 },
    });
    expect(rowAtShownShaft({ ...row, measured: 0 }, 2).measured).toBe(0);
    expect(rowAtShownShaft({ ...row, about: "vacuum" }, 2).measured).toBe(7);
    expect(rowAtShownShaft({ ...row, about: "return" }, 2).measured).toBe(7);
  });

  it.each([
    { ...row, about: "dwell" as const },
    { ...row, about: "scatter" as const },
    { ...row, about: "hold" as const, unit: "Pa" as const },
    { ...row, about: "vacuum" as const, unit: "Pa" as const },
  ])("leaves $about in $unit, which is no shaft's or the cam's own", (one) => {
    expect(rowAtShownShaft(one, 2)).toEqual(one);
  });

  it("draws curve, band, uncertainty and axes of a run at it", () => {
    const model = curveModel(ended, speed);
    expect(model.falling[0]).toEqual({ x: 801.2, y: 0.22 });
    expect(model.bars[1]).toEqual({ kind: "upright", x: 1600, minDeg: 6, maxDeg: 10 });
    expect(model.bars[4]).toEqual({ kind: "span", fromX: 5200, toX: 6000, minDeg: 24, maxDeg: 28 });
    expect(model.xAxis).toEqual({ min: 0, max: 6000, step: 1000 });
    expect(model.yAxis.max).toBe(30);
    const underWay = mergeAll(runDocuments.filter(({ type }) => type !== "end"));
    expect(curveModel(underWay, speed).table[2]).toEqual({
      x: 1601.2,
      y: 7.48,
      branch: "rising",
      expandedUncertaintyDeg: 2 * 1.96 * 0.06,
    });
  });

  it("leaves vacuums, and turns the advance over them", () => {
    const { rising, bars } = curveModel(ended, vacuum);
    expect(rising[4]?.x).toBeCloseTo(33.8646, 9);
    expect(rising[4]?.y).toBe(12.62);
    expect(bars[2]).toMatchObject({ maxDeg: 18 });
  });

  it("moves the cross of now with the curve", () => {
    const live = {
      type: "live",
      runS: 1,
      speedRpm: 790,
      targetRpm: 800,
      advanceDeg: 3.5,
      vacuumPa: null,
      targetPa: null,
      lobeDeviationsDeg: [],
    } as const;
    const step = {
      type: "step",
      step: "speed",
      capsule: null,
      branch: "rising",
      targetRpm: 800,
      targetPa: null,
      done: 0,
      total: 1,
      remainingS: 1,
    } as const;
    expect(livePoint(mergeAll([startDocument, step, live]), speed)).toEqual({ x: 1580, y: 7 });
  });

  it("turns each of compared curves by its own unit's ratio, and a band alone", () => {
    const record = comparedRecord(runDocuments);
    const direct = { ...record, unit: { ...record.unit, driveRatio: 1 } };
    const { lines } = comparedModel([record, direct], speed);
    expect(lines.map(({ rising }) => rising.at(-1)?.y)).toEqual([27.28, 13.64]);
    expect(overlayModel(speed, inventedUnit.speedBand, 2, []).xAxis.max).toBe(6000);
  });
});

it("says in both languages which shaft it is", () => {
  const said = ({ chart, live }: Pick<typeof en, "chart" | "live">) =>
    (["distributor", "crankshaft"] as const).map((shaft) => [
      chart.x.speed(shaft),
      chart.y(shaft),
      live.advance(shaft),
    ]);
  expect(said(en)).toEqual([
    ["distributor rpm", "distributor degrees", "Advance, distributor"],
    ["crankshaft rpm", "crankshaft degrees", "Advance, crankshaft"],
  ]);
  expect(said(de as unknown as typeof en)).toEqual([
    ["U/min am Verteiler", "Grad am Verteiler", "Verstellung am Verteiler"],
    ["U/min an der Kurbelwelle", "Grad an der Kurbelwelle", "Verstellung an der Kurbelwelle"],
  ]);
});
