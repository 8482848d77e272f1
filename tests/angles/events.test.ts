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
