// What the charts of advance draw.
import { describe, expect, it } from "vitest";
import type { LiveDocument, StepDocument } from "../../core/documents.ts";
import { apart, curveModel, livePoint } from "../../web/src/curveModel.ts";
import { emptyRun, mergeAll, mergeDocument } from "../../web/src/runView.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";

const speed = { kind: "speed" } as const;
const vacuum = { kind: "vacuum", capsule: 0, unit: "kPa" } as const;
const ended = mergeAll(runDocuments);
const underWay = mergeAll(runDocuments.filter(({ type }) => type !== "end"));

const step: StepDocument = {
  type: "step",
  step: "speed",
  capsule: null,
  branch: "rising",
  targetRpm: 800,
  targetPa: null,
  done: 0,
  total: 1,
  remainingS: 1,
};
const live: LiveDocument = {
  type: "live",
  runS: 1,
  speedRpm: 790,
  targetRpm: 800,
  advanceDeg: 3.5,
  vacuumPa: 20_000,
  targetPa: null,
  lobeDeviationsDeg: [],
};

describe("points", () => {
  it("are the readings while the run goes on", () => {
    const model = curveModel(underWay, speed);
    expect(model.rising).toHaveLength(10);
    expect(model.rising[2]).toEqual({ x: 800.6, y: 3.74 });
    expect(model.falling).toEqual([]);
    expect(model.table[2]).toEqual({
      x: 800.6,
      y: 3.74,
      branch: "rising",
      expandedUncertaintyDeg: 1.96 * 0.06,
    });
  });

  it("are the judged curves after the end, vacuum in kilopascals", () => {
    expect(curveModel(ended, speed).falling[0]).toEqual({ x: 400.6, y: 0.11 });
    const { rising, falling } = curveModel(ended, vacuum);
    expect(rising[4]?.x).toBeCloseTo(33.8646, 9);
    expect(rising[4]?.y).toBe(6.31);
    expect(falling).toHaveLength(7);
  });

  it("stand in the order of x though the falling branch came from above", () => {
    const points = underWay.points
      .filter(({ sweep }) => sweep === "speed")
      .map((point) => ({ ...point, branch: "falling" }) as const)
      .reverse();
    const xs = curveModel({ ...underWay, points }, speed).falling.map(({ x }) => x);
    expect(xs.slice(0, 3)).toEqual([400.6, 600.6, 800.6]);
  });

  it("of a capsule that the unit lacks are none", () => {
    expect(curveModel(ended, { kind: "vacuum", capsule: 1, unit: "kPa" }).table).toEqual([]);
  });
});

describe("the live point", () => {
  const during = (changes: Partial<StepDocument>) =>
    mergeDocument(mergeDocument(underWay, { ...step, ...changes }, 0), live, 0);

  it("is on the chart of the sweep in progress alone", () => {
    expect(livePoint(during({}), speed)).toEqual({ x: 790, y: 3.5 });
    expect(livePoint(during({}), vacuum)).toBeNull();
    const inVacuum = during({ step: "vacuum", capsule: 0 });
    expect(livePoint(inVacuum, speed)).toBeNull();
    expect(livePoint(inVacuum, vacuum)).toEqual({ x: 20, y: 3.5 });
  });

  it("goes with the end of the run", () => {
    expect(livePoint({ ...during({}), end: ended.end }, speed)).toBeNull();
  });

  it("does not move the axes", () => {
    const far = mergeDocument(during({}), { ...live, advanceDeg: 60 }, 0);
    expect(curveModel(far, speed).yAxis).toEqual(curveModel(during({}), speed).yAxis);
  });
});

describe("printed rows", () => {
  it("become bars at their place, spans below and beyond, and a begin on zero", () => {
    const { bars } = curveModel(ended, speed);
    expect(bars[0]).toEqual({ kind: "span", fromX: 0, toX: 450, minDeg: -0.5, maxDeg: 0.5 });
    expect(bars[1]).toEqual({ kind: "upright", x: 800, minDeg: 3, maxDeg: 5 });
    expect(bars[4]).toEqual({ kind: "span", fromX: 2600, toX: 3000, minDeg: 12, maxDeg: 14 });
    const [begin, , end] = curveModel(ended, vacuum).bars;
    expect(begin).toEqual({ kind: "begin", fromX: 10.159, toX: 16.932 });
    expect(end).toMatchObject({ kind: "span", minDeg: null, maxDeg: 9 });
  });

  it("put an end without a place over the last fifth", () => {
    const band = startDocument.unit.speedBand;
    if (band === null) throw new Error("the fixture has a speed band");
    const rows = [
      { kind: "end", printed: "14", x: null, limitsDeg: { min: 13, max: 15 } },
    ] as const;
    const unit = { ...startDocument.unit, speedBand: { ...band, rows } };
    const view = mergeDocument(emptyRun, { ...startDocument, unit }, 0);
    expect(curveModel(view, speed).bars).toEqual([
      { kind: "span", fromX: 2400, toX: 3000, minDeg: 13, maxDeg: 15 },
    ]);
  });
});

describe("axes", () => {
  it("hold plan, rows and readings from the start, and stand still", () => {
    const atStart = curveModel(mergeDocument(emptyRun, startDocument, 0), speed);
    expect(atStart.xAxis).toEqual({ min: 0, max: 3000, step: 500 });
    expect(atStart.yAxis).toEqual({ min: -2, max: 14, step: 2 });
    expect(curveModel(ended, speed).yAxis).toEqual(atStart.yAxis);
  });

  it("do not shrink to noise without a run", () => {
    expect(curveModel(emptyRun, vacuum).yAxis).toEqual({ min: -1, max: 4, step: 1 });
  });
});

it("draws one point of those on the same pixel, and all that lie apart", () => {
  const axes = {
    xAxis: { min: 0, max: 1000, step: 100 },
    yAxis: { min: 0, max: 10, step: 1 },
  };
  const size = { width: 100, height: 50 };
  const points = [
    { x: 500, y: 5 },
    { x: 501, y: 5.01 },
    { x: 510, y: 5 },
    { x: 510, y: 5.3 },
  ];
  expect(apart(points, axes, size)).toEqual([points[0], points[2], points[3]]);
  const many = Array.from({ length: 10_000 }, (_, i) => ({ x: i / 10, y: i / 1000 }));
  // The first, 100 steps to the next column and 50 to the next line, none of them at once.
  expect(apart(many, axes, size)).toHaveLength(151);
});
