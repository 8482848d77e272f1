// The curve between readings: straight over n² for speed, over the vacuum itself for a capsule.

export type SweepAxis = "speed" | "vacuum";

/** One reading of a branch. `x` in distributor rpm or in pascals below ambient. */
export interface CurveReading {
  readonly x: number;
  readonly advanceDeg: number;
  /** Of the angle alone, all that is not known of it. */
  readonly standardUncertaintyDeg: number;
  /** The part of it that differs from reading to reading, as does that of `x`. */
  readonly repeatabilityDeg: number;
  readonly xStandardUncertainty: number;
}

/**
 * What the curve is nearly straight over between its corners: between them the spring torque grows in
 * proportion to the advance, and the centrifugal torque is in proportion to n²; a diaphragm's pull is
 * in proportion to the vacuum. In (1000 rpm)² and kilopascals.
 */
export function reduced(axis: SweepAxis, x: number): number {
  return axis === "speed" ? (x / 1000) ** 2 : x / 1000;
}

export function fromReduced(axis: SweepAxis, value: number): number {
  return axis === "speed" ? 1000 * Math.sqrt(Math.max(0, value)) : 1000 * value;
}

/**
 * Advance in degrees at `x`, between the readings of one branch (rising order of `x`); null outside
 * of them.
 */
export function curveAt(
  axis: SweepAxis,
  readings: readonly Pick<CurveReading, "x" | "advanceDeg">[],
  x: number,
): number | null {
  const above = readings.findIndex((reading) => reading.x >= x);
  const to = readings[above];
  if (to === undefined) return null;
  if (to.x === x) return to.advanceDeg;
  const from = readings[above - 1];
  if (from === undefined) return null;
  const start = reduced(axis, from.x);
  const share = (reduced(axis, x) - start) / (reduced(axis, to.x) - start);
  return from.advanceDeg + share * (to.advanceDeg - from.advanceDeg);
}
