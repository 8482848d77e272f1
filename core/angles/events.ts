// A turn's trigger edges to firing events: short double edges are recognised, set aside and counted.
import type { TriggerEdge } from "../codec/rigLines.ts";
import type { TurnTimes } from "../turns.ts";
import { FiringEvents, UNKNOWN } from "./firingEvents.ts";
import { TrackedTurn } from "./trackedTurn.ts";
import { EDGE_KINDS, type EdgeKind, type TurnLog } from "./turnLog.ts";

/** Edges closer together than this are one change of the contacts with its chatter. Common practice, no source. */
const CHATTER_S = 0.0003;
/** …but never a share of a lobe spacing that a real opening could be. */
const CHATTER_SPACING_MAX = 0.1;
/** What opens again so soon after a closing is bounce, later it is noise. */
const BOUNCE_SPACING_MAX = 0.25;

/** Reads turn after turn; a dwell may begin in the turn before. */
export class EventReader {
  /** All that fired so far. */
  readonly events: FiringEvents;
  private readonly log: TurnLog;
  private readonly firingEdge: EdgeKind;
  private readonly lobes: number;
  private readonly chatterTicks: number;
  /** The last closing while no opening followed: number of its turn and its tick. */
  private closingTurn = UNKNOWN;
  private closingTick = 0;
  /** Null where it is not known. */
  private state: EdgeKind | null = null;

  constructor(log: TurnLog, firingEdge: TriggerEdge, lobes: number, tickHz: number) {
    this.log = log;
    this.events = new FiringEvents(log.turns);
    this.firingEdge = EDGE_KINDS[firingEdge];
    this.lobes = lobes;
    this.chatterTicks = CHATTER_S * tickHz;
  }

  /** The log's turn with this number, the one after that which was read before. */
  read(turn: number): TrackedTurn {
    const times = this.log.turns[turn] as TurnTimes;
    const { duringTicks, followsOn } = times;
    if (!followsOn) {
      this.closingTurn = UNKNOWN;
      this.state = null;
    }
    const from = this.events.count;
    const spacing = duringTicks / this.lobes;
    const chatter = Math.min(this.chatterTicks, CHATTER_SPACING_MAX * spacing);
    const edges = this.log.edgesBefore(turn + 1);
    let noise = 0;
    let bounces = 0;
    for (let first = this.log.edgesBefore(turn); first < edges; ) {
      const end = endOfChatter(this.log.edgeTicks, first, edges, chatter);
      if (end === first + 1) this.accept(turn, first);
      else {
        const change = this.changeIn(first, end);
        const extra = Math.floor((end - first - (change === null ? 0 : 1)) / 2);
        if (this.isBounce(turn, first, change, spacing)) bounces += extra;
        else noise += extra;
        if (change !== null) this.accept(turn, change);
      }
      first = end;
    }
    return new TrackedTurn(times, this.events, from, this.events.count, noise, bounces);
  }

  /** Of edges `from` to `to` the one at which the contacts changed for good; null where they came back. */
  private changeIn(from: number, to: number): number | null {
    const { edgeKinds } = this.log;
    const last = edgeKinds[to - 1] as EdgeKind;
    const before = this.state ?? 1 - (edgeKinds[from] as EdgeKind);
    return last === before ? null : edgeKinds.indexOf(last, from);
  }

  /** Chatter of a closing, or a short opening soon after one. */
  private isBounce(turn: number, first: number, change: number | null, spacing: number): boolean {
    const { edgeKinds, edgeTicks, turns } = this.log;
    if (change !== null) return edgeKinds[change] !== this.firingEdge;
    const { closingTurn } = this;
    if (closingTurn === UNKNOWN || this.firingEdge === this.state) return false;
    const before = closingTurn === turn ? 0 : (turns[closingTurn] as TurnTimes).duringTicks;
    const sinceTicks = (edgeTicks[first] as number) + before - this.closingTick;
    return sinceTicks < BOUNCE_SPACING_MAX * spacing;
  }

  private accept(turn: number, edge: number): void {
    const tick = this.log.edgeTicks[edge] as number;
    const kind = this.log.edgeKinds[edge] as EdgeKind;
    this.state = kind;
    if (kind === this.firingEdge) {
      this.events.push(tick, this.closingTurn, this.closingTick);
      this.closingTurn = UNKNOWN;
    } else {
      this.closingTurn = turn;
      this.closingTick = tick;
    }
  }
}

/** Where the edges end that follow edge `first` each within `chatter` ticks of the one before. */
function endOfChatter(ticks: Float64Array, first: number, edges: number, chatter: number): number {
  let end = first + 1;
  while (end < edges && (ticks[end] as number) - (ticks[end - 1] as number) < chatter) end++;
  return end;
}
