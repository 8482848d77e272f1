// A unit whose cam cannot move: where its sparks stand is known exactly, whatever the speed does.
import { EventReader } from "../core/angles/events.ts";
import { wrap180 } from "../core/angles/lobes.ts";
import { evenPlaces, Protractor } from "../core/angles/phase.ts";
import { TurnLog } from "../core/angles/turnLog.ts";
import type { Hello } from "../core/codec/rigLines.ts";
import type { Turn } from "../core/turns.ts";

export const LOCKED = { speedTable: [[0, 0]] } as const;

/** The scenario of a locked cam with even lobes. */
export function lockedScenario(seed: number, lobes: number, rig: Record<string, unknown>): unknown {
  return { name: "locked cam", seed, unit: { lobes, rotation: "cw" }, mechanism: LOCKED, rig };
}

/** Where spark `lobe` stands, degrees after the index. */
export function trueAngleDeg(couplingDeg: number, lobes: number, lobe: number): number {
  return (couplingDeg + (360 / lobes) * lobe) % 360;
}

export interface SparkError {
  readonly turn: Turn;
  readonly lobe: number;
  /** Ticks after the index. */
  readonly tick: number;
  /** Angle by the product's reckoning less the true one. */
  readonly errorDeg: number;
}

/** Each spark of the turns against the truth, the pickup's edges taken where they should be. */
export function sparkErrors(
  turns: readonly Turn[],
  { tickHz, edgesPerTurn }: Hello,
  couplingDeg: number,
  lobes: number,
): SparkError[] {
  const log = new TurnLog();
  const reader = new EventReader(log, "a", lobes, tickHz);
  const protractor = new Protractor(evenPlaces(edgesPerTurn));
  return turns.flatMap((turn, i) => {
    log.push(turn);
    const { from, to } = reader.read(i);
    const { ticks } = reader.events;
    const anglesDeg = new Float64Array(to - from);
    protractor.read(turn, ticks, from, to, anglesDeg, 0);
    return Array.from(anglesDeg, (angle, k) => {
      const tick = ticks[from + k] as number;
      const lobe = (Math.round((angle - couplingDeg) / (360 / lobes)) + lobes) % lobes;
      return {
        turn,
        lobe,
        tick,
        errorDeg: wrap180(angle - trueAngleDeg(couplingDeg, lobes, lobe)),
      };
    });
  });
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Standard deviation of one value, the mean being unknown. */
export function deviation(values: readonly number[]): number {
  const middle = mean(values);
  return Math.sqrt(
    values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1),
  );
}
