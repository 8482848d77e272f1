// Turns from parts, and the checks of sense that keep wrong ones out.
import { describe, expect, it } from "vitest";
import type { RevPart } from "../../core/codec/rigLines.ts";
import { type Turn, TurnAssembler, ticksBetween } from "../../core/turns.ts";
import { HELLO } from "./turns.ts";

const PERIOD = 60_000;

function rev(sequence: number, changes: Partial<RevPart> = {}): RevPart {
  return {
    type: "rev",
    sequence,
    indexTick: (4_294_900_000 + sequence * PERIOD) % 2 ** 32,
    beforeTicks: PERIOD,
    duringTicks: PERIOD,
    afterTicks: PERIOD,
    lost: false,
    every: 1,
    part: 1,
    parts: 1,
    eventEdges: ["a", "b"],
    eventTicks: [100, 30_000],
    ...changes,
  };
}

function assembler(hello = HELLO) {
  const turns: Turn[] = [];
  const one = new TurnAssembler(hello, (turn) => turns.push(turn));
  return { turns, one };
}

describe("TurnAssembler", () => {
  it("takes turns across the wrap of the tick counter", () => {
    const { turns, one } = assembler();
    for (let k = 0; k < 5; k++) one.pushRev(rev(k));
    expect(turns.map(({ sequence }) => sequence)).toEqual([0, 1, 2, 3, 4]);
    expect(turns.map(({ followsOn }) => followsOn)).toEqual([false, true, true, true, true]);
    expect(one.counts).toEqual({ good: 5, setAside: 0, missing: 0 });
  });

  it("takes the sequence across its own wrap", () => {
    const { turns, one } = assembler();
    one.pushRev(rev(4_294_967_295, { indexTick: 1000 }));
    one.pushRev(rev(0, { indexTick: 61_000 }));
    expect(turns.length).toBe(2);
    expect(one.counts.missing).toBe(0);
  });

  it("joins parts, and sets aside a turn of which one is missing", () => {
    const { turns, one } = assembler();
    const first = rev(0, { part: 1, parts: 2, eventEdges: ["a"], eventTicks: [10] });
    const second = rev(0, { part: 2, parts: 2, eventEdges: ["b"], eventTicks: [40_000] });
    one.pushRev(first);
    one.pushRev(second);
    expect(turns[0]?.eventTicks).toEqual([10, 40_000]);
    one.pushRev({ ...first, sequence: 1, indexTick: first.indexTick + PERIOD });
    one.pushRev(rev(2));
    expect(one.counts).toMatchObject({ good: 2, setAside: 1 });
    expect(turns.length).toBe(2);
  });

  it.each<[string, Partial<RevPart>]>([
    ["an index that does not follow from the turn before", { indexTick: 77 }],
    ["a period before that was not the last period", { beforeTicks: PERIOD + 1 }],
    ["a speed that no spindle has", { duringTicks: 5000 }],
    ["events that go back", { eventTicks: [30_000, 100] }],
    ["an event behind the next index", { eventTicks: [100, PERIOD] }],
    ["a sequence that goes back", { sequence: 4_294_967_000 }],
    ["a sequence that stands still", { sequence: 0 }],
  ])("sets aside %s, and goes on", (_, changes) => {
    const { turns, one } = assembler();
    one.pushRev(rev(0));
    one.pushRev(rev(1, changes));
    one.pushRev(rev(2));
    expect(turns.map(({ sequence }) => sequence)).toEqual([0, 2]);
    expect(one.counts.setAside).toBe(1);
  });

  it("takes no turn twice, be it one line or a block of them that comes again", () => {
    const { turns, one } = assembler();
    for (const k of [0, 1, 2, 1, 2, 3, 3, 3, 3, 4]) one.pushRev(rev(k));
    expect(turns.map(({ sequence }) => sequence)).toEqual([0, 1, 2, 3, 4]);
    // What came again does not break the row of those around it.
    expect(turns.map(({ followsOn }) => followsOn)).toEqual([false, true, true, true, true]);
    expect(one.counts).toEqual({ good: 5, setAside: 5, missing: 0 });
  });

  it("sets aside a turn after a gap that began sooner than the spindle can have come there", () => {
    const { turns, one } = assembler();
    one.pushRev(rev(0));
    one.pushRev(rev(50, { indexTick: rev(3).indexTick }));
    one.pushRev(rev(51));
    expect(turns.map(({ sequence }) => sequence)).toEqual([0, 51]);
  });

  it("accounts for every turn of the sequence: good, set aside or missing", () => {
    const { one } = assembler();
    one.pushRev(rev(0));
    one.pushRev(rev(1, { indexTick: 77 }));
    one.pushRev(rev(5));
    one.pushRev(rev(6));
    expect(one.counts).toEqual({ good: 3, setAside: 1, missing: 3 });
  });

  it("counts missing turns by the sequence, and not those a slow link leaves out", () => {
    const { one } = assembler();
    one.pushRev(rev(0));
    one.pushRev(rev(4));
    expect(one.counts.missing).toBe(3);
    const slow = assembler().one;
    for (const k of [0, 3, 6, 12]) slow.pushRev(rev(k, { every: 3 }));
    expect(slow.counts.missing).toBe(1);
  });

  it("takes pickup edges only where they are complete and end at the next index", () => {
    const hello = { ...HELLO, edgesPerTurn: 4 };
    const push = (differences: number[], sequence = 0) => {
      const { turns, one } = assembler(hello);
      one.pushPick({ type: "pick", sequence, part: 1, parts: 1, differenceTicks: differences });
      one.pushRev(rev(0));
      const edgeTicks = turns[0]?.edgeTicks ?? null;
      return edgeTicks === null ? null : Array.from(edgeTicks);
    };
    expect(push([15_000, 15_001, 14_999, 15_000])).toEqual([0, 15_000, 30_001, 45_000, 60_000]);
    expect(push([15_000, 15_000, 15_000])).toBe(null);
    expect(push([15_000, 15_000, 15_000, 15_001])).toBe(null);
    expect(push([15_000, 15_000, 15_000, 15_000], 9)).toBe(null);
    // Two edges at once, and a sum that is right only once it has wrapped.
    expect(push([15_000, 0, 30_000, 15_000])).toBe(null);
    expect(push([15_000, 2 ** 32 - 1, 15_001, 30_000])).toBe(null);
  });
});

describe("ticksBetween", () => {
  it("counts over the wrap", () => {
    expect(ticksBetween(4_294_967_290, 10)).toBe(16);
  });
});
