// The vacuum sensor against a gauge: offset and gain, with the gauge's own uncertainty. Pure.
import { BobweightError } from "../errors.ts";
import {
  chiSquareLimit,
  combined,
  fitWeighted,
  inflation,
  type WeightedFit,
} from "./weightedFit.ts";

/** The line held steady at one vacuum: what the sensor said, and what the gauge showed. */
export interface GaugePoint {
  readonly sensedPa: number;
  /** Of the mean of the sensor's readings. */
  readonly sensedStandardUncertaintyPa: number;
  readonly gaugePa: number;
}

export interface Gauge {
  /** Of the gauge as a whole, from its certificate or its class: common to all points. */
  readonly standardUncertaintyPa: number;
  /** Smallest step in which it is read off. */
  readonly resolutionPa: number;
}

export interface VacuumEstimate {
  readonly offsetPa: number;
  readonly gain: number;
  readonly standardUncertaintyPa: number;
  readonly degreesOfFreedom: number | null;
  readonly gaugeStandardUncertaintyPa: number;
  readonly lowestPa: number;
  readonly highestPa: number;
  readonly chiSquare: number;
  readonly worstResidualPa: number;
}

const POINTS_MIN = 3;
/** Lowest and highest nearer together than this leave the gain to chance. */
const SPAN_PA_MIN = 10_000;
/** Beyond this a figure was typed in another unit, or the gauge is on another line. */
const GAIN_LIMITS = { min: 0.8, max: 1.25 } as const;
/** A misfit below this is taken into the uncertainty rather than refused. An assumption, no source. */
const MATERIAL_PA = 500;

/**
 * truePa = offsetPa + gain · sensedPa by weighted least squares; resolution of the gauge as a
 * rectangle (JCGM 100, F.2.2.1). @throws CHECK_TOO_LITTLE, CHECK_DOUBTFUL
 */
export function estimateVacuum(points: readonly GaugePoint[], gauge: Gauge): VacuumEstimate {
  const gauges = points.map((point) => point.gaugePa);
  const lowestPa = Math.min(...gauges);
  const highestPa = Math.max(...gauges);
  if (points.length < POINTS_MIN || highestPa - lowestPa < SPAN_PA_MIN) {
    throw tooLittle(points.length);
  }
  // About the middle, where offset and gain do not pull at each other.
  const middlePa = points.reduce((sum, point) => sum + point.sensedPa, 0) / points.length;
  const fit = fitWeighted(
    points.map((point) => [1, point.sensedPa - middlePa]),
    gauges,
    // A gain near 1 is near enough for carrying the sensor's scatter over.
    points.map((point) =>
      Math.hypot(point.sensedStandardUncertaintyPa, gauge.resolutionPa / Math.sqrt(12)),
    ),
  );
  if (fit === null) throw tooLittle(points.length);
  const [atMiddlePa = 0, gain = 0] = fit.coefficients;
  checkGain(gain);
  const worstResidualPa = checkLine(fit, points);
  const scatterPa = Math.max(...points.map((point) => scatterAt(fit, point.sensedPa - middlePa)));
  const both = combined([
    { standardUncertainty: scatterPa, degreesOfFreedom: fit.degreesOfFreedom },
    { standardUncertainty: gauge.standardUncertaintyPa, degreesOfFreedom: null },
  ]);
  return {
    offsetPa: atMiddlePa - gain * middlePa,
    gain,
    standardUncertaintyPa: both.standardUncertainty,
    degreesOfFreedom: both.degreesOfFreedom,
    gaugeStandardUncertaintyPa: gauge.standardUncertaintyPa,
    lowestPa,
    highestPa,
    chiSquare: fit.chiSquare,
    worstResidualPa,
  };
}

/** Standard uncertainty of the fitted line at this distance from the middle. */
function scatterAt(fit: WeightedFit, x: number): number {
  const [[c00 = 0, c01 = 0] = [], [, c11 = 0] = []] = fit.covariance;
  return Math.sqrt(c00 + 2 * x * c01 + x * x * c11) * inflation(fit);
}

function checkGain(gain: number): void {
  if (gain >= GAIN_LIMITS.min && gain <= GAIN_LIMITS.max) return;
  throw new BobweightError(
    "CHECK_DOUBTFUL",
    `The gauge rises ${gain.toFixed(2)} times as fast as the sensor. Is it read in the unit that was named, and on the same line?`,
  );
}

function checkLine(fit: WeightedFit, points: readonly GaugePoint[]): number {
  const sizes = fit.residuals.map(Math.abs);
  const worstPa = Math.max(...sizes);
  if (fit.chiSquare > chiSquareLimit(fit.degreesOfFreedom) && worstPa > MATERIAL_PA) {
    const gaugePa = points[sizes.indexOf(worstPa)]?.gaugePa ?? 0;
    throw new BobweightError(
      "CHECK_DOUBTFUL",
      `Sensor and gauge do not follow a straight line: at ${(gaugePa / 1000).toFixed(2)} kPa by the gauge they are ${(worstPa / 1000).toFixed(2)} kPa off it. Was a figure mistyped, or read before the needle stood still?`,
    );
  }
  return worstPa;
}

function tooLittle(points: number): BobweightError {
  return new BobweightError(
    "CHECK_TOO_LITTLE",
    `${points} vacuums were read; the sensor needs ${POINTS_MIN} or more, spread over at least ${SPAN_PA_MIN / 1000} kPa.`,
  );
}
