// The shaft's phase at a trigger event, from the ticks around it. Right while the speed changes steadily.
import type { Turn } from "../turns.ts";

/**
 * Shaft angle in degrees from the turn's index, 0 to 360, at `tick` ticks after that index.
 *
 * A cubic through the four nearest known phases (index pulses or pickup edges). Under a steady
 * ramp the phase is a quadratic in time, which the cubic reproduces exactly; constant speed
 * between two index pulses would be wrong by up to a·T²/8 turns.
 */
export function angleDeg(turn: Turn, tick: number): number {
  const { edgeTicks } = turn;
  if (edgeTicks === null) return 360 * fromIndexes(turn, tick);
  return 360 * (edgeTicks.length === 3 ? fromHalves(turn, tick) : fromEdges(edgeTicks, tick));
}

function fromIndexes(turn: Turn, tick: number): number {
  const { beforeTicks, duringTicks, afterTicks } = turn;
  const end = duringTicks + afterTicks;
  if (beforeTicks === 0) return interpolate3(tick, 0, duringTicks, end, 0, 1);
  return interpolate4(tick, -beforeTicks, 0, duringTicks, end, -1, 1);
}

/** Two pickup edges a turn are too few for four within it, so the next or last index helps. */
function fromHalves(
  { edgeTicks, beforeTicks, duringTicks, afterTicks }: Turn,
  tick: number,
): number {
  const half = edgeTicks?.[1] ?? 0;
  const end = duringTicks + afterTicks;
  const early = tick < half && beforeTicks > 0;
  return early
    ? throughFour(tick, [-beforeTicks, 0, half, duringTicks], [-1, 0, 0.5, 1])
    : throughFour(tick, [0, half, duringTicks, end], [0, 0.5, 1, 2]);
}

type Four = readonly [number, number, number, number];

/** Value at `t` of the cubic through four times and values (Lagrange). */
function throughFour(t: number, times: Four, values: Four): number {
  let sum = 0;
  for (let i = 0; i < 4; i++) {
    let weight = 1;
    for (let j = 0; j < 4; j++) {
      const from = times[j] as number;
      if (j !== i) weight *= (t - from) / ((times[i] as number) - from);
    }
    sum += weight * (values[i] as number);
  }
  return sum;
}

function fromEdges(edgeTicks: readonly number[], tick: number): number {
  const spaces = edgeTicks.length - 1;
  const step = 1 / spaces;
  let low = 0;
  let high = spaces;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((edgeTicks[middle] as number) <= tick) low = middle;
    else high = middle;
  }
  const first = Math.min(Math.max(low - 1, 0), spaces - 3);
  return interpolate4(
    tick,
    edgeTicks[first] as number,
    edgeTicks[first + 1] as number,
    edgeTicks[first + 2] as number,
    edgeTicks[first + 3] as number,
    first * step,
    step,
  );
}

/** Value at `t` of the cubic that is `value`, `value + step`, … at the four times. */
function interpolate4(
  t: number,
  t0: number,
  t1: number,
  t2: number,
  t3: number,
  value: number,
  step: number,
): number {
  // Newton's divided differences; the values are evenly spaced, so the first ones are step / interval.
  const d01 = step / (t1 - t0);
  const d12 = step / (t2 - t1);
  const d23 = step / (t3 - t2);
  const d012 = (d12 - d01) / (t2 - t0);
  const d123 = (d23 - d12) / (t3 - t1);
  const d0123 = (d123 - d012) / (t3 - t0);
  return value + (t - t0) * (d01 + (t - t1) * (d012 + (t - t2) * d0123));
}

function interpolate3(
  t: number,
  t0: number,
  t1: number,
  t2: number,
  value: number,
  step: number,
): number {
  const d01 = step / (t1 - t0);
  const d012 = (step / (t2 - t1) - d01) / (t2 - t0);
  return value + (t - t0) * (d01 + (t - t1) * d012);
}
