// What a delay that cannot be ruled out leaves open.
import { expect, it } from "vitest";
import type { CurvePoint, RowVerdict, RunResult } from "../../core/documents.ts";
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

function resultOf(...rows: RowVerdict[]): RunResult {
  const point: CurvePoint = {
    x: 1700,
    targetX: 1700,
    advanceDeg: 9.8,
    standardUncertaintyDeg: 0.05,
    coverageFactor: 2,
    budget: [],
  };
  return {
    verdict: rows.some(({ verdict }) => verdict === "outside") ? "outside" : "within",
    rows,
    rowsNotMeasured: 0,
    speed: { rising: [point], falling: [] },
    capsules: [],
    dwellDeg: null,
    scatterDeg: null,
    returnDeg: null,
    trigger: null,
  } as unknown as RunResult;
}

it("passes no advance that may be beyond its limit without the delay", () => {
  const { verdict, rows } = leftOpen(resultOf(ROW, { ...ROW, measured: 9.2 }), DELAY);
  // 10.4 ± 0.1 and 9.8 ± 0.1.
  expect(rows.map((row) => row.verdict)).toEqual(["unproven", "within"]);
  expect(rows.map(({ isOpenByDelay }) => isOpenByDelay)).toEqual([true, undefined]);
  expect(verdict).toBe("unproven");
});

it("takes a largest advance without a place at the highest speed", () => {
  const end = { ...ROW, x: null, measured: 9.2 };
  // 0.9° late at 1700 rpm: 10.1 ± 0.1.
  expect(leftOpen(resultOf(end), DELAY).verdict).toBe("unproven");
  expect(leftOpen(resultOf({ ...end, measured: 9 }), DELAY).verdict).toBe("within");
});

it("leaves what a delay cannot carry out of its limits", () => {
  const others: RowVerdict[] = [
    { ...ROW, limits: { min: 8, max: null } },
    { ...ROW, about: "vacuum" },
    { ...ROW, unit: "rpm" },
    { ...ROW, measured: null },
  ];
  expect(leftOpen(resultOf(...others), DELAY)).toEqual(resultOf(...others));
});

it("takes nothing back that is outside", () => {
  const outside: RowVerdict = { ...ROW, measured: 10.5, verdict: "outside" };
  expect(leftOpen(resultOf(outside, ROW), DELAY).verdict).toBe("outside");
});
