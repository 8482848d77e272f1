// What a record says of readings taken by hand, without a rig.

export const BY_HAND_MEANS = ["degree wheel", "timing light"] as const;
export type ByHandMeans = (typeof BY_HAND_MEANS)[number];

/** Limits are those of one reading, either way. */
export interface ByHand {
  readonly means: ByHandMeans;
  /** Distributor degrees. */
  readonly readingLimitDeg: number;
  /** Distributor rpm. */
  readonly speedLimitRpm: number;
  readonly vacuumLimitPa: number;
  /** Turned by hand with the spindle held; null where it was not tried. */
  readonly camTurns: boolean | null;
  readonly camSpringsBack: boolean | null;
}
