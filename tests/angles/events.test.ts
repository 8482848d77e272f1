// Trigger edges to firing events: chatter, noise and bounce are told from openings.
import { describe, expect, it } from "vitest";
import { EventReader } from "../../core/angles/events.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import { TurnLog } from "../../core/angles/turnLog.ts";
import type { TriggerEdge } from "../../core/codec/rigLines.ts";
import type { Turn } from "../../core/turns.ts";
import { rampTurn } from "./turns.ts";

/** One turn of 100 ms at 1 MHz, as "a1000 b30000": opening and closing with their ticks. */
function turn(k: number, text: string): Turn {
  const events = text.split(" ").map((word) => ({
    edge: word[0] as TriggerEdge,
    tick: Number(word.slice(1)),
  }));
  return {
    ...rampTurn(k, [], { tickHz: 1e6 }),
    eventEdges: events.map(({ edge }) => edge),
    eventTicks: events.map(({ tick }) => tick),
  };
}

interface Fired {
  readonly tick: number;
  readonly closing: { readonly sequence: number; readonly tick: number } | null;
}

/** Takes turns as they come. */
class Reading {
  private readonly log = new TurnLog();
  private readonly reader = new EventReader(this.log, "a", 2, 1e6);
  readonly events = this.reader.events;

  read(one: Turn): TrackedTurn {
    this.log.push(one);
    return this.reader.read(this.log.turns.length - 1);
  }
}

function firingIn(reader: Reading, one: Turn): Fired[] {
  const { from, to } = reader.read(one);
  const { turns, ticks, closingTurns, closingTicks } = reader.events;
  return Array.from({ length: to - from }, (_, i): Fired => {
    const closing = turns[closingTurns[from + i] as number];
    return {
      tick: ticks[from + i] as number,
      closing:
        closing === undefined
          ? null
          : { sequence: closing.sequence, tick: closingTicks[from + i] as number },
    };
  });
}

function ticks(reader: Reading, ...turns: Turn[]) {
  const last = turns.map((one) => reader.read(one)).at(-1);
  return {
    firing: [...reader.events.ticks.subarray(last?.from, last?.to)],
    noise: last?.noise,
    bounces: last?.bounces,
  };
}

const twoLobes = () => new Reading();
const SOUND = "a1000 b21000 a51000 b71000";

describe("EventReader", () => {
  it("hands on plain openings, with the closing before each, also over the index", () => {
    const reader = twoLobes();
    reader.read(turn(1, SOUND));
    const firing = firingIn(reader, turn(2, SOUND));
    expect(firing.map(({ tick, closing }) => [tick, closing?.sequence, closing?.tick])).toEqual([
      [1000, 1, 71_000],
      [51_000, 2, 21_000],
    ]);
  });

  it("keeps the first edge of an opening that chatters", () => {
    const noisy = "a1000 b1060 a1150 b21000 a51000 b71000";
    expect(ticks(twoLobes(), turn(1, SOUND), turn(2, noisy))).toEqual({
      firing: [1000, 51_000],
      noise: 1,
      bounces: 0,
    });
  });

  it("sets aside a short opening in mid-dwell as noise and counts it", () => {
    const noisy = "a1000 b21000 a40000 b40080 a51000 b71000";
    expect(ticks(twoLobes(), turn(1, SOUND), turn(2, noisy))).toEqual({
      firing: [1000, 51_000],
      noise: 1,
      bounces: 0,
    });
  });

  it("calls what opens again directly after a closing bounce, and keeps the first closing", () => {
    const reader = twoLobes();
    reader.read(turn(1, SOUND));
    const bounced = reader.read(turn(2, "a1000 b21000 a21400 b21550 a51000 b71000 a71100 b71200"));
    expect(bounced.bounces).toBe(2);
    expect(bounced.noise).toBe(0);
    expect(bounced.to - bounced.from).toBe(2);
    expect(reader.events.closingTicks[bounced.from + 1]).toBe(21_000);
  });

  it("sets aside a short closing while open", () => {
    const noisy = "a1000 b10000 a10100 b21000 a51000 b71000";
    expect(ticks(twoLobes(), turn(1, SOUND), turn(2, noisy)).firing).toEqual([1000, 51_000]);
  });

  it("goes on where an opening is missing, and forgets across a gap", () => {
    const reader = twoLobes();
    reader.read(turn(1, SOUND));
    expect(ticks(reader, turn(2, "a1000 b21000 b71000")).firing).toEqual([1000]);
    const firing = firingIn(reader, { ...turn(4, SOUND), followsOn: false });
    expect(firing[0]?.closing).toBeNull();
  });
});

