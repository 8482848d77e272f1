// A run's turns and vacuum lines in their order, from turns of a known motion.
import { describe, expect, it } from "vitest";
import { uncorrectedRig } from "../../core/angles/knowledge.ts";
import { RunLog } from "../../core/angles/runLog.ts";
import type { VacuumLine } from "../../core/codec/rigLines.ts";
import { HELLO, rampTurn } from "./turns.ts";

const RIG = uncorrectedRig({ ...HELLO, tickHz: 1e9 });
const NOMINAL_DEG = [0, 90, 180, 270];
/** A tenth of a second a turn at 600 rpm. */
const TURN_TICKS = 100_000_000;

function vacuumAt(tick: number, sequence = 0, vacuumPa = 20_000): VacuumLine {
  return { type: "vac", sequence, tick, vacuumPa, pumpPermille: 300, valve: "hold" };
}

/** So many turns, from turn 1 on, each lobe so much earlier than 10° after its nominal place. */
function logOf(turns: number, earlierDeg: (turn: number) => readonly number[]): RunLog {
  const log = new RunLog(RIG, "a");
  for (let k = 1; k <= turns; k++) log.pushTurn(turn(k, earlierDeg(k)));
  return log;
}

function turn(k: number, earlierDeg: readonly number[]) {
  const anglesDeg = NOMINAL_DEG.map((deg, j) => deg + 10 - (earlierDeg[j] as number));
  return rampTurn(k, anglesDeg, {});
}

const STILL = () => [0, 0, 0, 0];

describe("before the reference", () => {
  it("keeps turns without lobes", () => {
    const log = new RunLog(RIG, "a");
    const tracked = log.pushTurn(turn(1, STILL()));
    expect(tracked.advanceDeg).toBeNull();
    expect(log.turns).toEqual([tracked]);
    expect(tracked.turn.sequence).toBe(1);
  });
});

describe("the reference", () => {
  it("is where each lobe stands in the mean of its turns", () => {
    // Lobe 2 half a degree early; lobe 3 by 0.1 in one turn and 0.2 in the other.
    const log = logOf(2, (k) => [0, 0.5, k / 10, 0]);
    const match = log.takeReference({ from: 0, to: 2 }, NOMINAL_DEG);
    const placesDeg = [10, 99.5, 189.85, 280];
    expect(match.found).toBe(true);
    const { anglesDeg } = match as { anglesDeg: readonly number[] };
    expect(anglesDeg).toHaveLength(4);
    for (const [j, deg] of placesDeg.entries()) expect(anglesDeg[j]).toBeCloseTo(deg, 9);
  });

  it("is read from the span alone, and turns before and after it are left as they came", () => {
    const log = logOf(6, (k) => (k === 3 || k === 4 ? STILL() : [3, 3, 3, 3]));
    const before = [...log.turns];
    const match = log.takeReference({ from: 2, to: 4 }, NOMINAL_DEG);
    expect((match as { anglesDeg: readonly number[] }).anglesDeg[0]).toBeCloseTo(10, 9);
    expect(log.turns).toHaveLength(6);
    for (const k of [0, 1, 4, 5]) expect(log.turns[k]).toBe(before[k]);
    for (const k of [2, 3]) {
      expect(log.turns[k]?.turn.sequence).toBe(k + 1);
      expect(log.turns[k]?.advanceDeg).toBeCloseTo(0, 9);
    }
  });

  it("gives advances of its own turns against the places it found, not the nominal ones", () => {
    const log = logOf(2, (k) => (k === 1 ? [0, 2, 0, 0] : [0.2, 2.2, 0.2, 0.2]));
    log.takeReference({ from: 0, to: 2 }, NOMINAL_DEG);
    expect(log.turns[0]?.advanceDeg).toBeCloseTo(-0.1, 9);
    expect(log.turns[1]?.advanceDeg).toBeCloseTo(0.1, 9);
    const { events, from } = log.turns[0] ?? {};
    // Each lobe by itself: lobe 2 is no more early than the others.
    expect(events?.advancesDeg[(from ?? 0) + 1]).toBeCloseTo(-0.1, 9);
  });

  it("is followed from there on", () => {
    const log = logOf(2, STILL);
    log.takeReference({ from: 0, to: 2 }, NOMINAL_DEG);
    const next = log.pushTurn(turn(3, [4, 4, 4, 4]));
    expect(next.advanceDeg).toBeCloseTo(4, 9);
    expect(log.turns[2]).toBe(next);
  });

  it("has the place of a lobe that fired in one turn alone", () => {
    const log = new RunLog(RIG, "a");
    log.pushTurn(turn(1, STILL()));
    log.pushTurn(rampTurn(2, [10, 100, 190], {}));
    const match = log.takeReference({ from: 0, to: 2 }, NOMINAL_DEG);
    expect((match as { anglesDeg: readonly number[] }).anglesDeg[3]).toBeCloseTo(280, 9);
  });

  it("that is not found says how many events came and leaves all as it was", () => {
    const log = new RunLog(RIG, "a");
    for (let k = 1; k <= 2; k++) log.pushTurn(rampTurn(k, [10, 100, 190], {}));
    const before = [...log.turns];
    const span = { from: 0, to: 2 };
    expect(log.takeReference(span, NOMINAL_DEG)).toEqual({ found: false, eventsPerTurn: 3 });
    expect(log.turns).toEqual(before);
    expect(log.pushTurn(turn(3, STILL())).advanceDeg).toBeNull();
  });
});

