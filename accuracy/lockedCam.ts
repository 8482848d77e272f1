// A unit whose cam cannot move: where its sparks stand is known exactly, whatever the speed does.
import { firingEvents, wrap180 } from "../core/angles/lobes.ts";
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

/** Each spark of the turns against the truth. */
export function sparkErrors(
  turns: readonly Turn[],
  couplingDeg: number,
  lobes: number,
): SparkError[] {
  return turns.flatMap((turn) => {
    const ticks = turn.eventTicks.filter((_, i) => turn.eventEdges[i] === "a");
    return firingEvents(turn, "a", null).anglesDeg.map((angleDeg, i) => {
      const lobe = Math.round((angleDeg - couplingDeg) / (360 / lobes));
      const errorDeg = wrap180(angleDeg - trueAngleDeg(couplingDeg, lobes, lobe));
      return { turn, lobe: (lobe + lobes) % lobes, tick: ticks[i] as number, errorDeg };
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
