// Rig files: which rig there is, how to reach it, and what is known of its errors.
import { z } from "zod";
import type { CheckKind, RigCalibration } from "../core/calibration/calibration.ts";
import { calibrationFields, withCheck } from "../core/calibration/calibrationFile.ts";
import { parseShape } from "../core/unitFile/place.ts";
import { readJsonFile, replaceJsonFile } from "./files.ts";

const errors = {
  vacuumSensorStandardUncertaintyPa: z.number().min(0).max(10_000).optional(),
  triggerDelayStandardUncertaintyUs: z.number().min(0).max(1000).optional(),
  ambientPa: z.number().min(50_000).max(110_000).optional(),
  ...calibrationFields,
};

const rigFileSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    $schema: z.string().optional(),
    kind: z.literal("serial"),
    name: z.string().min(1).max(80),
    path: z.string().min(1),
    baud: z.number().int().min(1200).max(4_000_000),
    ...errors,
  }),
  z.strictObject({
    $schema: z.string().optional(),
    kind: z.literal("stand-in"),
    name: z.string().min(1).max(80),
    /** Settings of the simulated rig, as in a scenario's `rig`; they win over the scenario's. */
    rig: z.record(z.string(), z.unknown()).optional(),
    ...errors,
  }),
]);

export type RigFile = z.infer<typeof rigFileSchema>;

/** @throws FILE_INVALID naming the place */
export function rigFromFile(content: unknown, name: string): RigFile {
  return parseShape(rigFileSchema, content, name);
}

/** Puts a new check of the rig into its file; the one that it replaces is kept among the earlier ones. */
export function keepCheck<K extends CheckKind>(
  path: string,
  kind: K,
  found: NonNullable<RigCalibration[K]>,
): void {
  const content = readJsonFile(path) as Readonly<Record<string, unknown>>;
  rigFromFile(content, path);
  const changed = withCheck(content, kind, found);
  rigFromFile(changed, path);
  replaceJsonFile(path, changed);
}

export function rigFileJsonSchema(): unknown {
  return z.toJSONSchema(rigFileSchema);
}

/** Common practice, no source: what an unchecked sensor and contact input are taken to be good for. */
export const UNCHECKED_SENSOR_PA = 250;
export const UNCHECKED_DELAY_US = 5;
/** The stand-in rig has no fixed delay, and a sensor without calibration error. */
export const STAND_IN_SENSOR_PA = 20;
export const DEFAULT_BAUD = 500_000;

export const STAND_IN: RigFile = { kind: "stand-in", name: "Stand-in rig" };
