// The shaft's angle at an event, against motions whose phase is known in closed form.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cornerDeg, evenPlaces, type Places, Protractor } from "../../core/angles/phase.ts";
import type { Turn, TurnTimes } from "../../core/turns.ts";
import { EVEN_TICKS, evenTurn } from "./literals.ts";
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

describe("the pulses that an angle is read by", () => {
  /** Degrees where each of these times stands, in turns after the index. */
  function angles(turn: TurnTimes, places: Places, times: readonly number[]): number[] {
    const read = new Float64Array(times.length);
    const ticks = Float64Array.from(times, (time) => time * EVEN_TICKS);
    new Protractor(places).read(turn, ticks, 0, times.length, read, 0);
    return [...read];
  }

  it("of two edges a turn are the index before for its first half, and the next but one for its second", () => {
    const halves = { edgeTicks: [0, EVEN_TICKS / 2, EVEN_TICKS] };
    const slowBefore = evenTurn(1, { ...halves, beforeTicks: 2 * EVEN_TICKS });
    const slowAfter = evenTurn(1, { ...halves, afterTicks: 2 * EVEN_TICKS });
    expect(angles(slowBefore, evenPlaces(2), [0.25, 0.75])[1]).toBeCloseTo(270, 9);
    expect(angles(slowBefore, evenPlaces(2), [0.25, 0.75])[0]).not.toBeCloseTo(90, 1);
    expect(angles(slowAfter, evenPlaces(2), [0.25, 0.75])[0]).toBeCloseTo(90, 9);
    expect(angles(slowAfter, evenPlaces(2), [0.25, 0.75])[1]).not.toBeCloseTo(270, 1);
  });

  it("of two edges a turn are the later ones in the first turn from rest", () => {
    const first = evenTurn(0, { edgeTicks: [0, EVEN_TICKS / 2, EVEN_TICKS], beforeTicks: 0 });
    const [quarter, threeQuarters] = angles(first, evenPlaces(2), [0.25, 0.75]);
    expect(quarter).toBeCloseTo(90, 9);
    expect(threeQuarters).toBeCloseTo(270, 9);
  });

  it("stand where they stand: of two edges the second a hundredth of a turn on", () => {
    const late = evenTurn(1, { edgeTicks: [0, 0.51 * EVEN_TICKS, EVEN_TICKS] });
    for (const [i, deg] of angles(late, [0, 0.51, 1], [0.25, 0.75]).entries()) {
      expect(deg).toBeCloseTo([90, 270][i] as number, 9);
    }
  });

  it.each([
    ["an even turn", (k: number) => k / 8],
    ["a turn that grows faster", (k: number) => (k / 8) ** 0.5],
    ["a turn that grows slower", (k: number) => (k / 8) ** 2],
  ])("of eight are the four around it, at the ends the nearest four, in %s", (_, timeOf) => {
    const times = evenPlaces(8).map((_, k) => timeOf(k));
    const turn = evenTurn(1, { edgeTicks: times.map((time) => time * EVEN_TICKS) });
    // Between edge s and the next.
    const between = times.slice(1).map((time, s) => (time + (times[s] as number)) / 2);
    const plain = angles(turn, evenPlaces(8), between);
    for (let edge = 0; edge <= 8; edge++) {
      const moved = evenPlaces(8).map((place, k) => (k === edge ? place + 0.01 : place));
      const changed = angles(turn, moved, between).flatMap((deg, s) =>
        deg === plain[s] ? [] : [s],
      );
      const expected = [0, 1, 2, 3, 4, 5, 6, 7].filter((s) => {
        const first = [0, 0, 1, 2, 3, 4, 5, 5][s] as number;
        return edge >= first && edge <= first + 3;
      });
      expect(changed).toEqual(expected);
    }
  });

  it("of eight carry a cubic exactly, whose places are those of 0.5 t + 0.3 t² + 0.2 t³", () => {
    const placeAt = (time: number) => 0.5 * time + 0.3 * time ** 2 + 0.2 * time ** 3;
    // At times that are not evenly apart.
    const edgeTimes = evenPlaces(8).map((time) => (time + time ** 2) / 2);
    const turn = evenTurn(1, { edgeTicks: edgeTimes.map((time) => time * EVEN_TICKS) });
    const times = [0.01, 0.1, 0.3, 0.55, 0.8, 0.99];
    for (const [i, deg] of angles(turn, edgeTimes.map(placeAt), times).entries()) {
      expect(deg).toBeCloseTo(360 * placeAt(times[i] as number), 9);
    }
  });

  it.each([1, 2, 8])("fill the rows asked for and no others, with %d edges", (edges) => {
    const edgeTicks = edges === 1 ? null : evenPlaces(edges).map((one) => one * EVEN_TICKS);
    const read = new Float64Array(4).fill(-1);
    const ticks = Float64Array.of(45_000, 90_000, 135_000, 180_000);
    new Protractor(evenPlaces(edges)).read(evenTurn(1, { edgeTicks }), ticks, 1, 3, read, 0);
    for (const [i, deg] of [90, 135, -1, -1].entries()) expect(read[i]).toBeCloseTo(deg, 9);
  });

  it("come late by as many ticks as the trigger does: 500 are half a degree", () => {
    const ticks = Float64Array.of(90_500);
    for (const edges of [1, 2, 8]) {
      const edgeTicks = edges === 1 ? null : evenPlaces(edges).map((one) => one * EVEN_TICKS);
      const read = new Float64Array(1);
      new Protractor(evenPlaces(edges), 500).read(evenTurn(1, { edgeTicks }), ticks, 0, 1, read, 0);
      expect(read[0]).toBeCloseTo(90, 9);
    }
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

  it("is the third divided difference by 2 / (3√3), its sign that of the change", () => {
    // Indexes at −1.1, 0, 1 and 1.8: slopes 1 / 1.1, 1 and 1.25, second differences (1 − 1 / 1.1) / 2.1 and
    // 0.25 / 1.8, the third over 2.9. On a clock where the turn has two ticks all are of half the time.
    const third = (0.25 / 1.8 - (1 - 1 / 1.1) / 2.1) / 2.9;
    const faster = evenTurn(1, { beforeTicks: 2.2, duringTicks: 2, afterTicks: 1.6 });
    expect(cornerDeg(faster)).toBeCloseTo((360 * 2 * third) / (3 * Math.sqrt(3)), 2);
    // It has grown faster, and no longer does: the later difference is nothing, the third over 3.1.
    const steady = evenTurn(1, { beforeTicks: 2.2, duringTicks: 2, afterTicks: 2 });
    const back = (1 / 1.1 - 1) / 2.1 / 3.1;
    expect(cornerDeg(steady)).toBeCloseTo((360 * 2 * back) / (3 * Math.sqrt(3)), 2);
    expect(cornerDeg(steady)).toBeLessThan(0);
  });

  it("is an eighth of the second difference in the first turn, less by the square of the edges", () => {
    const first = evenTurn(0, { beforeTicks: 0, duringTicks: 100, afterTicks: 110 });
    expect(cornerDeg(first)).toBeCloseTo(4.5, 9);
    const edges = { ...first, edgeTicks: [0, 25, 50, 75, 100] };
    expect(cornerDeg(edges)).toBeCloseTo(4.5 / 16, 9);
  });
});
