// The ordered steps of a measurement as data. Default plans come from the unit; users may change them.

/** Everything a run will do. Speeds in distributor rpm, vacuum in pascals below ambient. */
export interface Plan {
  /** Where advance is counted from; at most 200 rpm. */
  readonly referenceRpm: number;
  /** Rising order; measured up and back down. Empty: no speed sweep. */
  readonly speedsRpm: readonly number[];
  /** With it the sweep chooses further speeds between the first and the last one by itself. */
  readonly speedChoice?: SweepChoice;
  /** One entry a capsule of the unit, in its order. */
  readonly capsules: readonly CapsulePlan[];
  /** Speed held during hold tests and vacuum sweeps: below the start of the weights or beyond their stop. */
  readonly vacuumSweepRpm: number;
  readonly rampRpmPerS: number;
  /** A reading averages this many turns, or those of `secondsPerReading` where they are fewer. */
  readonly turnsPerReading: number;
  readonly secondsPerReading: number;
  /**
   * A reading of a sweep ends earlier, as soon as the standard uncertainty of its mean by the spread of
   * its turns is this small, in distributor degrees.
   */
  readonly repeatsWithinDeg?: number;
}

/** Of what a sweep that chooses wants to know: what its readings may repeat within where nothing else is said. */
const REPEATS_SHARE = 1 / 20;

/** What the readings of a sweep may repeat within; null: they take their full time. */
export function repeatsWithinDeg(plan: Plan, choice: SweepChoice | undefined): number | null {
  return (
    plan.repeatsWithinDeg ?? (choice === undefined ? null : REPEATS_SHARE * choice.knownWithinDeg)
  );
}

/** Fewest turns in which a false event can be told from the true ones. */
const TURNS_MIN = 3;

/** Turns that a reading at this speed averages. */
export function turnsAt(plan: Plan, speedRpm: number): number {
  const inTime = Math.ceil((speedRpm / 60) * plan.secondsPerReading);
  return Math.min(plan.turnsPerReading, Math.max(TURNS_MIN, inTime));
}

/**
 * What is looked at together when asking whether a speed is reached or something still moves: at
 * least so many turns and so many seconds. Two such windows that agree make a steady state.
 */
export const STEADY_WINDOW = { turns: 3, leastS: 0.15 } as const;

export interface CapsulePlan {
  readonly hold: HoldPlan | null;
  /** Rising order; measured up and back down. Empty: no vacuum sweep. */
  readonly vacuumsPa: readonly number[];
  /** With it the sweep chooses further vacuums between the first and the last one by itself. */
  readonly vacuumChoice?: SweepChoice;
}

/** A sweep that goes on until the curve is known everywhere between its first and its last place. */
export interface SweepChoice {
  /** Expanded uncertainty (k = 2) wanted everywhere on both branches, in distributor degrees. */
  readonly knownWithinDeg: number;
  /** Both branches together, the places listed included. */
  readonly readingsMax: number;
  /** Of rig time for the sweep. */
  readonly secondsMax: number;
}

export interface HoldPlan {
  readonly vacuumPa: number;
  /** After closing off, before the clock starts. */
  readonly settleS: number;
  readonly seconds: number;
  /** Largest drop that passes, in pascals. */
  readonly dropMaxPa: number;
}