describe("edges close together", () => {
  // 0.3 ms are 300 ticks; a tenth of the 50,000 between two lobes is more.
  it.each([
    ["are one change within 0.3 ms", "a1000 b1299 a1598 b21000 a51000 b71000", [1000, 51_000], 1],
    [
      "are changes of their own at 0.3 ms",
      "a1000 b1300 a1600 b21000 a51000",
      [1000, 1600, 51_000],
      0,
    ],
  ])("%s", (_, text, firing, noise) => {
    const read = ticks(twoLobes(), turn(1, SOUND), turn(2, text));
    expect(read.firing).toEqual(firing);
    expect(read.noise).toBe(noise);
  });

  it("are changes of their own where a tenth of a fast turn's spacing is less", () => {
    // 5,000 ticks a turn: 250 of the 2,500 between two lobes.
    const fast = (k: number, text: string) => ({ ...turn(k, text), duringTicks: 5000 });
    const near = fast(2, "a1000 b1249 a1498 b2000 a3500 b4500");
    const apart = fast(3, "a1000 b1250 a1500 b2000 a3500 b4500");
    const reader = twoLobes();
    expect(ticks(reader, fast(1, "a1000 b2000 a3500 b4500"), near).firing).toEqual([1000, 3500]);
    expect(ticks(reader, apart).firing).toEqual([1000, 1500, 3500]);
  });

  it("count by pairs: of four that come back two, of five that change two", () => {
    const back = "a1000 b21000 a40000 b40080 a40160 b40240 a51000 b71000";
    expect(ticks(twoLobes(), turn(1, SOUND), turn(2, back))).toEqual({
      firing: [1000, 51_000],
      noise: 2,
      bounces: 0,
    });
    const five = "a1000 b1060 a1120 b1180 a1240 b21000 a51000 b71000";
    expect(ticks(twoLobes(), turn(1, SOUND), turn(2, five))).toEqual({
      firing: [1000, 51_000],
      noise: 2,
      bounces: 0,
    });
  });

  it("at a closing are bounce, and the closing is the first of them", () => {
    const reader = twoLobes();
    reader.read(turn(1, SOUND));
    const read = reader.read(turn(2, "a1000 b21000 a21060 b21120 a51000 b71000"));
    expect([read.bounces, read.noise]).toEqual([1, 0]);
    expect(reader.events.closingTicks[read.from + 1]).toBe(21_000);
  });

  it("with nothing before them changed from what the first of them ended", () => {
    const opened = ticks(twoLobes(), turn(1, "a1000 b1060 a1120 b21000 a51000"));
    expect(opened).toEqual({ firing: [1000, 51_000], noise: 1, bounces: 0 });
    const cameBack = ticks(twoLobes(), turn(1, "a1000 b1060 a51000 b71000"));
    expect(cameBack).toEqual({ firing: [51_000], noise: 1, bounces: 0 });
  });
});

describe("a short opening after a closing", () => {
  // A quarter of the 50,000 ticks between two lobes.
  it.each([
    ["is bounce within a quarter of a spacing", "a1000 b21000 a33499 b33600 a51000 b71000", 1, 0],
    ["is noise from there on", "a1000 b21000 a33500 b33600 a51000 b71000", 0, 1],
    // The closing at 71,000 lies in the turn before, 29,000 ticks before the index.
    ["is noise long after one of the turn before", "a500 b600 a1000 b21000 a51000 b71000", 0, 1],
  ])("%s", (_, text, bounces, noise) => {
    const read = ticks(twoLobes(), turn(1, SOUND), turn(2, text));
    expect([read.bounces, read.noise]).toEqual([bounces, noise]);
  });

  it("is bounce soon after one of the turn before", () => {
    // 5,000 ticks before the index and 7,499 after it.
    const late = turn(1, "a1000 b21000 a51000 b95000");
    const read = ticks(twoLobes(), late, turn(2, "a7499 b7600 a20000 b40000 a70000 b95000"));
    expect([read.bounces, read.noise]).toEqual([1, 0]);
    const noise = ticks(twoLobes(), late, turn(2, "a7500 b7600 a20000 b40000 a70000 b95000"));
    expect([noise.bounces, noise.noise]).toEqual([0, 1]);
  });
});
