// What a record says of its rig, as the measurement reads it.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rigKnowledge, sensedPa, trueVacuum, uncorrectedRig } from "../../core/angles/knowledge.ts";
import type { PresentRig } from "../../core/documents.ts";
import { HELLO } from "./turns.ts";

const CHECK = { checkedUtc: "2024-01-01T00:00:00.000Z" } as const;
const RIG: PresentRig = {
  name: "invented rig",
  simulated: true,
  scenario: null,
  hello: HELLO,
  calibration: null,
  vacuumSensorStandardUncertaintyPa: 250,
  triggerDelayStandardUncertaintyUs: 3,
  ambientPa: 101_325,
};
const CALIBRATED: PresentRig = {
  ...RIG,
  calibration: {
    delay: { ...CHECK, delayUs: 42, standardUncertaintyUs: 1, degreesOfFreedom: 9 },
    pickup: null,
    coupling: {
      ...CHECK,
      runOutDeg: 0.2,
      phaseDeg: 30,
      standardUncertaintyDeg: 0.01,
      degreesOfFreedom: null,
    },
    vacuum: {
      ...CHECK,
      offsetPa: -400,
      gain: 1.02,
      standardUncertaintyPa: 90,
      gaugeStandardUncertaintyPa: 50,
      lowestPa: 0,
      highestPa: 80_000,
      degreesOfFreedom: null,
    },
  },
};

describe("rigKnowledge", () => {
  it("corrects nothing on a rig never checked, but keeps its doubts", () => {
    expect(rigKnowledge(RIG, "cw")).toEqual({
      ...uncorrectedRig(HELLO),
      delayStandardUncertaintyUs: 3,
      vacuumStandardUncertaintyPa: 250,
    });
    expect(rigKnowledge(RIG, "ccw").couplingRunOutDeg).toBe(0);
  });

  it("takes what the checks found", () => {
    expect(rigKnowledge(CALIBRATED, "cw")).toEqual({
      tickHz: 1_000_000,
      tickPpm: 50,
      edgesPerTurn: 1,
      delayUs: 42,
      delayStandardUncertaintyUs: 3,
      delayDegreesOfFreedom: 9,
      vacuumOffsetPa: -400,
      vacuumGain: 1.02,
      vacuumStandardUncertaintyPa: 250,
      couplingRunOutDeg: 0.2,
      couplingPhaseDeg: 30,
    });
  });

  it("turns the coupling with the unit: places count backward and late is early", () => {
    const cw = rigKnowledge(CALIBRATED, "cw");
    const ccw = rigKnowledge(CALIBRATED, "ccw");
    const later = ({ couplingRunOutDeg, couplingPhaseDeg }: typeof cw, placeDeg: number) =>
      couplingRunOutDeg * Math.cos(((placeDeg - couplingPhaseDeg) * Math.PI) / 180);
    for (const place of [0, 30, 77, 180, 301]) {
      expect(later(ccw, 360 - place)).toBeCloseTo(-later(cw, place), 12);
    }
  });
});

describe("vacuum", () => {
  const scale = rigKnowledge(CALIBRATED, "cw");

  it("is offset and gain away from what the sensor gave", () => {
    const line = {
      type: "vac",
      sequence: 1,
      tick: 2,
      vacuumPa: 50_000,
      pumpPermille: 300,
      valve: "hold",
    } as const;
    expect(trueVacuum(line, scale)).toEqual({ ...line, vacuumPa: 50_600 });
  });

  it("is sought where the sensor reads it, to its whole pascals and never below none", () => {
    expect(sensedPa(50_600, scale)).toBe(50_000);
    expect(sensedPa(0, { vacuumOffsetPa: 400, vacuumGain: 1 })).toBe(0);
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 90_000 }),
        fc.double({ min: 0.8, max: 1.2, noNaN: true }),
        (vacuumPa, vacuumGain) => {
          const there = { vacuumOffsetPa: -400, vacuumGain };
          const sensed = sensedPa(vacuumPa, there);
          expect(Number.isInteger(sensed)).toBe(true);
          expect(Math.abs(-400 + vacuumGain * sensed - vacuumPa)).toBeLessThanOrEqual(
            vacuumGain / 2 + 1e-6,
          );
        },
      ),
    );
  });
});