describe("a vacuum line", () => {
  it("is kept as a right sensor would have given it", () => {
    const log = new RunLog({ ...RIG, vacuumOffsetPa: -300, vacuumGain: 1.05 }, "a");
    const line = log.pushVacuum(vacuumAt(5, 7));
    // −300 + 1.05 · 20,000.
    expect(line).toEqual({ ...vacuumAt(5, 7), vacuumPa: 20_700 });
    expect(log.vacuumsFrom(5)).toEqual([line]);
  });
});

/** Sequences of those found. */
function sequences(lines: readonly VacuumLine[]): number[] {
  return lines.map(({ sequence }) => sequence);
}

describe("vacuum lines of a span", () => {
  it("lie from its first index to the end of its last turn, both counted", () => {
    const log = logOf(5, STILL);
    // Turns 2 to 4 of the motion, from 2 to 5 turns after its start.
    const [from, to] = [2 * TURN_TICKS, 5 * TURN_TICKS];
    const ticks = [from - 1, from, from + 1, to - 1, to, to + 1];
    for (const [i, tick] of ticks.entries()) log.pushVacuum(vacuumAt(tick, i));
    expect(sequences(log.vacuumsIn({ from: 1, to: 4 }))).toEqual([1, 2, 3, 4]);
  });

  it("are found where the counter of ticks begins anew within it", () => {
    // 2³² ticks are 42.9 turns: turn 42 begins before its end, turn 43 after it.
    const log = logOf(44, STILL);
    const line = log.pushVacuum(vacuumAt(43 * TURN_TICKS + 5 - 2 ** 32));
    expect(log.vacuumsIn({ from: 41, to: 43 })).toEqual([line]);
    expect(log.vacuumsIn({ from: 0, to: 1 })).toEqual([]);
  });

  it("are none of a span without turns", () => {
    const log = logOf(3, STILL);
    log.pushVacuum(vacuumAt(TURN_TICKS));
    expect(log.vacuumsIn({ from: 0, to: 0 })).toEqual([]);
    expect(log.vacuumsIn({ from: 3, to: 4 })).toEqual([]);
    expect(log.vacuumsIn({ from: 2, to: 9 })).toEqual([]);
  });

  it("came no more than twenty turns before or after it", () => {
    const log = new RunLog(RIG, "a");
    const tick = 40 * TURN_TICKS + 1;
    // A line before each turn; number k came when k turns had. All have the tick of the fortieth turn.
    for (let k = 0; k <= 80; k++) {
      log.pushVacuum(vacuumAt(tick, k));
      log.pushTurn(turn(k + 1, STILL()));
    }
    const numbers = Array.from({ length: 42 }, (_, i) => 19 + i);
    expect(sequences(log.vacuumsIn({ from: 39, to: 40 }))).toEqual(numbers);
  });
});

describe("vacuum lines from a tick on", () => {
  const withLinesAt = (ticks: readonly number[]) => {
    const log = new RunLog(RIG, "a");
    for (const [i, tick] of ticks.entries()) log.pushVacuum(vacuumAt(tick, i));
    return log;
  };

  it("begin with the last line of that tick", () => {
    const log = withLinesAt([10, 20, 10, 30]);
    expect(sequences(log.vacuumsFrom(10))).toEqual([2, 3]);
    expect(sequences(log.vacuumsFrom(30))).toEqual([3]);
  });

  it("may begin with the first of all", () => {
    expect(sequences(withLinesAt([10, 20]).vacuumsFrom(10))).toEqual([0, 1]);
  });

  it("are none where no line has it", () => {
    expect(withLinesAt([10]).vacuumsFrom(11)).toEqual([]);
  });
});
