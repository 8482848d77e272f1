// Parts of lines to whole turns of the spindle, checked for sense before they count (protocol clause 4.9).
import type { Hello, PickPart, RevPart, TriggerEdge } from "./codec/rigLines.ts";

/** Ticks from `from` to `to` on the wrapping 32-bit counter, 0 to 2³² − 1. */
export function ticksBetween(from: number, to: number): number {
  return (to - from) >>> 0;
}

/** A whole turn's times, in rig ticks; `beforeTicks` 0 means unknown. */
export interface TurnTimes {
  readonly sequence: number;
  readonly indexTick: number;
  readonly beforeTicks: number;
  readonly duringTicks: number;
  readonly afterTicks: number;
  readonly lost: boolean;
  readonly every: number;
  /** Ticks after the index of pickup edges 0 (the index) to N (the next index); null without pickup lines. */
  readonly edgeTicks: ArrayLike<number> | null;
  /** True where the turn before this one was also received and good. */
  readonly followsOn: boolean;
}

/** One whole turn with its trigger edges, whose lists hold until the next line is read. */
export interface Turn extends TurnTimes {
  readonly eventEdges: readonly TriggerEdge[];
  /** Ticks after the index, ascending. */
  readonly eventTicks: readonly number[];
}

/** The same turn for whoever keeps it beyond the next line. */
export function keptTurn(turn: Turn): Turn {
  return { ...turn, eventEdges: [...turn.eventEdges], eventTicks: [...turn.eventTicks] };
}

export interface TurnCounts {
  readonly good: number;
  /** Came, but incomplete or against sense. */
  readonly setAside: number;
  /** Seen to be missing by a gap in the sequence. */
  readonly missing: number;
}

/** Speeds above this multiple of the rig's highest are no speeds of a spindle (clause 6.4 stops at 1.1). */
const SPEED_MARGIN = 1.25;

/** Farther on than this, a sequence of 32 bits has gone back. */
const FORWARD_MAX = 2 ** 31;

interface Open {
  readonly first: RevPart;
  nextPart: number;
  readonly edges: TriggerEdge[];
  readonly ticks: number[];
}

/** Pickup edges as far as their lines came; one for all turns. */
interface OpenPick {
  sequence: number;
  parts: number;
  /** 0 where none are open. */
  nextPart: number;
  /** As long as it shall become; the first `count` are known. */
  ticks: Uint32Array;
  count: number;
  /** The last of them, which never wraps. */
  lastTick: number;
  ascends: boolean;
}

/** So many numbers at a time are set aside for the edges of turns: one list a turn would be more work to clear away. */
const PIECE = 16_384;

/** Collects `pick` and `rev` lines in their order and hands on each turn that makes sense. */
export class TurnAssembler {
  private readonly shortestTicks: number;
  private readonly edgesPerTurn: number;
  private readonly onTurn: (turn: Turn) => void;
  private open: Open | null = null;
  private readonly pick: OpenPick = {
    sequence: 0,
    parts: 0,
    nextPart: 0,
    ticks: new Uint32Array(0),
    count: 0,
    lastTick: 0,
    ascends: true,
  };
  private piece = new Uint32Array(0);
  private pieceUsed = 0;
  private previous: Turn | null = null;
  /** Of the latest good turn. */
  private latestSequence: number | null = null;
  /** Turns after it that were set aside: they came, so they are not missing. */
  private asideSince = 0;
  private good = 0;
  private setAside = 0;
  private missing = 0;

  constructor(hello: Hello, onTurn: (turn: Turn) => void) {
    this.shortestTicks = (60 * hello.tickHz) / (hello.speedMaxRpm * SPEED_MARGIN);
    this.edgesPerTurn = hello.edgesPerTurn;
    this.onTurn = onTurn;
  }

  get counts(): TurnCounts {
    return { good: this.good, setAside: this.setAside, missing: this.missing };
  }

  pushPick(line: PickPart): void {
    const { pick } = this;
    if (line.part === 1) {
      pick.sequence = line.sequence;
      pick.parts = line.parts;
      pick.nextPart = 1;
      pick.ticks = this.roomForEdges();
      pick.count = 1;
      pick.lastTick = 0;
      pick.ascends = true;
    }
    const fits =
      pick.sequence === line.sequence &&
      pick.nextPart === line.part &&
      pick.parts === line.parts &&
      pick.count + line.differenceTicks.length <= pick.ticks.length;
    if (!fits) {
      pick.nextPart = 0;
      return;
    }
    const { ticks, count } = pick;
    const { differenceTicks } = line;
    let { lastTick, ascends } = pick;
    for (let i = 0; i < differenceTicks.length; i++) {
      const difference = differenceTicks[i] as number;
      lastTick += difference;
      ticks[count + i] = lastTick;
      if (difference === 0) ascends = false;
    }
    pick.count = count + differenceTicks.length;
    pick.lastTick = lastTick;
    pick.ascends = ascends;
    pick.nextPart++;
  }

