// The shaft's phase at a trigger event, from the ticks around it. Right while the speed changes steadily.
import type { TurnTimes } from "../turns.ts";
import { Cubic } from "./cubic.ts";

/** True place of each pickup edge in revolutions: [0] the index, 0; [N] the next index, 1. */
export type Places = readonly number[];

export function evenPlaces(edgesPerTurn: number): Places {
  return Array.from({ length: edgesPerTurn + 1 }, (_, k) => k / edgesPerTurn);
}

/**
 * Reads the angles of ticks within a turn, many at once: a call for each would cost more than the reckoning.
 *
 * A cubic through the four nearest known phases (index pulses or pickup edges). Under a steady
 * ramp the phase is a quadratic in time, which the cubic reproduces exactly; constant speed
 * between two index pulses would be wrong by up to a·T²/8 turns.
 */
export class Protractor {
  private readonly places: Float64Array;
  private readonly lateTicks: number;
  private readonly cubic = new Cubic();

  /** `lateTicks`: by which the ticks come late. */
  constructor(places: Places, lateTicks = 0) {
    this.places = Float64Array.from(places);
    this.lateTicks = lateTicks;
  }

  /**
   * For rows `from` to `to` of `ticks`, each a tick after the turn's index: the shaft's angle in degrees
   * from that index, 0 to 360, written into `anglesDeg` from row `at` on.
   */
  read(
    turn: TurnTimes,
    ticks: Float64Array,
    from: number,
    to: number,
    anglesDeg: Float64Array,
    at: number,
  ): void {
    const { edgeTicks } = turn;
    const shift = at - from;
    if (edgeTicks === null) this.byIndexes(turn, ticks, from, to, anglesDeg, shift);
    else if (edgeTicks.length === 3) this.byHalves(turn, ticks, from, to, anglesDeg, shift);
    else this.byEdges(edgeTicks, ticks, from, to, anglesDeg, shift);
  }

  private byIndexes(
    turn: TurnTimes,
    ticks: Float64Array,
    from: number,
    to: number,
    anglesDeg: Float64Array,
    shift: number,
  ): void {
    const { cubic, lateTicks } = this;
    throughIndexes(cubic, turn);
    for (let row = from; row < to; row++) {
      anglesDeg[row + shift] = 360 * cubic.at((ticks[row] as number) - lateTicks);
    }
  }

  /** Two edges a turn are too few for four within it, so the next or last index helps. */
  private byHalves(
    { beforeTicks, duringTicks, afterTicks, edgeTicks }: TurnTimes,
    ticks: Float64Array,
    from: number,
    to: number,
    anglesDeg: Float64Array,
    shift: number,
  ): void {
    const { cubic, lateTicks } = this;
    const half = edgeTicks?.[1] as number;
    const place = this.places[1] as number;
    for (let row = from; row < to; row++) {
      const tick = (ticks[row] as number) - lateTicks;
      if (tick < half && beforeTicks > 0) {
        cubic.through(-beforeTicks, 0, half, duringTicks, -1, 0, place, 1);
      } else cubic.through(0, half, duringTicks, duringTicks + afterTicks, 0, place, 1, 2);
      anglesDeg[row + shift] = 360 * cubic.at(tick);
    }
  }

  /** As `Cubic` does, without keeping what the next tick does not need. */
  private byEdges(
    edgeTicks: ArrayLike<number>,
    ticks: Float64Array,
    from: number,
    to: number,
    anglesDeg: Float64Array,
    shift: number,
  ): void {
    const { places, lateTicks } = this;
    const spaces = edgeTicks.length - 1;
    const spacesPerTick = spaces / (edgeTicks[spaces] as number);
    for (let row = from; row < to; row++) {
      const tick = (ticks[row] as number) - lateTicks;
      const first = firstOfFour(edgeTicks, spaces, tick, tick * spacesPerTick);
      const t0 = edgeTicks[first] as number;
      const t1 = edgeTicks[first + 1] as number;
      const t2 = edgeTicks[first + 2] as number;
      const t3 = edgeTicks[first + 3] as number;
      const v0 = places[first] as number;
      const v1 = places[first + 1] as number;
      const v2 = places[first + 2] as number;
      const d01 = (v1 - v0) / (t1 - t0);
      const d12 = (v2 - v1) / (t2 - t1);
      const d23 = ((places[first + 3] as number) - v2) / (t3 - t2);
      const d012 = (d12 - d01) / (t2 - t0);
      const d0123 = ((d23 - d12) / (t3 - t1) - d012) / (t3 - t0);
      const phase = v0 + (tick - t0) * (d01 + (tick - t1) * (d012 + (tick - t2) * d0123));
      anglesDeg[row + shift] = 360 * phase;
    }
  }
}

/** Lays the cubic through the index pulses alone: the mean motion without what the pickup sees within the turn. */
export function throughIndexes(cubic: Cubic, turn: TurnTimes): void {
  const { beforeTicks, duringTicks, afterTicks } = turn;
  const end = duringTicks + afterTicks;
  if (beforeTicks === 0) cubic.throughThree(duringTicks, end);
  else cubic.through(-beforeTicks, 0, duringTicks, end, -1, 0, 1, 2);
}

/**
 * Most that the cubic misses at a corner of the speed, in third divided differences times the cube of
 * the turn's own period: 2 / (3√3), found by trying all corners between the four pulses, however
 * unequal their distances.
 */
const CORNER_SHARE = 0.385;
/** Three pulses know nothing of a change of acceleration; the most that one of their second difference hides. */
const FIRST_TURN_SHARE = 0.125;

/**
 * How far off an angle of this turn may be where the acceleration changes within the pulses around
 * it, in degrees either way; the sign is that of the change. With one index per turn nobody can know
 * where in the turn a corner lies, but its size shows: the third divided difference vanishes on a
 * steady ramp only.
 */
export function cornerDeg(turn: TurnTimes): number {
  const spaces = turn.edgeTicks === null ? 1 : turn.edgeTicks.length - 1;
  return (360 * cornerIn(turn)) / spaces ** 2;
}

/** For one index per turn, in revolutions. */
function cornerIn({ beforeTicks, duringTicks, afterTicks }: TurnTimes): number {
  if (beforeTicks === 0) return (FIRST_TURN_SHARE * (afterTicks - duringTicks)) / duringTicks;
  const d01 = 1 / beforeTicks;
  const d12 = 1 / duringTicks;
  const d23 = 1 / afterTicks;
  const d012 = (d12 - d01) / (beforeTicks + duringTicks);
  const d123 = (d23 - d12) / (duringTicks + afterTicks);
  const third = (d123 - d012) / (beforeTicks + duringTicks + afterTicks);
  return CORNER_SHARE * third * (duringTicks * duringTicks * duringTicks);
}

/**
 * Of the four edges around a tick, the number of the first; at the ends of the turn the nearest four.
 * `nearly`: how many spaces lie before the tick at a steady speed.
 */
function firstOfFour(
  edgeTicks: ArrayLike<number>,
  spaces: number,
  tick: number,
  nearly: number,
): number {
  let last = Math.min(Math.max(Math.floor(nearly), 0), spaces - 1);
  while (last > 0 && (edgeTicks[last] as number) > tick) last--;
  while (last < spaces - 1 && (edgeTicks[last + 1] as number) <= tick) last++;
  return Math.min(Math.max(last - 1, 0), spaces - 3);
}
