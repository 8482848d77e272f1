// The ordered steps of a measurement as data. Default plans come from the unit; users may change them.

/** Everything a run will do. Speeds in distributor rpm, vacuum in pascals below ambient. */
export interface Plan {
  /** Where advance is counted from; at most 200 rpm. */
  readonly referenceRpm: number;
  /** Rising order; measured up and back down. Empty: no speed sweep. */
  readonly speedsRpm: readonly number[];
  /** One entry a capsule of the unit, in its order. */
  readonly capsules: readonly CapsulePlan[];
  /** Speed held during hold tests and vacuum sweeps: below the start of the weights or beyond their stop. */
  readonly vacuumSweepRpm: number;
  readonly rampRpmPerS: number;
  /** Turns averaged in one reading. */
  readonly turnsPerReading: number;
}

export interface CapsulePlan {
  readonly hold: HoldPlan | null;
  /** Rising order; measured up and back down. Empty: no vacuum sweep. */
  readonly vacuumsPa: readonly number[];
}

export interface HoldPlan {
  readonly vacuumPa: number;
  /** After closing off, before the clock starts. */
  readonly settleS: number;
  readonly seconds: number;
  /** Largest drop that passes, in pascals. */
  readonly dropMaxPa: number;
}
