// A turn's trigger edges to firing events: short double edges are recognised, set aside and counted.
import type { TriggerEdge } from "../codec/rigLines.ts";
import type { Turn } from "../turns.ts";
import { FiringEvents } from "./firingEvents.ts";

export interface TurnEvents {
  /** Rows of the reader's events, half open. */
  readonly from: number;
  readonly to: number;
  /** Short double edges that are no opening: ignition noise. */
  readonly noise: number;
  /** Closings that opened again for a moment. */
  readonly bounces: number;
}

/** Edges closer together than this are one change of the contacts with its chatter. Common practice, no source. */
const CHATTER_S = 0.0003;
/** …but never a share of a lobe spacing that a real opening could be. */
const CHATTER_SPACING_MAX = 0.1;
/** What opens again so soon after a closing is bounce, later it is noise. */
const BOUNCE_SPACING_MAX = 0.25;

/** Reads turn after turn; a dwell may begin in the turn before. */
export class EventReader {
  /** All that fired so far. */
  readonly events = new FiringEvents();
  private readonly firingEdge: TriggerEdge;
  private readonly lobes: number;
  private readonly chatterTicks: number;
  /** Turn and tick of the last closing, while no opening followed. */
  private closingTurn: Turn | null = null;
  private closingTick = 0;
  private state: TriggerEdge | null = null;

  constructor(firingEdge: TriggerEdge, lobes: number, tickHz: number) {
    this.firingEdge = firingEdge;
    this.lobes = lobes;
    this.chatterTicks = CHATTER_S * tickHz;
  }

  read(turn: Turn): TurnEvents {
    if (!turn.followsOn) {
      this.closingTurn = null;
      this.state = null;
    }
    const { eventTicks } = turn;
    const from = this.events.count;
    const chatter = Math.min(this.chatterTicks, CHATTER_SPACING_MAX * this.spacing(turn));
    let noise = 0;
    let bounces = 0;
    for (let first = 0; first < eventTicks.length; ) {
      const end = endOfChatter(eventTicks, first, chatter);
      if (end === first + 1) this.accept(turn, first);
      else {
        const change = this.changeIn(turn, first, end);
        const extra = Math.floor((end - first - (change === null ? 0 : 1)) / 2);
        if (this.isBounce(turn, first, change)) bounces += extra;
        else noise += extra;
        if (change !== null) this.accept(turn, change);
      }
      first = end;
    }
    return { from, to: this.events.count, noise, bounces };
  }

  private spacing(turn: Turn): number {
    return turn.duringTicks / this.lobes;
  }

  /** Of edges `from` to `to` the one at which the contacts changed for good; null where they came back. */
  private changeIn({ eventEdges }: Turn, from: number, to: number): number | null {
    const last = eventEdges[to - 1];
    if (last === (this.state ?? opposite(eventEdges[from]))) return null;
    return eventEdges.indexOf(last as TriggerEdge, from);
  }

  /** Chatter of a closing, or a short opening soon after one. */
  private isBounce(turn: Turn, first: number, change: number | null): boolean {
    if (change !== null) return turn.eventEdges[change] !== this.firingEdge;
    const { closingTurn } = this;
    if (closingTurn === null || this.firingEdge === this.state) return false;
    const before = closingTurn === turn ? 0 : closingTurn.duringTicks;
    const sinceTicks = (turn.eventTicks[first] as number) + before - this.closingTick;
    return sinceTicks < BOUNCE_SPACING_MAX * this.spacing(turn);
  }

  private accept(turn: Turn, at: number): void {
    const tick = turn.eventTicks[at] as number;
    const edge = turn.eventEdges[at] as TriggerEdge;
    this.state = edge;
    if (edge === this.firingEdge) {
      this.events.push(tick, this.closingTurn, this.closingTick);
      this.closingTurn = null;
    } else {
      this.closingTurn = turn;
      this.closingTick = tick;
    }
  }
}

/** Where the edges end that follow edge `first` each within `chatter` ticks of the one before. */
function endOfChatter(eventTicks: readonly number[], first: number, chatter: number): number {
  let end = first + 1;
  while (
    end < eventTicks.length &&
    (eventTicks[end] as number) - (eventTicks[end - 1] as number) < chatter
  ) {
    end++;
  }
  return end;
}

function opposite(edge: TriggerEdge | undefined): TriggerEdge {
  return edge === "a" ? "b" : "a";
}
