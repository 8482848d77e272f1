// The shaft's phase at a trigger event, from the ticks around it. Right while the speed changes steadily.
import type { Turn } from "../turns.ts";

/** True place of each pickup edge in revolutions: [0] the index, 0; [N] the next index, 1. */
export type Places = readonly number[];

export function evenPlaces(edgesPerTurn: number): Places {
  return Array.from({ length: edgesPerTurn + 1 }, (_, k) => k / edgesPerTurn);
}

/**
 * Shaft angle in degrees from the turn's index, 0 to 360, at `tick` ticks after that index.
 *
 * A cubic through the four nearest known phases (index pulses or pickup edges). Under a steady
 * ramp the phase is a quadratic in time, which the cubic reproduces exactly; constant speed
 * between two index pulses would be wrong by up to a·T²/8 turns.
 */
export function angleDeg(turn: Turn, tick: number, places: Places): number {
  const { edgeTicks } = turn;
  if (edgeTicks === null) return indexAngleDeg(turn, tick);
  return 360 * throughEdges(turn, edgeTicks, places, tick);
}

/** The same from the index pulses alone: the mean motion without what the pickup sees within the turn. */
export function indexAngleDeg(turn: Turn, tick: number): number {
  const { beforeTicks, duringTicks, afterTicks } = turn;
  const end = duringTicks + afterTicks;
  const phase =
    beforeTicks === 0
      ? throughThree(tick, duringTicks, end)
      : throughFour(tick, -beforeTicks, 0, duringTicks, end, -1, 0, 1, 2);
  return 360 * phase;
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
 * it, in degrees either way. With one index per turn nobody can know where in the turn a corner lies,
 * but its size shows: the third divided difference vanishes on a steady ramp only.
 */
export function interpolationLimitDeg(turn: Turn): number {
  const spaces = turn.edgeTicks === null ? 1 : turn.edgeTicks.length - 1;
  return (360 * Math.abs(cornerIn(turn))) / spaces ** 2;
}

/** The same with its sign, for one index per turn, in revolutions. */
export function cornerIn({ beforeTicks, duringTicks, afterTicks }: Turn): number {
  if (beforeTicks === 0) return (FIRST_TURN_SHARE * (afterTicks - duringTicks)) / duringTicks;
  const d01 = 1 / beforeTicks;
  const d12 = 1 / duringTicks;
  const d23 = 1 / afterTicks;
  const d012 = (d12 - d01) / (beforeTicks + duringTicks);
  const d123 = (d23 - d12) / (duringTicks + afterTicks);
  const third = (d123 - d012) / (beforeTicks + duringTicks + afterTicks);
  return CORNER_SHARE * third * duringTicks ** 3;
}

function throughEdges(
  { beforeTicks, duringTicks, afterTicks }: Turn,
  edgeTicks: readonly number[],
  places: Places,
  tick: number,
): number {
  const spaces = edgeTicks.length - 1;
  if (spaces === 2) {
    // Two edges a turn are too few for four within it, so the next or last index helps.
    const half = edgeTicks[1] as number;
    const at = places[1] as number;
    return tick < half && beforeTicks > 0
      ? throughFour(tick, -beforeTicks, 0, half, duringTicks, -1, 0, at, 1)
      : throughFour(tick, 0, half, duringTicks, duringTicks + afterTicks, 0, at, 1, 2);
  }
  const first = firstOfFour(edgeTicks, tick);
  return throughFour(
    tick,
    edgeTicks[first] as number,
    edgeTicks[first + 1] as number,
    edgeTicks[first + 2] as number,
    edgeTicks[first + 3] as number,
    places[first] as number,
    places[first + 1] as number,
    places[first + 2] as number,
    places[first + 3] as number,
  );
}

/** Of the four edges around a tick, the number of the first; at the ends of the turn the nearest four. */
function firstOfFour(edgeTicks: readonly number[], tick: number): number {
  const spaces = edgeTicks.length - 1;
  let low = 0;
  let high = spaces;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((edgeTicks[middle] as number) <= tick) low = middle;
    else high = middle;
  }
  return Math.min(Math.max(low - 1, 0), spaces - 3);
}

/** Value at `t` of the cubic through four times and values, by Newton's divided differences. */
function throughFour(
  t: number,
  t0: number,
  t1: number,
  t2: number,
  t3: number,
  v0: number,
  v1: number,
  v2: number,
  v3: number,
): number {
  const d01 = (v1 - v0) / (t1 - t0);
  const d12 = (v2 - v1) / (t2 - t1);
  const d23 = (v3 - v2) / (t3 - t2);
  const d012 = (d12 - d01) / (t2 - t0);
  const d123 = (d23 - d12) / (t3 - t1);
  const d0123 = (d123 - d012) / (t3 - t0);
  return v0 + (t - t0) * (d01 + (t - t1) * (d012 + (t - t2) * d0123));
}

/** Index pulses 0, 1 and 2 at times 0, `t1` and `t2`. */
function throughThree(t: number, t1: number, t2: number): number {
  const d01 = 1 / t1;
  const d012 = (1 / (t2 - t1) - d01) / t2;
  return t * (d01 + (t - t1) * d012);
}
