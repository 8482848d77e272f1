// What a delay that cannot be ruled out leaves open.
import { expect, it } from "vitest";
import type { CurvePoint, RowVerdict } from "../../core/documents.ts";
import { leftOpen } from "../../core/findings/explained.ts";

const ROW: RowVerdict = {
  about: "speed",
  capsule: null,
  branch: "rising",
  printed: "9° at 1200 rpm",
  x: 1200,
  measured: 9.8,
  expandedUncertainty: 0.1,
  limits: { min: 8, max: 10 },
  unit: "deg",
  verdict: "within",
};
/** 0.6° late at 1200 rpm. */
const DELAY = { us: 100, referenceRpm: 200 };

const TOP: CurvePoint = {
  x: 1700,
  targetX: 1700,
  advanceDeg: 9.8,
  standardUncertaintyDeg: 0.05,
  coverageFactor: 2,
  budget: [],
};

const opened = (rows: readonly RowVerdict[], isLikely = false) =>
  leftOpen({ rows, speed: { rising: [TOP], falling: [] } }, { ...DELAY, isLikely });
const verdicts = (rows: readonly RowVerdict[]) => rows.map(({ verdict }) => verdict);

it("passes no advance that may be beyond its limit without the delay", () => {
  // 10.4 ± 0.1 and 9.8 ± 0.1.
  const rows = opened([ROW, { ...ROW, measured: 9.2 }]);
  expect(verdicts(rows)).toEqual(["unproven", "within"]);
  expect(rows.map(({ isOpenByDelay }) => isOpenByDelay)).toEqual([true, undefined]);
});

it("takes a largest advance without a place at the highest speed", () => {
  const end = { ...ROW, x: null, measured: 9.2 };
  // 0.9° late at 1700 rpm: 10.1 ± 0.1.
  expect(verdicts(opened([end, { ...end, measured: 9 }]))).toEqual(["unproven", "within"]);
});

it("leaves what a delay cannot carry out of its limits", () => {
  const others: RowVerdict[] = [
    { ...ROW, limits: { min: 8, max: null } },
    { ...ROW, about: "vacuum" },
    { ...ROW, unit: "rpm" },
    { ...ROW, measured: null },
  ];
  expect(opened(others)).toEqual(others);
});

it("blames no unit for a delay that is likely, and for nothing else", () => {
  const short: RowVerdict = { ...ROW, measured: 7.6, verdict: "outside" };
  const far: RowVerdict = { ...ROW, measured: 10.5, verdict: "outside" };
  const shorter: RowVerdict = { ...ROW, measured: 7, verdict: "outside" };
  expect(verdicts(opened([short, far, shorter], true))).toEqual(["unproven", "outside", "outside"]);
  expect(verdicts(opened([short, far, shorter]))).toEqual(["outside", "outside", "outside"]);
});
