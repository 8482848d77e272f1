// The form of a plan file: everything in it is optional and replaces that part of the default plan.
import * as z from "zod";
import { VACUUM_UNITS } from "../units.ts";

const positive = z.number().positive();

const vacuums = z
  .strictObject({ unit: z.enum(VACUUM_UNITS), values: z.array(z.number().min(0)).max(100) })
  .describe("Vacuums below ambient at which to take readings. An empty list: no vacuum sweep.");

const hold = z
  .union([
    z.literal(false),
    z.strictObject({
      unit: z.enum(VACUUM_UNITS).optional().describe("Needed with vacuum or dropMax."),
      vacuum: positive.optional(),
      dropMax: positive.optional().describe("Largest drop that passes."),
      settleS: z.number().min(0).optional().describe("From closing off until the clock starts."),
      seconds: positive.optional(),
    }),
  ])
  .refine(
    (file) =>
      file === false ||
      file.unit !== undefined ||
      (file.vacuum === undefined && file.dropMax === undefined),
    { error: "give the `unit` of its vacuum or dropMax" },
  )
  .describe("false: no hold test.");

export const planFileSchema = z.strictObject({
  $schema: z.string().optional(),
  referenceRpm: positive.optional().describe("Where advance is counted from; at most 200."),
  speedsRpm: z
    .array(positive)
    .max(100)
    .optional()
    .describe("Distributor rpm. An empty list: no speed sweep."),
  speedSteps: z
    .strictObject({ fromRpm: positive, toRpm: positive, stepRpm: positive })
    .optional()
    .describe("Instead of speedsRpm: even steps of distributor rpm."),
  vacuums: vacuums.optional().describe("For every capsule."),
  hold: hold.optional().describe("For every capsule. false: no hold test."),
  capsules: z
    .array(z.strictObject({ vacuums: vacuums.optional(), hold: hold.optional() }))
    .max(2)
    .optional()
    .describe("For one capsule each, in the order of the unit; overrules vacuums and hold."),
  vacuumSweepRpm: positive.optional().describe("Speed during vacuum sweeps and hold tests."),
  rampRpmPerS: positive.optional(),
  turnsPerReading: z
    .int()
    .positive()
    .optional()
    .describe("Alone: exactly so many turns. With secondsPerReading: at most so many."),
  secondsPerReading: positive.optional().describe("Longest time that a reading averages."),
});

export type PlanFile = z.infer<typeof planFileSchema>;
export type VacuumsFile = z.infer<typeof vacuums>;
export type HoldFile = z.infer<typeof hold>;
