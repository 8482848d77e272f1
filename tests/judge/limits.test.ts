// Hold test, dwell and scatter, each by itself.
import { describe, expect, it } from "vitest";
import type { HoldDocument, PointDocument, Reading } from "../../core/documents.ts";
import { dwellOf, dwellRow, holdRow, meetsHold, scatterOf } from "../../core/judge/limits.ts";
import { plainReading } from "../reading.ts";

const PLAN = { vacuumPa: 50000, settleS: 5, seconds: 15, dropMaxPa: 2000 };

function hold(changes: Partial<HoldDocument> = {}): HoldDocument {
  return {
    type: "hold",
    capsule: 0,
    targetPa: 50000,
    reached: true,
    startPa: 50000,
    endPa: 49000,
    seconds: 15,
    pumpEffort: 0.3,
    trace: [],
    fromTick: 0,
    ...changes,
  };
}

/** A straight fall; every other reading 30 Pa high. */
const TRACE = Array.from({ length: 40 }, (_, i) => [i / 2, 50000 - 25 * i + 30 * (i % 2)] as const);

describe("the hold test", () => {
  it("measures the drop with the sensor's repeatability counted twice", () => {
    const row = holdRow(0, PLAN, hold({ trace: TRACE }), 0);
    expect(row).toMatchObject({
      about: "hold",
      capsule: 0,
      printed: "falls by at most 2 kPa in 15 s from 50 kPa",
      x: 50000,
      measured: 1000,
      limits: { min: null, max: 2000 },
      unit: "Pa",
      verdict: "within",
    });
    // Second differences are ± 60 Pa: 60 / √6 = 24.5 Pa for one reading; whole pascals add next to nothing.
    expect(row.expandedUncertainty).toBeCloseTo(
      1.959963985 * Math.SQRT2 * Math.hypot(60 / 6 ** 0.5, 12 ** -0.5),
      4,
    );
  });

  it("takes the whole of the sensor's uncertainty where the trace is too short to tell", () => {
    const row = holdRow(0, PLAN, hold(), 100);
    // Twice 100 Pa, and 100 / 50000 of the drop of 1000 Pa.
    expect(row.expandedUncertainty).toBeCloseTo(1.96 * Math.hypot(Math.SQRT2 * 100, 2), 0);
  });

  it("is outside where the drop is beyond doubt too large, unproven where it is not", () => {
    expect(holdRow(0, PLAN, hold({ endPa: 47000, trace: TRACE }), 0).verdict).toBe("outside");
    expect(holdRow(0, PLAN, hold({ endPa: 47980, trace: TRACE }), 0).verdict).toBe("unproven");
  });

  it("is outside without a figure where the vacuum was never reached", () => {
    const row = holdRow(0, PLAN, hold({ reached: false, startPa: 4000, endPa: 3900 }), 0);
    expect(row).toMatchObject({ verdict: "outside", measured: null, expandedUncertainty: null });
  });

  it("proves nothing good by a clock that stopped early", () => {
    expect(holdRow(0, PLAN, hold({ seconds: 7, trace: TRACE }), 0).verdict).toBe("unproven");
    const fell = hold({ seconds: 7, endPa: 40000, trace: TRACE });
    expect(holdRow(0, PLAN, fell, 0).verdict).toBe("outside");
  });

  it("is unproven where it was planned and never done", () => {
    expect(holdRow(0, PLAN, null, 0).verdict).toBe("unproven");
  });

  it("knows a planned test that asks less than the specification", () => {
    const limits = { vacuumPa: 50000, seconds: 15, dropMaxPa: 2000 };
    expect(meetsHold(PLAN, limits)).toBe(true);
    expect(meetsHold({ ...PLAN, vacuumPa: 60000, seconds: 20, dropMaxPa: 1000 }, limits)).toBe(
      true,
    );
    expect(meetsHold({ ...PLAN, vacuumPa: 49000 }, limits)).toBe(false);
    expect(meetsHold({ ...PLAN, seconds: 14 }, limits)).toBe(false);
    expect(meetsHold({ ...PLAN, dropMaxPa: 2001 }, limits)).toBe(false);
    expect(meetsHold(null, limits)).toBe(false);
  });
});

function point(changes: Partial<Reading>): PointDocument {
  return {
    type: "point",
    sweep: "speed",
    capsule: null,
    branch: "rising",
    targetRpm: 500,
    targetPa: null,
    reading: plainReading(changes),
  };
}

describe("dwell", () => {
  it("is that of the slow reading that knows it best, with its uncertainty", () => {
    const first = { dwellDeg: 52, dwellStandardUncertaintyDeg: 0.07 };
    const worse = { dwellDeg: 60, dwellStandardUncertaintyDeg: 0.08 };
    const fast = { speedRpm: 3000, dwellDeg: 40, dwellStandardUncertaintyDeg: 0.01 };
    const dwell = dwellOf([point({}), point(worse), point(first), point(fast)]);
    expect(dwell?.dwellDeg).toBe(52);
    expect(dwell?.standardUncertaintyDeg).toBe(0.07);
    expect(dwellOf([point({})])).toBeNull();
  });

  it("is printed without the noise of a share of the spacing", () => {
    const limits = { min: 0.1 * 3 * 90, max: 54 };
    expect(dwellRow(null, limits).printed).toBe("dwell 27 to 54 distributor degrees");
  });
});

describe("scatter", () => {
  it("is the largest lasting deviation, each reading by how well it knows its lobes", () => {
    const scatter = scatterOf([
      point({ lobeDeviationsDeg: [0.2, -0.2] }),
      point({
        lobeDeviationsDeg: [0.7, -0.9, 0.1, 0.1],
        lobes: [0.1, 0.2, 0.3, 0.4].map((standardUncertaintyDeg) => ({
          angleDeg: 0,
          standardUncertaintyDeg,
          spreadDeg: 0,
          dwellDeg: null,
          events: 100,
          missing: 0,
        })),
      }),
      point({ lobeDeviationsDeg: [] }),
    ]);
    // First lobe: (0.2 / 0.05² + 0.7 / 0.1²) / (1 / 0.05² + 1 / 0.1²).
    expect(scatter?.scatterDeg).toBeCloseTo(0.3, 12);
    expect(scatter?.standardUncertaintyDeg).toBe(0.05);
    expect(scatterOf([])).toBeNull();
  });
});
