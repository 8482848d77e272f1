// The rig's 32-bit counters as a test reckons with them (firmware-protocol.md, part 2).
import type { HeardLine } from "./wire.ts";

const WRAP = 2 ** 32;

/** From `from` to `to` by the shorter way round, so negative where `to` is the earlier one. */
export function stepTicks(from: number, to: number): number {
  const step = (((to - from) % WRAP) + WRAP) % WRAP;
  return step >= WRAP / 2 ? step - WRAP : step;
}

/** How far a sequence went on, 0 to 2³² − 1. */
export function stepCount(from: number, to: number): number {
  return (((to - from) % WRAP) + WRAP) % WRAP;
}

/** A moment of this computer's as a tick, by a line that told one. */
export function tickAt(atMs: number, told: HeardLine, tick: number, tickHz: number): number {
  return tick - ((told.atMs - atMs) * tickHz) / 1000;
}
