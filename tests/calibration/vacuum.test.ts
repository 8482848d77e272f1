// The vacuum sensor against a gauge.
import { describe, expect, it } from "vitest";
import { estimateVacuum, type GaugePoint } from "../../core/calibration/vacuum.ts";
import { codeOf } from "./codes.ts";

const gauge = { standardUncertaintyPa: 100, resolutionPa: 100 };

/** A sensor that reads (true − 200)/1.02. */
const points: GaugePoint[] = [10_000, 30_000, 50_000, 70_000].map((gaugePa) => ({
  sensedPa: (gaugePa - 200) / 1.02,
  sensedStandardUncertaintyPa: 5,
  gaugePa,
}));

function changed(index: number, addPa: number): GaugePoint[] {
  return points.map((point, i) =>
    i === index ? { ...point, gaugePa: point.gaugePa + addPa } : point,
  );
}

describe("the sensor", () => {
  it("is offset and gain, between the vacuums that were read", () => {
    const found = estimateVacuum(points, gauge);
    expect(found.offsetPa).toBeCloseTo(200, 6);
    expect(found.gain).toBeCloseTo(1.02, 9);
    expect(found).toMatchObject({ lowestPa: 10_000, highestPa: 70_000 });
    expect(found.gaugeStandardUncertaintyPa).toBe(100);
  });

  it("is known no better than the gauge, and as a line is at its worse end", () => {
    // By hand: each point 100/√12 and 5 together 29.297 Pa; at the end of four evenly spaced points
    // the line has √(1/4 + 9/20) of it, 24.512 Pa; with the gauge's 100 Pa: 102.960 Pa.
    const found = estimateVacuum(points, gauge);
    expect(found.standardUncertaintyPa).toBeCloseTo(102.96, 2);
    // (102.960/24.512)⁴ · 2
    expect(found.degreesOfFreedom).toBeCloseTo(622.6, 0);
  });

  it("is widened by readings off the line", () => {
    const found = estimateVacuum(changed(1, 300), gauge);
    expect(found.standardUncertaintyPa).toBeGreaterThan(150);
    expect(found.chiSquare).toBeGreaterThan(40);
  });
});

describe("what is refused", () => {
  const refusal = (given: readonly GaugePoint[]) => codeOf(() => estimateVacuum(given, gauge));

  it("a mistyped figure, named by its place", () => {
    const { code, message } = refusal(changed(2, 4500));
    expect(code).toBe("CHECK_DOUBTFUL");
    expect(message).toContain("54.50 kPa by the gauge");
  });

  it("a gauge read in another unit", () => {
    // Inches of mercury taken for kilopascals: 3.386 times too little.
    const wrong = points.map((point) => ({ ...point, gaugePa: point.gaugePa / 3.386 }));
    expect(refusal(wrong).message).toContain("0.30 times as fast");
  });

  it("fewer than three vacuums, or three that lie close together", () => {
    expect(refusal(points.slice(0, 2)).code).toBe("CHECK_TOO_LITTLE");
    const near = [30_000, 31_000, 32_000].map((pa) => ({
      sensedPa: pa,
      sensedStandardUncertaintyPa: 5,
      gaugePa: pa,
    }));
    expect(refusal(near).code).toBe("CHECK_TOO_LITTLE");
    expect(refusal([]).code).toBe("CHECK_TOO_LITTLE");
  });

  it("the same vacuum sensed every time", () => {
    const still = points.map((point) => ({ ...point, sensedPa: 30_000 }));
    expect(refusal(still).code).toBe("CHECK_TOO_LITTLE");
  });
});
