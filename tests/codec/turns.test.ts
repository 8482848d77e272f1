// Turns out of parts, each condition of clauses 2.2, 3.2 and 3.3 broken by itself.
import { describe, expect, it } from "vitest";
import type { Hello, PickPart, RevPart } from "../../core/codec/rigLines.ts";
import { keptTurn, type Turn, TurnAssembler } from "../../core/turns.ts";
import { HELLO } from "../angles/turns.ts";

/** No turn is shorter than 60 × 1,000,000 / (4800 × 1.25) = 10,000 ticks. */
const RIG: Hello = { ...HELLO, tickHz: 1_000_000, speedMaxRpm: 4800, edgesPerTurn: 4 };
const PERIOD = 60_000;

function rev(sequence: number, changes: Partial<RevPart> = {}): RevPart {
  return {
    ...{ type: "rev", sequence, indexTick: 1000 + sequence * PERIOD, beforeTicks: PERIOD },
    ...{ duringTicks: PERIOD, afterTicks: PERIOD, lost: false, every: 1, part: 1, parts: 1 },
    ...{ eventEdges: ["a"], eventTicks: [100] },
    ...changes,
  } as RevPart;
}

function pick(differenceTicks: number[], changes: Partial<PickPart> = {}): PickPart {
  return { type: "pick", sequence: 0, part: 1, parts: 1, differenceTicks, ...changes };
}

function assembled(...lines: readonly (RevPart | PickPart)[]) {
  const turns: Turn[] = [];
  const one = new TurnAssembler(RIG, (turn) => turns.push(turn));
  for (const line of lines) {
    if (line.type === "rev") one.pushRev(line);
    else one.pushPick(line);
  }
  const sequences = turns.map(({ sequence }) => sequence);
  return { turns, sequences, counts: one.counts };
}

const edgesOf = (...lines: readonly (RevPart | PickPart)[]) => {
  const edges = assembled(...lines).turns[0]?.edgeTicks ?? null;
  return edges === null ? null : Array.from(edges);
};

describe("periods", () => {
  it.each<[Partial<RevPart>, boolean]>([
    [{ beforeTicks: 10_000, duringTicks: 10_000, afterTicks: 10_000 }, true],
    [{ beforeTicks: 0 }, true],
    [{ beforeTicks: 9999 }, false],
    [{ beforeTicks: 1 }, false],
    [{ duringTicks: 9999 }, false],
    [{ afterTicks: 9999 }, false],
    [{ beforeTicks: 0, duringTicks: 9999 }, false],
    [{ beforeTicks: 0, afterTicks: 9999 }, false],
  ])("%j: are those of a spindle? %s", (changes, good) => {
    const { counts } = assembled(rev(0, changes));
    expect(counts).toEqual({ good: good ? 1 : 0, setAside: good ? 0 : 1, missing: 0 });
  });
});

describe("events", () => {
  it.each<[number[], boolean]>([
    [[], true],
    [[0, 59_999], true],
    [[100, 100], true],
    [[100, 99], false],
    [[60_000], false],
  ])("%j: are in their order and within the turn? %s", (eventTicks, good) => {
    const eventEdges = eventTicks.map(() => "a" as const);
    expect(assembled(rev(0, { eventTicks, eventEdges })).counts.good).toBe(good ? 1 : 0);
  });
});

