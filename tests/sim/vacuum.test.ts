import { describe, expect, it } from "vitest";
import {
  type Capsule,
  CapsuleMotion,
  type Leak,
  restingTravelMm,
  SOUND_CAPSULE,
} from "../../sim/capsule.ts";
import { VacuumLine } from "../../sim/vacuumLine.ts";

const CAPSULE: Capsule = {
  areaMm2: 1500,
  loadN: 18,
  rateNPerMm: 7.5,
  frictionN: 0.3,
  travelMm: 4,
  radiusMm: 20,
  acts: "advance",
  ...SOUND_CAPSULE,
};

function settle(capsule: Capsule, ...pascals: number[]): number {
  const motion = new CapsuleMotion(capsule);
  for (const pa of pascals) for (let i = 0; i < 500; i++) motion.step(0.001, pa);
  return motion.advanceDeg;
}

describe("capsule", () => {
  it("stands where area times vacuum meets spring and friction", () => {
    // 1500 mm² · 22 kPa = 33 N; less 18 N and 0.3 N leaves 14.7 N, 1.96 mm; at 20 mm 5.615°.
    expect(restingTravelMm(CAPSULE, 22_000, "rising")).toBeCloseTo(1.96, 9);
    expect(restingTravelMm(CAPSULE, 22_000, "falling")).toBeCloseTo(2.04, 9);
    expect(settle(CAPSULE, 22_000)).toBeCloseTo(5.615, 3);
    expect(settle(CAPSULE, 60_000, 22_000)).toBeCloseTo(5.844, 3);
    expect(settle(CAPSULE, 60_000)).toBeCloseTo(11.459, 3);
    expect(settle(CAPSULE, 60_000, 0)).toBeCloseTo(0, 9);
    expect(settle(CAPSULE, 12_100)).toBe(0);
  });

  it("retards where it is made to, and not at all with its plate stuck", () => {
    expect(settle({ ...CAPSULE, acts: "retard" }, 22_000)).toBeCloseTo(-5.615, 3);
    expect(settle({ ...CAPSULE, seizedMm: 1 }, 60_000, 0)).toBeCloseTo(2.865, 3);
  });
});

describe("line", () => {
  const SETUP = { lineVolumeMl: 250, ambientPa: 100_000, pumpFlowMlPerS: 300, pumpLimitPa: 80_000 };
  const fall = (leak: Leak, fromPa: number, seconds: number) => {
    const line = new VacuumLine(SETUP);
    line.vacuumPa = fromPa;
    for (let i = 0; i < seconds * 1000; i++) line.step(0.001, "hold", 0, 0, [leak]);
    return line.vacuumPa;
  };

  it("loses vacuum exponentially through a passage", () => {
    // 5 ml/s at 50 kPa into 250 ml at 100 kPa: 2 kPa/s, so a time constant of 25 s.
    const leak = { form: "passage", flowMlPerS: 5 } as const;
    expect(fall(leak, 50_000, 10)).toBeCloseTo(50_000 * Math.exp(-10 / 25), 3);
    expect(fall(leak, 80_000, 10)).toBeCloseTo(80_000 * Math.exp(-10 / 25), 3);
  });

  it("loses vacuum in a straight line through a pinhole while that is choked, slower below", () => {
    const leak = { form: "pinhole", flowMlPerS: 5 } as const;
    expect(fall(leak, 80_000, 5)).toBeCloseTo(70_000, 3);
    expect(fall(leak, 80_000, 15)).toBeCloseTo(50_000, 3);
    // Choked down to a pressure ratio of 0.5283: 47.17 kPa below ambient.
    expect(fall(leak, 60_000, 6.4)).toBeCloseTo(47_200, 3);
    expect(fall(leak, 10_000, 1)).toBeGreaterThan(8_300);
    expect(fall(leak, 10_000, 1)).toBeLessThan(9_000);
  });

  it("is pumped towards the pump's limit and no further", () => {
    const line = new VacuumLine(SETUP);
    line.step(0.001, "control", 1, 0, []);
    expect(line.vacuumPa).toBeCloseTo(120, 6);
    for (let i = 0; i < 20_000; i++) line.step(0.001, "control", 1, 0, []);
    expect(line.vacuumPa).toBeGreaterThan(79_900);
    expect(line.vacuumPa).toBeLessThanOrEqual(80_000);
  });

  it("holds closed off, and empties through the vent", () => {
    const line = new VacuumLine(SETUP);
    line.vacuumPa = 40_000;
    line.step(0.001, "hold", 1, 1, []);
    expect(line.vacuumPa).toBe(40_000);
    for (let i = 0; i < 500; i++) line.step(0.001, "vent", 0, 0, []);
    expect(line.vacuumPa).toBeLessThan(1);
  });
});
