// Columns that grow keep what stands in them.
import { describe, expect, it } from "vitest";
import {
  doubledBytes,
  doubledNumbers,
  doubledWhole,
  ROWS_FIRST,
} from "../../core/angles/columns.ts";
import { FiringEvents, UNKNOWN } from "../../core/angles/firingEvents.ts";
import { EDGE_KINDS, TurnLog } from "../../core/angles/turnLog.ts";
import type { TriggerEdge } from "../../core/codec/rigLines.ts";
import { evenTurn } from "./literals.ts";

describe("a column doubled", () => {
  it("has the same values and room for as many more", () => {
    expect([...doubledNumbers(Float64Array.of(1.5, -2))]).toEqual([1.5, -2, 0, 0]);
    expect([...doubledWhole(Int32Array.of(7, UNKNOWN))]).toEqual([7, -1, 0, 0]);
    expect([...doubledBytes(Uint8Array.of(200, 3))]).toEqual([200, 3, 0, 0]);
  });
});

describe("firing events", () => {
  it("are all there beyond the rows that there was room for", () => {
    const events = new FiringEvents([]);
    const count = 2 * ROWS_FIRST + 1;
    for (let i = 0; i < count; i++) {
      events.push(i + 0.25, i % 2 === 0 ? i : UNKNOWN, i + 0.5);
      events.lobes[i] = i % 8;
      events.advancesDeg[i] = -i;
    }
    expect(events.count).toBe(count);
    const numbers = Array.from({ length: count }, (_, i) => i);
    const first = (column: ArrayLike<number>) => Array.from(column).slice(0, count);
    expect(first(events.ticks)).toEqual(numbers.map((i) => i + 0.25));
    expect(first(events.closingTurns)).toEqual(numbers.map((i) => (i % 2 === 0 ? i : -1)));
    expect(first(events.closingTicks)).toEqual(numbers.map((i) => i + 0.5));
    expect(first(events.lobes)).toEqual(numbers.map((i) => i % 8));
    expect(first(events.advancesDeg).map(Math.abs)).toEqual(numbers);
  });

  it("that are taken back are written anew", () => {
    const events = new FiringEvents([]);
    for (const tick of [1, 2, 3]) events.push(tick, UNKNOWN, 0);
    events.cutTo(1);
    events.push(9, UNKNOWN, 0);
    expect(events.count).toBe(2);
    expect([...events.ticks.slice(0, 2)]).toEqual([1, 9]);
  });
});

describe("the edges of turns", () => {
  const turnOf = (k: number, eventEdges: readonly TriggerEdge[], from: number) => ({
    ...evenTurn(k),
    eventEdges,
    eventTicks: eventEdges.map((_, i) => from + i),
  });

  it("stand one turn after another, each with its kind", () => {
    const log = new TurnLog();
    log.push(turnOf(0, ["b", "a"], 10));
    log.push(turnOf(1, [], 0));
    log.push(turnOf(2, ["a", "b", "a"], 20));
    expect([0, 1, 2, 3].map((turn) => log.edgesBefore(turn))).toEqual([0, 2, 2, 5]);
    expect([...log.edgeTicks.slice(0, 5)]).toEqual([10, 11, 20, 21, 22]);
    const { a, b } = EDGE_KINDS;
    expect([...log.edgeKinds.slice(0, 5)]).toEqual([b, a, a, b, a]);
    expect(log.turns.map(({ sequence }) => sequence)).toEqual([0, 1, 2]);
  });

  it("are all there where one turn has more than there was room for, twice over", () => {
    const log = new TurnLog();
    log.push(turnOf(0, ["b"], 5));
    const many = Array.from({ length: 3 * ROWS_FIRST }, (): TriggerEdge => "b");
    log.push(turnOf(1, many, 100));
    const last = 3 * ROWS_FIRST;
    expect(log.edgesBefore(2)).toBe(last + 1);
    expect(log.edgeTicks[0]).toBe(5);
    expect(log.edgeTicks[last]).toBe(100 + last - 1);
    expect(log.edgeKinds[0]).toBe(EDGE_KINDS.b);
    expect(log.edgeKinds[last]).toBe(EDGE_KINDS.b);
  });
});
