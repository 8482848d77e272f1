// The rig in scenario files: its board, drive, pickup, sensor and line, with all that is not perfect in them.
import { z } from "zod";

const positive = z.number().positive();
const notNegative = z.number().min(0);
const share = notNegative.max(1).default(0);
const phaseDeg = z.number().min(-360).max(360).default(0);
const WRAP = 2 ** 32;

const rippleSchema = z.strictObject({
  perTurn: z
    .number()
    .min(0.01)
    .max(360)
    .describe("Below one: of what goes round less often than the spindle, as a long belt's joint."),
  percentAt1000Rpm: positive.max(10),
  phaseDeg: z.number().default(0),
  constantPercent: z
    .boolean()
    .default(false)
    .describe(
      "True: percentAt1000Rpm holds at every speed, as behind gears or a bent belt pulley, so that the angle is the same at all. False: the angle falls with the square of speed, as from a fixed torque.",
    ),
});

export const rigSchema = z.strictObject({
  board: z
    .string()
    .regex(/^[A-Za-z0-9 ._-]{1,40}$/)
    .default("Stand-in rig 1"),
  pickupEdges: z.int().min(1).max(360).default(36),
  spacingErrorPeakDeg: notNegative
    .max(10)
    .default(0)
    .describe(
      "Each pickup edge but the index is misplaced by a fixed angle, drawn by the seed evenly within ± this.",
    ),
  eccentricityDeg: notNegative
    .max(5)
    .default(0)
    .describe(
      "Peak of the once-per-turn misplacement of the pickup edges that a disc off its centre has; the index stays the origin.",
    ),
  eccentricityPhaseDeg: phaseDeg.describe(
    "Angle after the index at which an edge is furthest late by eccentricity.",
  ),
  couplingRunOutDeg: notNegative
    .max(5)
    .default(0)
    .describe(
      "Peak by which the coupling turns the unit's shaft clockwise and back once a turn against the pickup, fixed to the rig's spindle whichever way it turns.",
    ),
  couplingRunOutPhaseDeg: phaseDeg.describe(
    "Angle after the index, counted clockwise, at which the coupling has the unit's shaft furthest clockwise.",
  ),
  tickHz: z.int().min(100_000).max(100_000_000).default(1_000_000),
  tickPpm: z.int().min(0).max(100_000).default(50),
  tickErrorPpm: z
    .number()
    .min(-100_000)
    .max(100_000)
    .default(0)
    .describe(
      "By how many parts per million the board's clock truly runs fast; hello states tickPpm as its tolerance whatever this is.",
    ),
  /** Null: 20 s before the counter wraps. */
  firstTick: z
    .int()
    .min(0)
    .max(WRAP - 1)
    .nullable()
    .default(null),
  speedMinRpm: positive.max(10_000).default(50),
  speedMaxRpm: positive.max(10_000).default(4500),
  directions: z.enum(["cw", "ccw", "cw+ccw"]).default("cw+ccw"),
  inputs: z.enum(["none", "guard", "stop", "guard+stop"]).default("guard+stop"),
  ambientPa: z.int().min(50_000).max(120_000).default(101_325),
  /** Highest vacuum the sensor reads; 0: no vacuum sensor. */
  vacuumMaxPa: z.int().min(0).max(120_000).default(90_000),
  sensorNoisePa: notNegative.max(5000).default(0),
  sensorOffsetPa: z
    .number()
    .min(-20_000)
    .max(20_000)
    .default(0)
    .describe("Added to every reading of the vacuum sensor; the board controls by the reading."),
  sensorGain: positive
    .min(0.5)
    .max(2)
    .default(1)
    .describe("The sensor reads this times the true vacuum, before the offset."),
  pumpLimitPa: positive.max(120_000).default(85_000),
  pumpFlowMlPerS: positive.max(10_000).default(300),
  lineVolumeMl: positive.max(10_000).default(250),
  /** Standing torque of bearings and belt. */
  dragNm: notNegative.max(0.5).default(0.15),
  /** How far the first lobe stands after the index, weights in. */
  couplingDeg: z.number().min(0).lt(360).default(5),
  ripple: z.array(rippleSchema).max(20).default([]),
  eventJitterUs: notNegative.max(1000).default(0),
  indexJitterUs: notNegative.max(1000).default(0),
  delayUs: notNegative
    .max(1000)
    .default(0)
    .describe("Fixed delay of the trigger input: the ticks of both edges come late by it."),
  sensePullUpOhm: positive
    .max(100_000)
    .default(1000)
    .describe("Resistor through which the rig senses contacts; charges a condenser left on them."),
  doubleEdgeShare: share.describe(
    "Share of trigger edges that are followed, 20 to 200 µs later, by a spurious pair of edges from ignition noise.",
  ),
  falseEventShare: share.describe("Chance of a spurious pair of edges anywhere in a turn."),
  missingEventShare: share.describe(
    "Share of openings that the input misses together with the closing after it, LOST not set.",
  ),
  lostShare: share.describe(
    "Share of turns in which the board loses a trigger edge and says so: LOST 1, no pick lines.",
  ),
  /** Null: as fast as needed. */
  linkBytesPerS: z.number().min(2000).nullable().default(null),
});

type Rig = z.output<typeof rigSchema>;

/** A constant ripple of more would turn the shaft back where others add to it. */
const CONSTANT_PERCENT_MAX = 20;

/** The field that does not go with the others, and why, or null. */
export function whatRigMisses(rig: Rig): { field: string; message: string } | null {
  const { speedMinRpm, speedMaxRpm, pickupEdges, spacingErrorPeakDeg, eccentricityDeg } = rig;
  if (speedMaxRpm <= speedMinRpm) {
    return { field: "speedMaxRpm", message: `must be above speedMinRpm, ${speedMinRpm}` };
  }
  // Two neighbours come nearer by twice the peak, and by eccentricity as its slope has it.
  const nearerDeg = 2 * spacingErrorPeakDeg + (2 * Math.PI * eccentricityDeg) / pickupEdges;
  if (pickupEdges > 1 && nearerDeg > 0.9 * (360 / pickupEdges)) {
    return { field: "spacingErrorPeakDeg", message: `${pickupEdges} edges would change places` };
  }
  const constant = rig.ripple.filter(({ constantPercent }) => constantPercent);
  if (constant.reduce((sum, item) => sum + item.percentAt1000Rpm, 0) > CONSTANT_PERCENT_MAX) {
    return { field: "ripple", message: `at most ${CONSTANT_PERCENT_MAX} % of constant ripple` };
  }
  return null;
}
