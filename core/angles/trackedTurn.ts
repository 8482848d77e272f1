// A turn with the events that were read of it.
import type { TurnTimes } from "../turns.ts";
import { FiringEvents } from "./firingEvents.ts";

/** A turn with its events, as far as they were given to lobes. */
export class TrackedTurn {
  readonly turn: TurnTimes;
  /** The turn's events are rows `from` to `to` of these, half open. */
  readonly events: FiringEvents;
  readonly from: number;
  readonly to: number;
  /** Short double edges that are no opening: ignition noise. */
  readonly noise: number;
  /** Closings that opened again for a moment. */
  readonly bounces: number;

  constructor(
    turn: TurnTimes,
    events: FiringEvents,
    from: number,
    to: number,
    noise: number,
    bounces: number,
  ) {
    this.turn = turn;
    this.events = events;
    this.from = from;
    this.to = to;
    this.noise = noise;
    this.bounces = bounces;
  }

  /** Mean advance of the turn's events, or null without any. */
  get advanceDeg(): number | null {
    const { events, from, to } = this;
    let sum = 0;
    for (let row = from; row < to; row++) sum += events.advancesDeg[row] as number;
    return to === from ? null : sum / (to - from);
  }
}

const NO_EVENTS = new FiringEvents([]);

/** A turn of which nothing is known beside its times. */
export function untracked(turn: TurnTimes): TrackedTurn {
  return new TrackedTurn(turn, NO_EVENTS, 0, 0, 0, 0);
}
