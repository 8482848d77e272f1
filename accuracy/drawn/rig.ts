// Random rigs whose errors are drawn from what the rig states of itself, as a statement of uncertainty means.
import type { Draw } from "../draw.ts";
import type { RunChoice } from "../standIn.ts";

/**
 * Standard deviation at 1,000 rpm of the shift by ripple that a rig cannot resolve, falling with the
 * square of speed: what the product assumes where it sees nothing.
 */
const UNRESOLVED_DEG = 0.005;
/** Ripple that pickup edges resolve may be so many times as large. */
const HIGH = 5;
const RIPPLES = 3;
/** The sensor's stated uncertainty is reached here, most of it an offset, the rest a gain. */
const SENSOR_AT_PA = 40_000;
const OFFSET_SHARE = 0.8;
const GAIN_SHARE = 0.6;

export interface DrawnRig {
  readonly pickupEdges: number;
  readonly ripple: "none" | "low" | "high";
  /** `rig` of a scenario. */
  readonly settings: Readonly<Record<string, unknown>>;
  /** What the rig file states. */
  readonly stated: NonNullable<RunChoice["rig"]>;
}

export function drawRig(draw: Draw): DrawnRig {
  const pickupEdges = draw.oneOf([1, 1, 1, 2, 12, 36, 36, 36, 60, 360]);
  const ripple = draw.oneOf(["none", "low", "high"] as const);
  const tickPpm = draw.whole(10, 100);
  const sensorPa = draw.logUniform(20, 250);
  const delayUs = draw.oneOf([0.5, 1, 2, 5]);
  return {
    pickupEdges,
    ripple,
    settings: {
      pickupEdges,
      spacingErrorPeakDeg: pickupEdges > 1 ? draw.logUniform(0.01, 0.3) : 0,
      tickHz: draw.oneOf([250_000, 500_000, 1_000_000, 1_000_000, 1_000_000, 2_000_000]),
      tickPpm,
      tickErrorPpm: draw.uniform(-tickPpm, tickPpm),
      couplingDeg: draw.uniform(0, 359.9),
      sensorNoisePa: draw.uniform(5, 60),
      sensorOffsetPa: draw.normal(OFFSET_SHARE * sensorPa),
      sensorGain: 1 + draw.normal((GAIN_SHARE * sensorPa) / SENSOR_AT_PA),
      // An input cannot be early; with the sign drawn as well the errors would be of the same size.
      delayUs: Math.abs(draw.normal(delayUs)),
      eventJitterUs: draw.logUniform(0.3, 6),
      indexJitterUs: draw.logUniform(0.2, 3),
      ripple: ripple === "none" ? [] : drawRipple(draw, pickupEdges, ripple),
    },
    stated: {
      vacuumSensorStandardUncertaintyPa: sensorPa,
      triggerDelayStandardUncertaintyUs: delayUs,
    },
  };
}

/** A few orders; above a quarter of the edges the pickup tells little of them. */
function drawRipple(draw: Draw, pickupEdges: number, size: "low" | "high"): unknown[] {
  return Array.from({ length: RIPPLES }, () => {
    const perTurn = draw.oneOf([1, 1, 2, 3, 4, 6, 8, 12]);
    const resolved = perTurn < pickupEdges / 4;
    const spreadDeg =
      (UNRESOLVED_DEG / Math.sqrt(RIPPLES)) * (size === "high" && resolved ? HIGH : 1);
    // With the phase at random, an angle of this amplitude shifts a spark by its √½ on average.
    const amplitudeDeg = Math.SQRT2 * spreadDeg;
    const percentAt1000Rpm = (100 * 2 * Math.PI * perTurn * amplitudeDeg) / 360;
    return { perTurn, percentAt1000Rpm, phaseDeg: draw.uniform(0, 360) };
  });
}
