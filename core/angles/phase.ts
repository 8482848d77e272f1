// The shaft's phase at a trigger event, from the ticks around it. Right while the speed changes steadily.
import type { TurnTimes } from "../turns.ts";
import { Cubic } from "./cubic.ts";

/** True place of each pickup edge in revolutions: [0] the index, 0; [N] the next index, 1. */
export type Places = readonly number[];

export function evenPlaces(edgesPerTurn: number): Places {
  return Array.from({ length: edgesPerTurn + 1 }, (_, k) => k / edgesPerTurn);
}

/**
 * Reads angles within one turn after the other; what depends on the turn alone is reckoned once for it.
 *
 * A cubic through the four nearest known phases (index pulses or pickup edges). Under a steady
 * ramp the phase is a quadratic in time, which the cubic reproduces exactly; constant speed
 * between two index pulses would be wrong by up to a·T²/8 turns.
 */
export class Protractor {
  private readonly places: Places;
  private readonly cubic = new Cubic();
  private turn: TurnTimes | null = null;
  private edgeTicks: ArrayLike<number> | null = null;

  constructor(places: Places) {
    this.places = places;
  }

  /** Angles are those of this turn from now on. */
  lay(turn: TurnTimes): this {
    if (turn === this.turn) return this;
    this.turn = turn;
    this.edgeTicks = turn.edgeTicks;
    if (turn.edgeTicks === null) throughIndexes(this.cubic, turn);
    return this;
  }

  /** Shaft angle in degrees from the turn's index, 0 to 360, at `tick` ticks after that index. */
  angleDeg(tick: number): number {
    const { edgeTicks, cubic, places } = this;
    if (edgeTicks === null) return 360 * cubic.at(tick);
    if (edgeTicks.length === 3) throughHalves(cubic, this.turn as TurnTimes, places, tick);
    else throughEdges(cubic, edgeTicks, places, tick);
    return 360 * cubic.at(tick);
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

/** Two edges a turn are too few for four within it, so the next or last index helps. */
function throughHalves(
  cubic: Cubic,
  { beforeTicks, duringTicks, afterTicks, edgeTicks }: TurnTimes,
  places: Places,
  tick: number,
): void {
  const half = edgeTicks?.[1] as number;
  const at = places[1] as number;
  if (tick < half && beforeTicks > 0) {
    cubic.through(-beforeTicks, 0, half, duringTicks, -1, 0, at, 1);
  } else cubic.through(0, half, duringTicks, duringTicks + afterTicks, 0, at, 1, 2);
}

function throughEdges(
  cubic: Cubic,
  edgeTicks: ArrayLike<number>,
  places: Places,
  tick: number,
): void {
  const first = firstOfFour(edgeTicks, tick);
  cubic.through(
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
function firstOfFour(edgeTicks: ArrayLike<number>, tick: number): number {
  const spaces = edgeTicks.length - 1;
  const share = tick / (edgeTicks[spaces] as number);
  // At a steady speed the last edge before the tick is this one; else one of its neighbours.
  let last = Math.min(Math.max(Math.floor(share * spaces), 0), spaces - 1);
  while (last > 0 && (edgeTicks[last] as number) > tick) last--;
  while (last < spaces - 1 && (edgeTicks[last + 1] as number) <= tick) last++;
  return Math.min(Math.max(last - 1, 0), spaces - 3);
}
