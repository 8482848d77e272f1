// The form of a unit file. What one field means for another is checked where the file is converted.
import * as z from "zod";
import { VACUUM_PORTS } from "../unit.ts";
import { VACUUM_UNITS } from "../units.ts";

const SPEED_MAX_RPM = 20000;

const positive = z.number().positive();
const figure = z
  .union([z.number(), z.string().min(1).max(40)])
  .describe('A number, or as printed: "5¼", "5 1/4", "5¼ to 7", "5 ± 1".');

const valueFields = {
  degrees: figure.optional(),
  min: figure.optional().describe("At least this many degrees."),
  max: figure.optional().describe("At most this many degrees."),
  tolerance: positive
    .optional()
    .describe("Either way, in the degrees of the rows. Overrules toleranceDeg."),
  printed: z.string().min(1).max(200).optional().describe("The row's wording on the test sheet."),
};

const row = z.strictObject({
  at: figure
    .optional()
    .describe('Where `degrees` is wanted. A range ("800 to 1000"): where it is reached.'),
  noneBelow: figure.optional().describe("No advance yet here or below."),
  start: figure.optional().describe('Where advance begins: a range, "350 to 450".'),
  endBy: figure
    .nullable()
    .optional()
    .describe("Where the largest advance is reached; null if not printed."),
  ...valueFields,
});

const bandFields = {
  ownTarget: z
    .literal(true)
    .optional()
    .describe("A target of your own and no maker's figures; said wherever it is used."),
  judgedOn: z
    .enum(["rising", "falling", "both"])
    .optional()
    .describe("Which way the readings are judged. Both where not given."),
  degrees: z
    .enum(["distributor", "crankshaft"])
    .optional()
    .describe("What the degrees are. Only where every line says so itself may it be left out."),
  toleranceDeg: positive
    .optional()
    .describe("For rows with one figure only; either way, in the degrees of the rows."),
  rows: z
    .array(row)
    .min(1)
    .max(40)
    .optional()
    .describe("In rising order. Each has one of at, noneBelow, start, endBy."),
  lines: z
    .union([z.string().min(1).max(2000), z.array(z.string().min(1).max(200)).min(1).max(40)])
    .optional()
    .describe('Instead of rows, as printed: "0 at 550, 14 at 2300", "crank 10–14 at 2000 engine".'),
};

const source = z.string().min(1).max(300).describe("Where the figures are printed.");

const speed = z.strictObject({
  ...bandFields,
  source,
  rpm: z
    .enum(["distributor", "crankshaft"])
    .optional()
    .describe("What the speeds are. Only where every line says so itself may it be left out."),
  includesInitialDeg: z
    .number()
    .min(0)
    .optional()
    .describe("Initial timing that is part of the rows' degrees, in the same degrees."),
});

const capsule = z
  .strictObject({
    name: z.string().min(1).max(60),
    acts: z.enum(["advance", "retard"]).optional().describe("Advance where not given."),
    ...bandFields,
    vacuum: z
      .enum(VACUUM_UNITS)
      .optional()
      .describe("Unit of its vacuums. Only where every line says so itself may it be left out."),
    source: source.optional(),
    rows: bandFields.rows.describe("Retard is written as positive degrees."),
    hold: z
      .strictObject({ vacuum: positive, seconds: positive.max(600), dropMax: positive })
      .optional()
      .describe("Closed off at `vacuum`, it may fall by `dropMax` in `seconds`."),
  })
  .describe("Without rows, only the curve is measured.");

const dwell = z.strictObject({
  degrees: figure.optional().describe("Distributor degrees."),
  percent: figure.optional().describe("Share of the spacing of the lobes it belongs to."),
});

const secondSet = z
  .strictObject({
    arrangement: z
      .enum(["overlapped", "staggered"])
      .describe(
        "overlapped: both sets work on every lobe. staggered: the first set fires lobes 1, 3, 5…, the second 2, 4, 6….",
      ),
    dwell: dwell
      .optional()
      .describe("Of the second set by itself; that of the first where not given."),
    combinedDwell: dwell.optional().describe("Of both sets together, closed while either is."),
  })
  .describe("A second set of contacts.");

const engine = z
  .strictObject({
    initialTimingCrankshaftDeg: z
      .number()
      .min(-60)
      .max(60)
      .describe("Before top dead centre; negative after it."),
    atEngineRpm: z
      .number()
      .min(0)
      .max(SPEED_MAX_RPM)
      .optional()
      .describe("Engine speed at which the initial timing is set. 0, at rest, where not given."),
    vacuumPort: z
      .enum(VACUUM_PORTS)
      .describe(
        "What feeds the capsule: manifold, ported (above the throttle plate, almost no vacuum at idle), or none.",
      ),
    idleEngineRpm: positive.max(3000).optional(),
    engineSpeedsRpm: z
      .array(positive.max(SPEED_MAX_RPM))
      .min(1)
      .max(12)
      .optional()
      .describe("Engine speeds at which the marks are wanted."),
    source: z.string().min(1).max(300).describe("Where the initial timing is printed."),
  })
  .describe("How the unit is timed on its engine.");

/** What a unit file may hold. Shapes and signs only; `unitFromFile` checks the rest. */
export const unitFileSchema = z.strictObject({
  $schema: z.string().optional(),
  description: z.string().min(1).max(200),
  stampedNumber: z.string().min(1).max(60).nullable().optional(),
  invented: z.boolean().optional().describe("True for a made-up unit; said on the sheet."),
  lobes: z.int().min(1).max(12).optional().describe("Number of evenly spaced lobes."),
  lobeAnglesDeg: z
    .array(z.number().min(0).lt(360))
    .min(1)
    .max(12)
    .optional()
    .describe("Instead of lobes: their angles in firing order, distributor degrees, the first 0."),
  rotation: z.enum(["cw", "ccw"]).describe("Seen looking down on the rotor."),
  driveRatio: positive
    .min(0.25)
    .max(4)
    .optional()
    .describe("Crankshaft turns in one distributor turn. 2 where not given."),
  trigger: z
    .strictObject({
      kind: z.enum(["contacts", "magnetic", "hall", "optical"]),
      firingEdge: z
        .enum(["a", "b"])
        .optional()
        .describe("a: contacts open, or the signal rises; b: they close, or it falls."),
    })
    .optional()
    .describe("Contacts firing on edge a where not given."),
  speedMaxRpm: positive
    .max(SPEED_MAX_RPM)
    .optional()
    .describe("Highest distributor rpm allowed. Last specification speed + 10 % where not given."),
  dwell: dwell.optional().describe("Contacts only. With two sets: of the first by itself."),
  secondSet: secondSet.optional(),
  scatterMaxDeg: positive.max(20).optional(),
  workshopToleranceDeg: positive
    .max(10)
    .optional()
    .describe(
      "Distributor degrees either way, for rows printed without tolerance. 1 if not given.",
    ),
  springs: z
    .union([z.literal(1), z.literal(2)])
    .optional()
    .describe("How many springs the weights should have, where it is known."),
  speed: speed.optional(),
  capsules: z.array(capsule).max(2).optional(),
  engine: engine.optional(),
});

export type UnitFile = z.infer<typeof unitFileSchema>;
export type DwellFile = z.infer<typeof dwell>;
export type SpeedFile = z.infer<typeof speed>;
export type CapsuleFile = z.infer<typeof capsule>;
export type RowFile = z.infer<typeof row>;
export type EngineFile = z.infer<typeof engine>;
export type FigureFile = z.infer<typeof figure>;
