// A reading in reduced coordinates, with what is not known of it in degrees.
import { type CurveReading, reduced, type SweepAxis } from "./curve.ts";

/** A reading in reduced coordinates, the uncertainty of its `x` included. */
export interface Knot {
  readonly x: number;
  readonly u: number;
  readonly deg: number;
  /** What differs from reading to reading. */
  readonly sigma: number;
  /** All that is not known. */
  readonly wholeSigma: number;
}

/** No reading repeats better, whatever its turns say. */
const REPEATS_DEG = 0.004;

/** Of one branch, in the order of the readings. */
export function knotsOf(axis: SweepAxis, readings: readonly CurveReading[]): Knot[] {
  return readings.map((reading, i) => {
    const u = reduced(axis, reading.x);
    const slopes = [readings[i - 1], readings[i + 1]].map((other) =>
      other === undefined ? 0 : (other.advanceDeg - reading.advanceDeg) / (other.x - reading.x),
    );
    const fromX = Math.hypot(...slopes) * Math.SQRT1_2 * reading.xStandardUncertainty;
    return {
      x: reading.x,
      u,
      deg: reading.advanceDeg,
      sigma: Math.hypot(Math.max(reading.repeatabilityDeg, REPEATS_DEG), fromX),
      wholeSigma: Math.hypot(reading.standardUncertaintyDeg, fromX),
    };
  });
}