describe("the turn after", () => {
  it.each<[string, Partial<RevPart>, boolean]>([
    ["begins where this one ends", {}, true],
    ["began a tick late", { indexTick: 61_001 }, false],
    ["says another BEFORE", { beforeTicks: PERIOD + 1 }, false],
    ["says another DURING", { duringTicks: PERIOD + 1 }, false],
    ["follows a standstill", { beforeTicks: 0, indexTick: 5_000_000, duringTicks: 90_000 }, true],
  ])("%s", (_, changes, good) => {
    expect(assembled(rev(0), rev(1, changes)).sequences).toEqual(good ? [0, 1] : [0]);
  });

  it("but one is held against what both know", () => {
    const next = (changes: Partial<RevPart>) =>
      assembled(
        rev(0, { afterTicks: 70_000 }),
        rev(2, { indexTick: 131_000, beforeTicks: 70_000, ...changes }),
      );
    expect(next({})).toMatchObject({ sequences: [0, 2], counts: { missing: 1 } });
    expect(next({ indexTick: 131_001 }).sequences).toEqual([0]);
    expect(next({ beforeTicks: 70_001 }).sequences).toEqual([0]);
    // Of its DURING nothing was known.
    expect(next({ duringTicks: 80_000 }).sequences).toEqual([0, 2]);
  });

  it("a gap is no sooner than the rig's fastest turns", () => {
    const at = (indexTick: number) => assembled(rev(0), rev(5, { indexTick })).sequences;
    expect(at(51_000)).toEqual([0, 5]);
    expect(at(50_999)).toEqual([0]);
  });

  it("follows on only from the very one before, and from none that was set aside", () => {
    const follows = (...lines: readonly RevPart[]) =>
      assembled(...lines).turns.map(({ followsOn }) => followsOn);
    expect(follows(rev(0), rev(1), rev(3))).toEqual([false, true, false]);
    expect(follows(rev(0), rev(1, { indexTick: 7 }), rev(2), rev(3))).toEqual([false, false, true]);
    // The latest good one is 0 still, and nothing is told by it: this is not its next.
    const bad = rev(1, { indexTick: 7 });
    expect(follows(rev(0), bad, rev(1))).toEqual([false, false]);
  });
});

describe("missing turns", () => {
  it("are not those in which the spindle stood still", () => {
    const stood = rev(9, { beforeTicks: 0, indexTick: 3_000_000 });
    expect(assembled(rev(0), stood).counts).toEqual({ good: 2, setAside: 0, missing: 0 });
    expect(assembled(rev(0), rev(9)).counts).toEqual({ good: 2, setAside: 0, missing: 8 });
  });

  it("are none before the first", () => {
    expect(assembled(rev(7)).counts).toEqual({ good: 1, setAside: 0, missing: 0 });
  });
});

describe("parts of a turn", () => {
  const first = rev(0, { part: 1, parts: 3, eventEdges: ["a"], eventTicks: [10] });
  const second = rev(0, { part: 2, parts: 3, eventEdges: ["b"], eventTicks: [20] });
  const third = rev(0, { part: 3, parts: 3, eventEdges: ["a", "b"], eventTicks: [30, 40] });

  it("are joined in their order", () => {
    const { turns, counts } = assembled(first, second, third);
    expect(turns).toHaveLength(1);
    expect([turns[0]?.eventEdges, turns[0]?.eventTicks]).toEqual([
      ["a", "b", "a", "b"],
      [10, 20, 30, 40],
    ]);
    expect(counts).toEqual({ good: 1, setAside: 0, missing: 0 });
  });

  it.each<[string, RevPart]>([
    ["comes again", first],
    ["is not the next", third],
    ["is of another count of parts", { ...second, parts: 2 }],
    ["is of another turn", { ...second, sequence: 1 }],
    ["says another index", { ...second, indexTick: 1001 }],
    ["says another BEFORE", { ...second, beforeTicks: 1 }],
    ["says another DURING", { ...second, duringTicks: 1 }],
    ["says another AFTER", { ...second, afterTicks: 1 }],
    ["says another EVERY", { ...second, every: 2 }],
  ])("make no turn where one %s", (_, wrong) => {
    const { turns, counts } = assembled(first, wrong, { ...third, part: 2 }, third);
    expect([turns.length, counts.good]).toEqual([0, 0]);
    expect(counts.setAside).toBeGreaterThanOrEqual(1);
  });

  it("without their first are no turn that came", () => {
    expect(assembled(second, third).counts).toEqual({ good: 0, setAside: 0, missing: 0 });
    expect(assembled(rev(1), { ...second, sequence: 2 }, rev(3)).counts).toEqual({
      ...{ good: 2, setAside: 0, missing: 1 },
    });
  });

  it("that break off set one turn aside, and the next begins anew", () => {
    expect(assembled(first, rev(1)).counts).toEqual({ good: 1, setAside: 1, missing: 0 });
    expect(assembled(first, third, rev(1)).counts).toEqual({ good: 1, setAside: 1, missing: 0 });
  });
});

