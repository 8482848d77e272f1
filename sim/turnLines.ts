// Captured edges to `rev` and `pick` lines (firmware-protocol.md, 3.2 and 3.3), thinned for a slow link.
import { LINE_BYTES_MAX } from "../core/codec/framing.ts";
import type { Outbox } from "./outbox.ts";
import type { Random } from "./random.ts";

const WRAP = 2 ** 32;
/** Room for a line's body beside the asterisk, eight digits and LF. */
const BODY_MAX = LINE_BYTES_MAX - 10;
/** Of 25 `vac` and 10 `state` lines a second, with answers. */
const OTHER_BYTES_PER_S = 1900;
/** Answers must come within 100 ms, so turns never fill the link further ahead than this. */
const BACKLOG_S_MAX = 0.04;

/** Ticks here count on without wrap; only what is sent is taken modulo 2³². */
export class TurnLines {
  private readonly outbox: Outbox;
  private readonly pickupEdges: number;
  private readonly linkBytesPerS: number | null;
  private readonly tickHz: number;
  private readonly lostShare: number;
  private readonly random: Random;
  private sequence: number;
  /** Index ticks since the spindle last stood still; the last four are enough. */
  private readonly indexTicks: number[] = [];
  private readonly pickupTicks: number[] = [];
  private readonly eventTicks: number[] = [];
  private readonly eventEdges: number[] = [];
  private sinceSent = 0;
  private every = 1;
  private turnBytes: number;

  constructor(
    outbox: Outbox,
    setup: {
      readonly pickupEdges: number;
      readonly linkBytesPerS: number | null;
      readonly tickHz: number;
      readonly lostShare: number;
    },
    firstSequence: number,
    random: Random,
  ) {
    this.outbox = outbox;
    this.pickupEdges = setup.pickupEdges;
    this.linkBytesPerS = setup.linkBytesPerS;
    this.tickHz = setup.tickHz;
    this.lostShare = setup.lostShare;
    this.random = random;
    this.sequence = firstSequence;
    this.turnBytes = 150 + (setup.pickupEdges > 1 ? 6 * setup.pickupEdges : 0);
  }

  /** A trigger edge, 0 for a and 1 for b. Neighbours may come in the wrong order. */
  trigger(tick: number, edge: number): void {
    const { eventTicks, eventEdges } = this;
    let at = eventTicks.length;
    while (at > 0 && (eventTicks[at - 1] as number) > tick) at--;
    eventTicks.splice(at, 0, tick);
    eventEdges.splice(at, 0, edge);
  }

  /** A pickup edge by its number in the turn. An index may complete a turn, which is then sent. */
  pickup(tick: number, mark: number): void {
    this.pickupTicks.push(tick);
    if (mark !== 0) return;
    const { indexTicks } = this;
    indexTicks.push(tick);
    this.sequence = (this.sequence + 1) % WRAP;
    if (indexTicks.length < 3) {
      // What came before the first index belongs to no turn that will be sent.
      if (indexTicks.length === 1) this.forgetBefore(tick);
      return;
    }
    if (indexTicks.length > 4) indexTicks.shift();
    this.completeTurn();
    this.forgetBefore(indexTicks[indexTicks.length - 2] as number);
  }

  /** No index came for the stall time: the turns under way stay unknown. */
  stoodStill(): void {
    this.indexTicks.length = 0;
    this.sinceSent = 0;
  }

  private forgetBefore(tick: number): void {
    drop(this.pickupTicks, countBelow(this.pickupTicks, tick));
    const events = countBelow(this.eventTicks, tick);
    drop(this.eventTicks, events);
    drop(this.eventEdges, events);
  }

  private completeTurn(): void {
    const { indexTicks } = this;
    const at = indexTicks.length - 3;
    const index = indexTicks[at] as number;
    const during = (indexTicks[at + 1] as number) - index;
    const after = (indexTicks[at + 2] as number) - (indexTicks[at + 1] as number);
    const before = at === 0 ? 0 : index - (indexTicks[at - 1] as number);
    this.sinceSent++;
    // The first turn after standstill goes out in any case: the gap before it is no thinning.
    if (before > 0) {
      this.every = this.everyFor(during / this.tickHz);
      if (this.sinceSent < this.every || this.outbox.backlogS > BACKLOG_S_MAX) return;
      this.every = this.sinceSent;
    }
    this.sinceSent = 0;
    const sequence = (this.sequence - 3 + WRAP) % WRAP;
    const lost = this.lostShare > 0 && this.random.uniform() < this.lostShare;
    this.turnBytes = lost ? 0 : this.sendPickup(sequence, index, during);
    const times = `${index % WRAP},${before},${during},${after}`;
    const head = `rev,${sequence},${times},${lost ? 1 : 0},${this.every},`;
    this.turnBytes += this.sendEvents(head, index, during, lost);
  }

  /** Of how many turns of this length the link carries one. Comes down only by a clear step. */
  private everyFor(turnS: number): number {
    const { linkBytesPerS } = this;
    if (linkBytesPerS === null) return 1;
    const left = Math.max(0.2 * linkBytesPerS, 0.9 * linkBytesPerS - OTHER_BYTES_PER_S);
    const needed = Math.max(1, Math.ceil(this.turnBytes / (left * turnS)));
    return needed >= this.every || needed <= 0.7 * this.every ? needed : this.every;
  }

  private sendPickup(sequence: number, index: number, during: number): number {
    const { pickupEdges, pickupTicks } = this;
    if (pickupEdges < 2) return 0;
    const last = index + during;
    const differences: string[] = [];
    let previous = index;
    for (const tick of pickupTicks) {
      if (tick <= index || tick > last) continue;
      differences.push(String(tick - previous));
      previous = tick;
    }
    return this.sendParts(`pick,${sequence},`, differences, ",");
  }

  private sendEvents(head: string, index: number, during: number, lost: boolean): number {
    const { eventTicks, eventEdges } = this;
    const events: string[] = [];
    for (let i = 0; i < eventTicks.length; i++) {
      const offset = (eventTicks[i] as number) - index;
      if (offset >= 0 && offset < during) {
        events.push(`${eventEdges[i] === 0 ? "a" : "b"}${offset}`);
      }
    }
    if (lost) events.splice(Math.floor(this.random.uniform() * events.length), 1);
    return this.sendParts(head, events, "");
  }

  /** Spreads `items` over as few lines as hold them; gives the bytes sent. */
  private sendParts(head: string, items: readonly string[], separator: string): number {
    // Part numbers have two digits at most: 360 items of eleven characters fill 20 lines.
    const room = BODY_MAX - head.length - "99,99,".length;
    const parts: string[] = [];
    let part = "";
    for (const item of items) {
      if (part.length + separator.length + item.length > room) {
        parts.push(part);
        part = "";
      }
      part += part === "" ? item : separator + item;
    }
    parts.push(part);
    let bytes = 0;
    for (let i = 0; i < parts.length; i++) {
      bytes += this.outbox.push(`${head}${i + 1},${parts.length},${parts[i]}`);
    }
    return bytes;
  }
}

/** How many of the ascending `ticks` lie below `tick`. */
function countBelow(ticks: readonly number[], tick: number): number {
  let count = 0;
  while (count < ticks.length && (ticks[count] as number) < tick) count++;
  return count;
}

function drop(list: number[], count: number): void {
  if (count > 0) list.splice(0, count);
}
