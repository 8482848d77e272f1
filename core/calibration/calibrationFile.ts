// How a rig file keeps what is known of the rig's own errors: the last check of each kind, and those before. Pure.
import * as z from "zod";
import type { CheckKind, RigCalibration } from "./calibration.ts";

const check = {
  checkedUtc: z.iso.datetime(),
  degreesOfFreedom: z.number().positive().nullable().describe("null: without limit"),
};
const uncertainty = z.number().min(0);

const delay = z
  .strictObject({ ...check, delayUs: z.number(), standardUncertaintyUs: uncertainty })
  .describe("From the unit firing to the rig's tick.");
const pickup = z
  .strictObject({
    ...check,
    knownDeg: z.number(),
    measuredDeg: z.number(),
    standardUncertaintyDeg: uncertainty,
  })
  .describe("A known angle between two firing events, as measured.");
const coupling = z
  .strictObject({
    ...check,
    runOutDeg: z.number().min(0),
    phaseDeg: z.number().min(0).lt(360),
    standardUncertaintyDeg: uncertainty,
  })
  .describe(
    "What the rig adds once a turn: later by runOutDeg · cos(angle − phaseDeg), angle after the index, turning clockwise.",
  );
const vacuum = z
  .strictObject({
    ...check,
    offsetPa: z.number(),
    gain: z.number().positive(),
    standardUncertaintyPa: uncertainty,
    gaugeStandardUncertaintyPa: uncertainty,
    lowestPa: z.number().min(0),
    highestPa: z.number().min(0),
  })
  .describe("True vacuum = offsetPa + gain · sensed vacuum.");

/** Fields of a rig file. */
export const calibrationFields = {
  calibration: z
    .strictObject({
      delay: delay.optional(),
      pickup: pickup.optional(),
      coupling: coupling.optional(),
      vacuum: vacuum.optional(),
    })
    .optional()
    .describe("The last check of each kind; written by `bobweight rigs calibrate`."),
  earlierCalibrations: z
    .array(
      z.discriminatedUnion("kind", [
        delay.extend({ kind: z.literal("delay") }),
        pickup.extend({ kind: z.literal("pickup") }),
        coupling.extend({ kind: z.literal("coupling") }),
        vacuum.extend({ kind: z.literal("vacuum") }),
      ]),
    )
    .optional()
    .describe("Checks that a later one replaced, oldest first."),
};

type CalibrationBlock = z.infer<(typeof calibrationFields)["calibration"]>;

/** Null where the rig was never checked in any way. */
export function calibrationFromBlock(block: CalibrationBlock): RigCalibration | null {
  if (block === undefined || Object.keys(block).length === 0) return null;
  const { delay = null, pickup = null, coupling = null, vacuum = null } = block;
  return { delay, pickup, coupling, vacuum };
}

type Found<K extends CheckKind> = NonNullable<RigCalibration[K]>;

/**
 * The rig file's content with a new check in it. The one it replaces is kept among the earlier ones;
 * every other field stays as it is. `content` has been checked against the schema.
 */
export function withCheck<K extends CheckKind>(
  content: Readonly<Record<string, unknown>>,
  kind: K,
  found: Found<K>,
): Record<string, unknown> {
  const block = (content.calibration ?? {}) as Readonly<Record<string, object>>;
  const replaced = block[kind];
  const earlier = (content.earlierCalibrations ?? []) as readonly unknown[];
  return {
    ...content,
    calibration: { ...block, [kind]: found },
    ...(replaced === undefined ? {} : { earlierCalibrations: [...earlier, { kind, ...replaced }] }),
  };
}