  pushRev(line: RevPart): void {
    if (line.part === 1) {
      if (this.open !== null) this.putAside();
      this.open = null;
      // Nearly every turn fits one line, and its events need no copy.
      if (line.parts === 1) {
        this.finish(line, line.eventEdges, line.eventTicks);
        return;
      }
      this.open = { first: line, nextPart: 1, edges: [], ticks: [] };
    }
    const { open } = this;
    if (open === null || !continues(open, line)) {
      // A part whose first came is a turn set aside; without its first it shows as missing.
      if (open !== null) this.putAside();
      this.open = null;
      return;
    }
    open.edges.push(...line.eventEdges);
    open.ticks.push(...line.eventTicks);
    open.nextPart++;
    if (line.part < line.parts) return;
    this.open = null;
    this.finish(open.first, open.edges, open.ticks);
  }

  private finish(
    first: RevPart,
    eventEdges: readonly TriggerEdge[],
    eventTicks: readonly number[],
  ): void {
    const edgeTicks = this.takeEdges(first);
    const { previous, latestSequence } = this;
    const step = latestSequence === null ? 0 : ticksBetween(latestSequence, first.sequence);
    if (latestSequence !== null && (step === 0 || step > FORWARD_MAX)) {
      // A turn that comes again, or from before: what is measured now is not in it.
      this.setAside++;
      return;
    }
    const makesSense =
      this.periodsMakeSense(first) &&
      ascend(eventTicks, first.duringTicks) &&
      (previous === null || this.follows(previous, first, step));
    if (!makesSense) {
      this.putAside();
      // The fault may be in the turn before: start anew rather than measure the next one by it.
      this.previous = null;
      return;
    }
    if (latestSequence !== null && first.beforeTicks > 0) {
      this.missing += Math.max(0, Math.round(step / first.every) - 1 - this.asideSince);
    }
    this.latestSequence = first.sequence;
    this.asideSince = 0;
    const turn: Turn = {
      sequence: first.sequence,
      indexTick: first.indexTick,
      beforeTicks: first.beforeTicks,
      duringTicks: first.duringTicks,
      afterTicks: first.afterTicks,
      lost: first.lost,
      every: first.every,
      eventEdges,
      eventTicks,
      edgeTicks,
      followsOn: previous !== null && step === 1,
    };
    this.previous = turn;
    this.good++;
    this.onTurn(turn);
  }

  private putAside(): void {
    this.setAside++;
    this.asideSince++;
  }

  /** For the edges of a turn; the first of them is the index. */
  private roomForEdges(): Uint32Array {
    const count = this.edgesPerTurn + 1;
    if (this.pieceUsed + count > this.piece.length) {
      this.piece = new Uint32Array(PIECE);
      this.pieceUsed = 0;
    }
    const from = this.pieceUsed;
    this.pieceUsed = from + count;
    return this.piece.subarray(from, from + count);
  }

  private takeEdges(first: RevPart): ArrayLike<number> | null {
    const { pick } = this;
    const { nextPart } = pick;
    pick.nextPart = 0;
    if (nextPart === 0 || pick.sequence !== first.sequence) return null;
    const complete = pick.count === pick.ticks.length && nextPart > pick.parts;
    return complete && pick.ascends && pick.lastTick === first.duringTicks ? pick.ticks : null;
  }

  /** Clauses 2.2 and 3.2.6, as far as the step between the two turns lets them be checked. */
  private follows(previous: Turn, next: RevPart, step: number): boolean {
    // Spindle stood still in between: the periods say nothing of each other.
    if (next.beforeTicks === 0) return true;
    const elapsed = ticksBetween(previous.indexTick, next.indexTick);
    if (step === 1) {
      return (
        elapsed === previous.duringTicks &&
        next.beforeTicks === previous.duringTicks &&
        next.duringTicks === previous.afterTicks
      );
    }
    if (step === 2) {
      return (
        elapsed === previous.duringTicks + previous.afterTicks &&
        next.beforeTicks === previous.afterTicks
      );
    }
    return elapsed >= Math.min(step * this.shortestTicks, FORWARD_MAX);
  }

  private periodsMakeSense({ beforeTicks, duringTicks, afterTicks }: RevPart): boolean {
    const shortest = this.shortestTicks;
    return (
      (beforeTicks === 0 || beforeTicks >= shortest) &&
      duringTicks >= shortest &&
      afterTicks >= shortest
    );
  }
}

function continues(open: Open, line: RevPart): boolean {
  const { first } = open;
  return (
    line.part === open.nextPart &&
    line.parts === first.parts &&
    line.sequence === first.sequence &&
    line.indexTick === first.indexTick &&
    line.beforeTicks === first.beforeTicks &&
    line.duringTicks === first.duringTicks &&
    line.afterTicks === first.afterTicks &&
    line.every === first.every
  );
}

function ascend(ticks: readonly number[], duringTicks: number): boolean {
  let last = 0;
  for (const tick of ticks) {
    if (tick < last || tick >= duringTicks) return false;
    last = tick;
  }
  return true;
}
