// A turn's trigger edges to firing events: short double edges are recognised, set aside and counted.
import type { TriggerEdge } from "../codec/rigLines.ts";
import type { Turn } from "../turns.ts";

/** A moment in ticks after the index of the turn it lies in. */
export interface Moment {
  readonly turn: Turn;
  readonly tick: number;
}

export interface FiringEvent extends Moment {
  /** The edge before that closes (the other edge), which may lie in the turn before; null where unknown. */
  readonly closing: Moment | null;
}

export interface TurnEvents {
  readonly firing: readonly FiringEvent[];
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
  private readonly firingEdge: TriggerEdge;
  private readonly lobes: number;
  private readonly chatterTicks: number;
  private closing: Moment | null = null;
  private state: TriggerEdge | null = null;

  constructor(firingEdge: TriggerEdge, lobes: number, tickHz: number) {
    this.firingEdge = firingEdge;
    this.lobes = lobes;
    this.chatterTicks = CHATTER_S * tickHz;
  }

  read(turn: Turn): TurnEvents {
    if (!turn.followsOn) {
      this.closing = null;
      this.state = null;
    }
    const { eventTicks, eventEdges } = turn;
    const spacing = turn.duringTicks / this.lobes;
    const chatter = Math.min(this.chatterTicks, CHATTER_SPACING_MAX * spacing);
    const firing: FiringEvent[] = [];
    let noise = 0;
    let bounces = 0;
    for (let i = 0; i < eventTicks.length; ) {
      const from = i++;
      while (i < eventTicks.length && tickAt(turn, i) - tickAt(turn, i - 1) < chatter) i++;
      const change = this.changeIn(turn, from, i);
      const extra = (i - from - (change === null ? 0 : 1)) / 2;
      // Chatter of a closing, or a short opening soon after one.
      const bounce =
        change === null ? this.isNew(turn, from, spacing) : !this.fires(eventEdges[change]);
      if (bounce) bounces += Math.floor(extra);
      else noise += Math.floor(extra);
      if (change !== null) this.accept(turn, change, firing);
    }
    return { firing, noise, bounces };
  }

  /** Of edges `from` to `to` the one at which the contacts changed for good; null where they came back. */
  private changeIn({ eventEdges }: Turn, from: number, to: number): number | null {
    const last = eventEdges[to - 1];
    if (to - from > 1 && last === (this.state ?? opposite(eventEdges[from]))) return null;
    return eventEdges.indexOf(last as TriggerEdge, from);
  }

  private isNew(turn: Turn, at: number, spacing: number): boolean {
    const { closing } = this;
    if (closing === null || this.firingEdge === this.state) return false;
    const before = closing.turn === turn ? 0 : closing.turn.duringTicks;
    return tickAt(turn, at) + before - closing.tick < BOUNCE_SPACING_MAX * spacing;
  }

  private accept(turn: Turn, at: number, firing: FiringEvent[]): void {
    const tick = tickAt(turn, at);
    this.state = turn.eventEdges[at] as TriggerEdge;
    if (!this.fires(this.state)) {
      this.closing = { turn, tick };
      return;
    }
    firing.push({ turn, tick, closing: this.closing });
    this.closing = null;
  }

  private fires(edge: TriggerEdge | undefined): boolean {
    return edge === this.firingEdge;
  }
}

function tickAt({ eventTicks }: Turn, i: number): number {
  return eventTicks[i] as number;
}

function opposite(edge: TriggerEdge | undefined): TriggerEdge {
  return edge === "a" ? "b" : "a";
}
