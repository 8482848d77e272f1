// The sound units that a specification leaves possible: loads by hand from springs, lever and stop.
import { describe, expect, it } from "vitest";
import type { Nominal } from "../../core/findings/nominal.ts";
import { leverAt, loadAt, readings } from "../../core/findings/shape.ts";
import { readRows, soundUnits } from "../../core/findings/soundUnits.ts";

/** Starts at 300 rpm; 5° at 500 rpm; the stop of 10° is met at 900 rpm, and asked for by 930. */
const NOMINAL: Nominal = {
  power: 2,
  knots: [
    { advanceDeg: 0, load: 300 ** 2 },
    { advanceDeg: 5, load: 500 ** 2 },
    { advanceDeg: 10, load: 900 ** 2 },
  ],
  stopDeg: 10,
  halfWidthDeg: 1,
  startDoubt: 20,
  endX: 930,
  endDoubtShare: 0.06,
};

describe("soundUnits", () => {
  it("with one spring rises evenly in moment, divided by a lever that grows", () => {
    const units = soundUnits(NOMINAL, false);
    const shape = units.shapeOf([]);
    // Lever at the stop 1 + 0.05 + 0.06; moments 90000 and 810000 × 1.11, so halfway (90000 + 899100) / 2.
    expect(leverAt(shape.lever, 10)).toBeCloseTo(1.11, 9);
    expect(
      (loadAt(shape.first, 5) + loadAt(shape.second, 5)) / leverAt(shape.lever, 5),
    ).toBeCloseTo(494550 / 1.04, 3);
    expect(shape.stopDeg).toBe(10);
  });

  it("with two takes half the rise by the first, and the rest beyond the knee in the middle", () => {
    const units = soundUnits(NOMINAL, true);
    const shape = units.shapeOf([]);
    expect(loadAt(shape.first, 10)).toBeCloseTo(90000 + 809100 / 2, 3);
    expect(loadAt(shape.second, 5)).toBeCloseTo(0, 9);
    expect(loadAt(shape.second, 10)).toBeCloseTo(809100 / 2, 3);
  });

  it("begins and ends where the numbers put it", () => {
    const units = soundUnits(NOMINAL, false);
    // In their order: friction, start, end, stop.
    const shape = units.shapeOf([0, 2, -1, 1, 0, 0]);
    expect(Math.sqrt(loadAt(shape.first, 0))).toBeCloseTo(340, 6);
    expect(shape.stopDeg).toBeCloseTo(10.3, 9);
    const endRpm = Math.sqrt(loadAt(shape.first, 10.3) / leverAt(shape.lever, 10.3));
    expect(endRpm).toBeCloseTo(900 * Math.exp(-0.06), 3);
  });

  it("reads the printed rows between start and end, and the last one where it is asked for", () => {
    const units = soundUnits(NOMINAL, true);
    expect(units.rows.places.map(({ x }) => x)).toEqual([500, 930]);
    expect(units.rows.degrees).toEqual([5, 10]);
    const shape = { ...units.shapeOf([]), friction: 0, soundFriction: 0 };
    const degrees = new Float64Array(3);
    readRows(units, units.shapeOf([]), degrees, 1);
    expect([...degrees]).toEqual([0, ...readings(shape, units.rows.places, 0)]);
    expect(degrees[2]).toBe(10);
  });

  it("without a printed largest advance leave the stop open from the last row on", () => {
    const open: Nominal = { ...NOMINAL, stopDeg: null };
    const stopDeg = (standard: number) =>
      soundUnits(open, false).shapeOf([0, 0, 0, standard]).stopDeg;
    // The last row asks for 10°; a twelfth or so beyond in the middle.
    expect(stopDeg(0)).toBeCloseTo(10.8, 9);
    expect(stopDeg(-3)).toBeCloseTo(10 * (1 + 0.08 * Math.exp(-4.8)), 9);
    expect(stopDeg(2)).toBeCloseTo(10 * (1 + 0.08 * Math.exp(3.2)), 9);
    // Halfway in degrees the load has grown as evenly as within the rows.
    const shape = soundUnits(open, false).shapeOf([]);
    expect(loadAt(shape.first, 0)).toBeCloseTo(90000, 3);
  });
});
