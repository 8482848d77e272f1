// Random rigs whose errors are drawn from what the rig states of itself, as a statement of uncertainty means.
import type { Draw } from "../draw.ts";
import type { RunChoice } from "../standIn.ts";

/**
 * Standard deviation at 1,000 rpm of what ripple shifts a spark by, falling with the square of speed:
 * what the product assumes of a drive of which it sees nothing.
 */
export const LOW_DEG = 0.005;
/** High ripple is so many times as large: on a pickup that resolves it, and where only the lobes' places show it. */
const HIGH = { resolved: 5, shown: 2 } as const;
export const EDGES_TO_RESOLVE = 12;
const ORDERS = [1, 2, 3, 4, 5, 6, 8, 12];
const RIPPLES = 3;
/**
 * The sensor's stated uncertainty holds at any vacuum, so nearly all of it is an offset; the rest is a
 * gain that brings it to what is stated here.
 */
const SENSOR_AT_PA = 40_000;
const OFFSET_SHARE = 0.95;
const GAIN_SHARE = 0.31;

export interface DrawnRig {
  readonly pickupEdges: number;
  readonly ripple: "none" | "low" | "high";
  /** `rig` of a scenario. */
  readonly settings: Readonly<Record<string, unknown>>;
  /** What the rig file states. */
  readonly stated: NonNullable<RunChoice["rig"]>;
}

export function drawRig(draw: Draw, lobes: number): DrawnRig {
  const pickupEdges = draw.oneOf([1, 1, 1, 2, 12, 36, 36, 36, 60, 360]);
  const shows = pickupEdges >= EDGES_TO_RESOLVE || lobes > 1;
  const ripple = draw.oneOf(
    shows ? (["none", "low", "high"] as const) : (["none", "low"] as const),
  );
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
      ripple: ripple === "none" ? [] : drawRipple(draw, pickupEdges, lobes, ripple === "high"),
    },
    stated: {
      vacuumSensorStandardUncertaintyPa: sensorPa,
      triggerDelayStandardUncertaintyUs: delayUs,
    },
  };
}

/**
 * A few orders of like torque: the angle falls with the square of the order as it does with that of
 * speed. High ripple of orders that are multiples of the lobes stays out where it could not be seen.
 */
function drawRipple(draw: Draw, pickupEdges: number, lobes: number, high: boolean): unknown[] {
  const resolved = pickupEdges >= EDGES_TO_RESOLVE;
  const factor = high ? HIGH[resolved ? "resolved" : "shown"] : 1;
  const possible = ORDERS.filter((order) => !high || resolved || order % lobes !== 0);
  const orders = draw.some(possible, RIPPLES);
  const norm = Math.hypot(...orders.map((order) => order ** -2));
  return orders.map((perTurn) => {
    // With the phase at random, an angle of this amplitude shifts a spark by its √½ on average.
    const amplitudeDeg = (Math.SQRT2 * factor * LOW_DEG * perTurn ** -2) / norm;
    const percentAt1000Rpm = (100 * 2 * Math.PI * perTurn * amplitudeDeg) / 360;
    return { perTurn, percentAt1000Rpm, phaseDeg: draw.uniform(0, 360) };
  });
}
