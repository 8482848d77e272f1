// The form of a plan file: everything in it is optional and replaces that part of the default plan.

import * as z from "zod";
import type { Sentence } from "../said.ts";
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
    { error: "give the `unit` of its vacuum or dropMax" satisfies Sentence },
  )
  .describe("false: no hold test.");

const choice = {
  knownWithinDeg: positive
    .optional()
    .describe("Expanded uncertainty wanted everywhere, in distributor degrees. Default: 0.1."),
  readingsMax: z.int().positive().optional().describe("Up and down together. Default: 90."),
  secondsMax: positive.optional().describe("Longest time for the sweep. Default: 1200."),
};

const chooseSpeeds = z
  .strictObject({
    ...choice,
    lowestRpm: positive.optional(),
    highestRpm: positive.optional(),
  })
  .describe(
    "Instead of speedsRpm: readings where the curve is least known, until it is known everywhere.",
  );

const chooseVacuums = z
  .strictObject({
    ...choice,
    unit: z.enum(VACUUM_UNITS).optional().describe("Needed with lowest or highest."),
    lowest: positive.optional(),
    highest: positive.optional(),
  })
  .refine(
    (file) => file.unit !== undefined || (file.lowest === undefined && file.highest === undefined),
    { error: "give the `unit` of its lowest or highest" satisfies Sentence },
  )
  .describe(
    "Instead of vacuums: readings where the curve is least known, until it is known everywhere.",
  );

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
  chooseSpeeds: chooseSpeeds.optional(),
  vacuums: vacuums.optional().describe("For every capsule."),
  chooseVacuums: chooseVacuums.optional(),
  hold: hold.optional().describe("For every capsule. false: no hold test."),
  capsules: z
    .array(
      z.strictObject({
        vacuums: vacuums.optional(),
        chooseVacuums: chooseVacuums.optional(),
        hold: hold.optional(),
      }),
    )
    .max(2)
    .optional()
    .describe("For one capsule each, in the order of the unit; overrules those for every capsule."),
  vacuumSweepRpm: positive.optional().describe("Speed during vacuum sweeps and hold tests."),
  rampRpmPerS: positive.optional(),
  turnsPerReading: z
    .int()
    .positive()
    .optional()
    .describe("Alone: exactly so many turns. With secondsPerReading: at most so many."),
  secondsPerReading: positive.optional().describe("Longest time that a reading averages."),
  repeatsWithinDeg: positive
    .optional()
    .describe(
      "A reading of a sweep ends earlier once its turns tell its mean so well: standard uncertainty in distributor degrees.",
    ),
});

export type PlanFile = z.infer<typeof planFileSchema>;
export type VacuumsFile = z.infer<typeof vacuums>;
export type ChooseSpeedsFile = z.infer<typeof chooseSpeeds>;
export type ChooseVacuumsFile = z.infer<typeof chooseVacuums>;
export type HoldFile = z.infer<typeof hold>;
