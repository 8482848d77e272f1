// Which event belongs to which lobe: found once at the reference condition, then followed continuously.
import type { TriggerEdge } from "../codec/rigLines.ts";
import { EventReader } from "./events.ts";
import type { FiringEvents } from "./firingEvents.ts";
import { cornerDeg, evenPlaces, Protractor } from "./phase.ts";
import { TrackedTurn } from "./trackedTurn.ts";
import type { TurnLog } from "./turnLog.ts";

/** What following lobes needs to know of rig and unit. */
export interface TrackedRig {
  readonly firingEdge: TriggerEdge;
  readonly tickHz: number;
  readonly edgesPerTurn: number;
}

/** Firing angles of the log's turns `from` to `to` in degrees after their index, before the lobes are known. */
export function firingAngles(
  log: TurnLog,
  { from, to }: { readonly from: number; readonly to: number },
  lobes: number,
  rig: TrackedRig,
): number[][] {
  const reader = new EventReader(log, rig.firingEdge, lobes, rig.tickHz);
  const protractor = new Protractor(evenPlaces(rig.edgesPerTurn));
  return log.turns.slice(from, to).map((times, i) => {
    const rows = reader.read(from + i);
    const anglesDeg = new Float64Array(rows.to - rows.from);
    protractor.read(times, reader.events.ticks, rows.from, rows.to, anglesDeg, 0);
    return Array.from(anglesDeg);
  });
}

/** The angle brought into −180 (exclusive) to 180 (inclusive). */
export function wrap180(deg: number): number {
  // Nearly always it lies there.
  if (deg > -180 && deg <= 180) return deg;
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

export type LobeMatch =
  | { readonly found: true; readonly anglesDeg: readonly number[] }
  | { readonly found: false; readonly eventsPerTurn: number };

/** How far from its nominal place a lobe may stand and still be believed to be that lobe. */
const LOBE_ERROR_DEG_MAX = 6;

/** By so much must another shift of the lobes fit better: jitter shall not choose among those of an evenly spaced unit. */
const BETTER_DEG = 0.1;

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
    const unbeatable = best !== null && best.worstDeg <= BETTER_DEG;
    if (anglesDeg.length !== lobes || unbeatable) continue;
    for (let shift = 0; shift < lobes; shift++) {
      const offsets = lobeAnglesDeg.map(
        (nominal, j) => (anglesDeg[(j + shift) % lobes] as number) - nominal,
      );
      const { meanDeg } = meanDirection(offsets);
      const worstDeg = Math.max(...offsets.map((offset) => Math.abs(wrap180(offset - meanDeg))));
      if (best === null || worstDeg < best.worstDeg - BETTER_DEG) {
        best = { worstDeg, anglesDeg: lobeAnglesDeg.map((nominal) => (nominal + meanDeg) % 360) };
      }
    }
  }
  if (best === null || best.worstDeg > limitDeg) {
    return { found: false, eventsPerTurn: turns.length === 0 ? 0 : events / turns.length };
  }
  return { found: true, anglesDeg: best.anglesDeg };
}

/** An angle less sure than this share of the lobes' spacing is not given to a lobe. */
const CORNER_SPACING_MAX = 0.2;
/** Below a half, which two lobes may share. */
const NEARER_SPACING_MAX = 0.4;

/**
 * Follows the advance from event to event. Between two events of a turning spindle it changes by far
 * less than half a lobe spacing, even where the whole travel is larger, so the nearest lobe to the
 * last known advance is the right one. The median of the last three keeps one false event from
 * leading it astray.
 */
export class LobeTracker {
  private readonly referenceDeg: readonly number[];
  private readonly reader: EventReader;
  private readonly protractor: Protractor;
  private readonly limitDeg: number;
  /** An event this near to a lobe has no nearer one. */
  private readonly surelyDeg: number;
  private nextLobe = 0;
  /** The last three advances, the latest last. */
  private first = 0;
  private second = 0;
  private third = 0;

  constructor(log: TurnLog, referenceDeg: readonly number[], rig: TrackedRig) {
    const spacingDeg = smallestSpacingDeg(referenceDeg);
    this.referenceDeg = referenceDeg;
    this.limitDeg = CORNER_SPACING_MAX * spacingDeg;
    this.surelyDeg = NEARER_SPACING_MAX * spacingDeg;
    this.reader = new EventReader(log, rig.firingEdge, referenceDeg.length, rig.tickHz);
    this.protractor = new Protractor(evenPlaces(rig.edgesPerTurn));
  }

  /** The log's turn with this number, the one after that which was tracked before. */
  track(turn: number): TrackedTurn {
    const { events } = this.reader;
    const tracked = this.reader.read(turn);
    const { turn: times, from, to } = tracked;
    // At a corner of the speed one index a turn does not tell where a lobe fired: such a turn is passed over.
    if (Math.abs(cornerDeg(times)) > this.limitDeg) {
      events.cutTo(from);
      return new TrackedTurn(times, events, from, from, tracked.noise, tracked.bounces);
    }
    // The angles stand where the advances will that are reckoned from them.
    this.protractor.read(times, events.ticks, from, to, events.advancesDeg, from);
    for (let row = from; row < to; row++) {
      this.assign(events, row, events.advancesDeg[row] as number);
    }
    return tracked;
  }

  /** Gives the event to a lobe. */
  private assign(events: FiringEvents, row: number, angle: number): void {
    const { first, second, third } = this;
    const nowDeg = middle(first, second, third);
    let lobe = this.nextLobe;
    let offDeg = this.offDeg(lobe, nowDeg, angle);
    // Nearly always it is the lobe whose turn it is.
    if (Math.abs(offDeg) > this.surelyDeg) {
      offDeg = Number.POSITIVE_INFINITY;
      for (let j = 0; j < this.referenceDeg.length; j++) {
        const off = this.offDeg(j, nowDeg, angle);
        if (Math.abs(off) < Math.abs(offDeg)) {
          offDeg = off;
          lobe = j;
        }
      }
    }
    this.nextLobe = lobe + 1 < this.referenceDeg.length ? lobe + 1 : 0;
    const advanceDeg = nowDeg + offDeg;
    this.first = second;
    this.second = third;
    this.third = advanceDeg;
    events.lobes[row] = lobe;
    events.advancesDeg[row] = advanceDeg;
  }

  /** How much earlier than where the lobe stands by now. */
  private offDeg(lobe: number, nowDeg: number, angle: number): number {
    return wrap180((this.referenceDeg[lobe] as number) - nowDeg - angle);
  }
}

function middle(x: number, y: number, z: number): number {
  return Math.max(Math.min(x, y), Math.min(Math.max(x, y), z));
}
