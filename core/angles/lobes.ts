// Which event belongs to which lobe: found once at the reference condition, then followed continuously.
import type { TriggerEdge } from "../codec/rigLines.ts";
import type { Turn } from "../turns.ts";
import { angleDeg } from "./phase.ts";

/** The angle brought into −180 (exclusive) to 180 (inclusive). */
export function wrap180(deg: number): number {
  const turned = deg - 360 * Math.round(deg / 360);
  return turned === -180 ? 180 : turned;
}

/**
 * Mean direction of angles in degrees, 0 to 360, with the length r of the mean vector (0 to 1).
 * Source: mean of circular data, Zar, Biostatistical Analysis, chapter 26.
 */
export function meanDirection(anglesDeg: readonly number[]): { meanDeg: number; r: number } {
  let x = 0;
  let y = 0;
  for (const angle of anglesDeg) {
    x += Math.cos((angle * Math.PI) / 180);
    y += Math.sin((angle * Math.PI) / 180);
  }
  const n = anglesDeg.length;
  const meanDeg = (Math.atan2(y, x) * 180) / Math.PI;
  return { meanDeg: (meanDeg + 360) % 360, r: Math.hypot(x, y) / n };
}

/** Smallest spacing between neighbouring lobes, in degrees; 360 for a single lobe. */
export function smallestSpacingDeg(lobeAnglesDeg: readonly number[]): number {
  let smallest = 360;
  for (let i = 0; i < lobeAnglesDeg.length; i++) {
    const next = lobeAnglesDeg[(i + 1) % lobeAnglesDeg.length] as number;
    const spacing = (next - (lobeAnglesDeg[i] as number) + 360) % 360;
    if (spacing > 0) smallest = Math.min(smallest, spacing);
  }
  return smallest;
}

/** A turn's firing events as shaft angles after its index, in the order of firing. */
export interface FiringEvents {
  readonly anglesDeg: readonly number[];
  /** Angle from the edge before that closes (the other edge) to each firing edge; NaN where unknown. */
  readonly dwellsDeg: readonly number[];
  /** Angle of the turn's last edge that does not fire, or null: the next turn's first dwell needs it. */
  readonly lastOtherDeg: number | null;
}

/** `carriedDeg`: `lastOtherDeg` of the turn directly before, or null. */
export function firingEvents(
  turn: Turn,
  firingEdge: TriggerEdge,
  carriedDeg: number | null,
): FiringEvents {
  const anglesDeg: number[] = [];
  const dwellsDeg: number[] = [];
  let otherDeg = carriedDeg === null ? null : carriedDeg - 360;
  for (let i = 0; i < turn.eventTicks.length; i++) {
    const angle = angleDeg(turn, turn.eventTicks[i] as number);
    if (turn.eventEdges[i] !== firingEdge) {
      otherDeg = angle;
      continue;
    }
    anglesDeg.push(angle);
    dwellsDeg.push(otherDeg === null ? Number.NaN : angle - otherDeg);
    otherDeg = null;
  }
  return { anglesDeg, dwellsDeg, lastOtherDeg: otherDeg };
}

export type LobeMatch =
  | { readonly found: true; readonly anglesDeg: readonly number[] }
  | { readonly found: false; readonly eventsPerTurn: number };

/** How far from its nominal place a lobe may stand and still be believed to be that lobe. */
const LOBE_ERROR_DEG_MAX = 6;

/**
 * Finds the lobes in the turns of the reference condition: `anglesDeg[j]` is roughly where lobe j
 * fires, in degrees after the index. With unevenly spaced lobes the order is told by the spacing;
 * with even spacing the first event after the index is called lobe 1.
 */
export function findLobes(
  turns: readonly (readonly number[])[],
  lobeAnglesDeg: readonly number[],
): LobeMatch {
  const lobes = lobeAnglesDeg.length;
  const limitDeg = Math.min(LOBE_ERROR_DEG_MAX, 0.3 * smallestSpacingDeg(lobeAnglesDeg));
  let best: { worstDeg: number; anglesDeg: number[] } | null = null;
  let events = 0;
  for (const anglesDeg of turns) {
    events += anglesDeg.length;
    if (anglesDeg.length !== lobes) continue;
    for (let shift = 0; shift < lobes; shift++) {
      const offsets = lobeAnglesDeg.map(
        (nominal, j) => (anglesDeg[(j + shift) % lobes] as number) - nominal,
      );
      const { meanDeg } = meanDirection(offsets);
      const worstDeg = Math.max(...offsets.map((offset) => Math.abs(wrap180(offset - meanDeg))));
      // A tenth of a degree keeps jitter from choosing among the shifts of an evenly spaced unit.
      if (best === null || worstDeg < best.worstDeg - 0.1) {
        best = { worstDeg, anglesDeg: lobeAnglesDeg.map((nominal) => (nominal + meanDeg) % 360) };
      }
    }
  }
  if (best === null || best.worstDeg > limitDeg) {
    return { found: false, eventsPerTurn: turns.length === 0 ? 0 : events / turns.length };
  }
  return { found: true, anglesDeg: best.anglesDeg };
}

/** One firing event that was given to a lobe. Advance against the tracker's reference angles. */
export interface LobeEvent {
  readonly lobe: number;
  readonly advanceDeg: number;
  readonly dwellDeg: number;
}

export interface TrackedTurn {
  readonly turn: Turn;
  readonly events: readonly LobeEvent[];
  /** Mean advance of the turn's events, or null without any. */
  readonly advanceDeg: number | null;
}

/**
 * Follows the advance from event to event. Between two events of a turning spindle it changes by far
 * less than half a lobe spacing, even where the whole travel is larger, so the nearest lobe to the
 * last known advance is the right one. The median of the last three keeps one false event from
 * leading it astray.
 */
export class LobeTracker {
  private readonly referenceDeg: readonly number[];
  private readonly firingEdge: TriggerEdge;
  private last: number[] = [0, 0, 0];
  private carriedDeg: number | null = null;

  constructor(referenceDeg: readonly number[], firingEdge: TriggerEdge) {
    this.referenceDeg = referenceDeg;
    this.firingEdge = firingEdge;
  }

  track(turn: Turn): TrackedTurn {
    const carriedDeg = turn.followsOn ? this.carriedDeg : null;
    const firing = firingEvents(turn, this.firingEdge, carriedDeg);
    this.carriedDeg = firing.lastOtherDeg;
    const events: LobeEvent[] = [];
    let sum = 0;
    for (let i = 0; i < firing.anglesDeg.length; i++) {
      const event = this.assign(firing.anglesDeg[i] as number, firing.dwellsDeg[i] as number);
      events.push(event);
      sum += event.advanceDeg;
    }
    return { turn, events, advanceDeg: events.length === 0 ? null : sum / events.length };
  }

  private assign(angle: number, dwellDeg: number): LobeEvent {
    const nowDeg = middle(this.last);
    let lobe = 0;
    let offDeg = Number.POSITIVE_INFINITY;
    for (let j = 0; j < this.referenceDeg.length; j++) {
      const off = wrap180((this.referenceDeg[j] as number) - nowDeg - angle);
      if (Math.abs(off) < Math.abs(offDeg)) {
        offDeg = off;
        lobe = j;
      }
    }
    const advanceDeg = nowDeg + offDeg;
    this.last = [this.last[1] as number, this.last[2] as number, advanceDeg];
    return { lobe, advanceDeg, dwellDeg };
  }
}

function middle([a, b, c]: readonly number[]): number {
  const [x, y, z] = [a as number, b as number, c as number];
  return Math.max(Math.min(x, y), Math.min(Math.max(x, y), z));
}