describe("pickup edges", () => {
  const HALVES = [
    pick([15_000, 15_000], { part: 1, parts: 2 }),
    pick([14_000, 16_000], { part: 2, parts: 2 }),
  ] as const;
  const whole = [0, 15_000, 30_000, 44_000, 60_000];

  it("are joined out of their parts", () => {
    expect(edgesOf(...HALVES, rev(0))).toEqual(whole);
    expect(edgesOf(pick([15_000, 15_000, 14_000, 16_000]), rev(0))).toEqual(whole);
  });

  it.each<[string, readonly (RevPart | PickPart)[]]>([
    ["no lines", []],
    ["the second part alone", [HALVES[1]]],
    ["the first part alone", [HALVES[0]]],
    ["the parts in the other order", [HALVES[1], HALVES[0]]],
    ["the first part twice", [HALVES[0], HALVES[0]]],
    ["a part of another turn", [HALVES[0], { ...HALVES[1], sequence: 1 }]],
    ["a part of another count", [HALVES[0], { ...HALVES[1], parts: 3 }]],
    [
      "a third part of three that does not come",
      [
        { ...HALVES[0], parts: 3 },
        { ...HALVES[1], parts: 3 },
      ],
    ],
    ["one difference too many", [pick([15_000, 15_000, 14_000, 15_999, 1])]],
    [
      "one difference too many in a further part",
      [HALVES[0], { ...HALVES[1], differenceTicks: [14_000, 15_999, 1] }],
    ],
    [
      "all of them, and a part with nothing that is of no turn",
      [pick([15_000, 15_000, 14_000, 16_000]), pick([], { part: 3 })],
    ],
    ["an end before the next index", [pick([15_000, 15_000, 14_000, 15_999])]],
    ["two edges at once", [pick([30_000, 0, 14_000, 16_000])]],
    ["the turn before", [pick([15_000, 15_000, 14_000, 16_000], { sequence: 4_294_967_295 })]],
  ])("are not known by %s", (_, lines) => {
    expect(edgesOf(...lines, rev(0))).toBeNull();
  });

  it("are those of their own turn, turn after turn", () => {
    const lines = Array.from({ length: 4000 }, (_, k) => [
      pick([15_000 + (k % 7), 15_000 - (k % 7), 14_000, 16_000], { sequence: k }),
      rev(k),
    ]).flat();
    const { turns } = assembled(...lines);
    expect(turns).toHaveLength(4000);
    for (const { sequence, edgeTicks } of turns) {
      expect(edgeTicks?.[1]).toBe(15_000 + (sequence % 7));
      expect(edgeTicks?.length).toBe(5);
    }
  });

  it("are used once", () => {
    const { turns } = assembled(pick([15_000, 15_000, 14_000, 16_000]), rev(0), rev(1));
    expect(turns.map(({ edgeTicks }) => edgeTicks === null)).toEqual([false, true]);
  });
});

it("a turn that is kept no longer changes with the line that it came in", () => {
  const line = rev(0, { eventEdges: ["a"], eventTicks: [100] });
  const kept = assembled(line).turns.map(keptTurn)[0];
  (line.eventTicks as number[])[0] = 7;
  (line.eventEdges as string[])[0] = "b";
  expect([kept?.eventEdges, kept?.eventTicks]).toEqual([["a"], [100]]);
});
