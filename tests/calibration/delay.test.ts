// The rig's delay from readings of a locked cam, and what shows that the cam was not locked.
import { describe, expect, it } from "vitest";
import { estimateDelay, type LockedReading } from "../../core/calibration/delay.ts";
import type { Branch } from "../../core/unit.ts";
import { codeOf } from "./codes.ts";

const REFERENCE_RPM = 200;
const SPEEDS = [500, 1000, 2000, 3000, 4000];

function reading(
  branch: Branch | null,
  speedRpm: number,
  advanceDeg: number,
  standardUncertaintyDeg = 0.01,
): LockedReading {
  return { branch, targetRpm: speedRpm, speedRpm, advanceDeg, standardUncertaintyDeg };
}

/** Reference, up and back down. */
function sweep(advanceAt: (rpm: number, branch: Branch) => number): LockedReading[] {
  return [
    reading(null, REFERENCE_RPM, 0),
    ...SPEEDS.map((rpm) => reading("rising", rpm, advanceAt(rpm, "rising"))),
    ...[...SPEEDS].reverse().map((rpm) => reading("falling", rpm, advanceAt(rpm, "falling"))),
    reading(null, REFERENCE_RPM, 0),
  ];
}

describe("the delay", () => {
  it("of 10 µs is 0.24° less advance at 4,000 rpm than at rest", () => {
    // 10 µs at 4000 rpm: 10e-6 s · 4000/60 · 360° = 0.24°.
    const found = estimateDelay(sweep((rpm) => -0.24 * ((rpm - REFERENCE_RPM) / 4000)));
    expect(found.delayUs).toBeCloseTo(10, 9);
    expect(found.rippleAt1000RpmDeg).toBeCloseTo(0, 9);
    expect(found.chiSquare).toBeCloseTo(0, 9);
    expect(found.degreesOfFreedom).toBe(9);
  });

  it("is told from ripple, which falls with the square of speed", () => {
    const ripple = (rpm: number) => 0.01 * ((1000 / rpm) ** 2 - (1000 / REFERENCE_RPM) ** 2);
    const found = estimateDelay(sweep((rpm) => -6e-6 * 20 * (rpm - REFERENCE_RPM) + ripple(rpm)));
    expect(found.delayUs).toBeCloseTo(20, 9);
    expect(found.rippleAt1000RpmDeg).toBeCloseTo(0.01, 9);
  });

  it("is not drawn aside by an error of the reference reading, which all share", () => {
    const readings = sweep((rpm) => -6e-6 * 20 * (rpm - REFERENCE_RPM));
    const [first, ...others] = readings.map((one) => ({
      ...one,
      advanceDeg: one.targetRpm === REFERENCE_RPM ? 0 : one.advanceDeg + 0.03,
    }));
    if (first === undefined) throw new Error("the sweep has a reference");
    const poor = { ...first, standardUncertaintyDeg: 0.03 };
    const delayUs = estimateDelay([poor, ...others.slice(0, -1)]).delayUs;
    expect(Math.abs(delayUs - 20)).toBeLessThan(0.4);
  });

  it("has the uncertainty of a line through the readings", () => {
    // By hand, without ripple's column: Σ(n − n̄)² of twice six speeds is 22,416,667, so the slope's u
    // is 0.01/4734.6 degrees per rpm, 0.35202 µs. The column of ripple can only add to it.
    const found = estimateDelay(sweep((rpm) => -6e-6 * 20 * (rpm - REFERENCE_RPM)));
    expect(found.standardUncertaintyUs).toBeGreaterThan(0.35202);
    expect(found.standardUncertaintyUs).toBeLessThan(2 * 0.35202);
  });

  it("is widened where the readings scatter more than they say", () => {
    const quiet = sweep((rpm) => -6e-6 * 20 * (rpm - REFERENCE_RPM));
    const noisy = quiet.map((one, i) => ({
      ...one,
      advanceDeg: one.advanceDeg + (i % 2 === 0 ? 0.03 : -0.03),
    }));
    const found = estimateDelay(noisy);
    // The scatter of ± 0.03° is taken by nine of twelve degrees of freedom.
    const ratio = found.standardUncertaintyUs / estimateDelay(quiet).standardUncertaintyUs;
    expect(ratio).toBeCloseTo(Math.sqrt(found.chiSquare / 9), 9);
    expect(ratio).toBeGreaterThan(3);
  });
});

describe("a cam that was not locked", () => {
  const told = (readings: readonly LockedReading[]) => {
    const { code, message } = codeOf(() => estimateDelay(readings));
    expect(code).toBe("CAM_NOT_LOCKED");
    return message;
  };

  it("advances as speed rises", () => {
    expect(told(sweep((rpm) => 0.001 * (rpm - REFERENCE_RPM)))).toContain(
      "3.80° earlier as speed rose",
    );
  });

  it("begins to move somewhere: no straight line", () => {
    expect(told(sweep((rpm) => Math.max(0, rpm - 2500) * 0.001))).toContain("straight line");
  });

  it("returns late", () => {
    const stuck = (rpm: number, branch: Branch) => (branch === "falling" && rpm < 4000 ? 0.3 : 0);
    expect(told(sweep(stuck))).toContain("0.30° from one way to the other");
  });

  it("retards more than any delay", () => {
    expect(told(sweep((rpm) => -6e-6 * 600 * (rpm - REFERENCE_RPM)))).toContain("600 µs");
  });
});

it("needs four speeds, the highest three times the lowest", () => {
  const few = sweep(() => 0).filter(({ targetRpm }) => targetRpm <= 1000);
  expect(codeOf(() => estimateDelay(few)).code).toBe("CHECK_TOO_LITTLE");
  const near = [1000, 1100, 1200, 1300, 1400].map((rpm) => reading("rising", rpm, 0));
  expect(codeOf(() => estimateDelay(near)).code).toBe("CHECK_TOO_LITTLE");
  expect(codeOf(() => estimateDelay([])).code).toBe("CHECK_TOO_LITTLE");
});
