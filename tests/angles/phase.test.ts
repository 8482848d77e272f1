// The shaft's angle at an event, against motions whose phase is known in closed form.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cornerDeg, evenPlaces, Protractor } from "../../core/angles/phase.ts";
import type { Turn } from "../../core/turns.ts";
import { rampTick, rampTurn } from "./turns.ts";

const ANGLES = [0, 12.5, 90, 179.9, 271.3, 359.9];

function angleDeg(turn: Turn, tick: number, edges: number): number {
  return angleBy(new Protractor(evenPlaces(edges)), turn, tick);
}

function angleBy(protractor: Protractor, turn: Turn, tick: number): number {
  const anglesDeg = new Float64Array(3);
  protractor.read(turn, Float64Array.of(0, tick), 1, 2, anglesDeg, 2);
  return anglesDeg[2] as number;
}

describe("Protractor", () => {
  it.each([
    { startRpm: 50, rpmPerS: 0, edges: 1 },
    { startRpm: 4000, rpmPerS: 0, edges: 36 },
    { startRpm: 500, rpmPerS: 500, edges: 1 },
    { startRpm: 300, rpmPerS: 1000, edges: 1 },
    { startRpm: 500, rpmPerS: 500, edges: 36 },
    { startRpm: 500, rpmPerS: 500, edges: 2 },
    { startRpm: 2000, rpmPerS: -1000, edges: 360 },
  ])("is exact at a steady speed and on a steady ramp: %j", (motion) => {
    const turn = rampTurn(2, ANGLES, motion);
    turn.eventTicks.forEach((tick, i) => {
      expect(Math.abs(angleDeg(turn, tick, motion.edges) - (ANGLES[i] as number))).toBeLessThan(
        0.01,
      );
    });
  });

  it("would be degrees off with constant speed between index pulses (a·T²/8 of a turn)", () => {
    // At 500 rpm and 500 rpm/s, T = 0.12 s: 360 · (500/60) · 0.12² / 8 = 5.4°.
    const turn = rampTurn(0, [180], { startRpm: 500, rpmPerS: 500 });
    const linear = (360 * (turn.eventTicks[0] as number)) / turn.duringTicks;
    const nearFive = Math.abs(linear - 180);
    expect(nearFive).toBeGreaterThan(4.2);
    expect(
      Math.abs(
        angleDeg(
          rampTurn(1, [180], { startRpm: 500, rpmPerS: 500 }),
          rampTick(1.5, 500, 500, 1e9) - rampTick(1, 500, 500, 1e9),
          1,
        ) - 180,
      ),
    ).toBeLessThan(0.01);
  });

  it("goes from turn to turn and back", () => {
    const protractor = new Protractor(evenPlaces(1));
    const turns = [0, 1, 0].map((k) => rampTurn(k, [90], { startRpm: 600, rpmPerS: 300 }));
    for (const turn of turns) {
      expect(angleBy(protractor, turn, turn.eventTicks[0] as number)).toBeCloseTo(90, 2);
    }
  });

  it("works for the first turn from rest, whose period before is not known", () => {
    const turn = { ...rampTurn(0, [90], { startRpm: 600, rpmPerS: 100 }), beforeTicks: 0 };
    expect(angleDeg(turn, turn.eventTicks[0] as number, 1)).toBeCloseTo(90, 2);
  });
});

/** Phase in turns at steady speed up to `corner`, from there on with an acceleration, both in units of the first period. */
function cornered(corner: number, acceleration: number) {
  const timeOf = (phase: number) => {
    const beyond = phase - corner;
    if (beyond <= 0) return phase;
    return corner + (Math.sqrt(1 + 2 * acceleration * beyond) - 1) / acceleration;
  };
  const [before, index, next, last] = [-1, 0, 1, 2].map(timeOf) as [number, number, number, number];
  const ticks = (time: number) => time * 1e9;
  const turn = {
    ...rampTurn(1, [], {}),
    beforeTicks: ticks(index - before),
    duringTicks: ticks(next - index),
    afterTicks: ticks(last - next),
  };
  return { turn, tickOf: (phase: number) => ticks(timeOf(phase) - index) };
}

describe("cornerDeg", () => {
  it("holds the angle wherever the corner lies and however sharp it is", () => {
    const corner = fc.double({ min: -0.95, max: 1.95, noNaN: true });
    const acceleration = fc.double({ min: 0.001, max: 12, noNaN: true });
    const phase = fc.double({ min: 0.01, max: 0.99, noNaN: true });
    fc.assert(
      fc.property(corner, acceleration, phase, (at, by, where) => {
        const { turn, tickOf } = cornered(at, by);
        const error = angleDeg(turn, tickOf(where), 1) - 360 * where;
        expect(Math.abs(error)).toBeLessThanOrEqual(Math.abs(cornerDeg(turn)) * 1.001 + 1e-6);
      }),
      { numRuns: 2000 },
    );
  });

  it("is nothing on a steady ramp, however steep", () => {
    const turn = rampTurn(1, [], { startRpm: 100, rpmPerS: 1000 });
    expect(Math.abs(cornerDeg(turn))).toBeLessThan(1e-6);
  });
});
