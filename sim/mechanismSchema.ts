// Forms of the mechanism in scenario files: real geometry, or tables to be followed exactly.
import { z } from "zod";

const positive = z.number().positive();
const notNegative = z.number().min(0);
const angleDeg = z.number().min(-360).max(360);

const linkSchema = z.discriminatedUnion("form", [
  z.strictObject({
    form: z.literal("pin"),
    pinMm: positive,
    restAngleDeg: positive.lt(90),
  }),
  z.strictObject({
    form: z.literal("profile"),
    ratio: positive,
    growthPerDeg: z.number().default(0),
  }),
]);

const weightsSchema = z.strictObject({
  count: z.int().min(1).max(4).default(2),
  massG: positive,
  pivotMm: positive,
  centreMm: positive,
  gyrationMm: notNegative.default(7),
  restAngleDeg: positive.lt(180),
  link: linkSchema,
});

const postSchema = z.strictObject({ radiusMm: positive, angleDeg });
const weightPostSchema = z.strictObject({
  weight: z.int().min(0).max(3),
  fromPivotMm: positive,
  angleDeg,
});

const springSchema = z.strictObject({
  rateNPerMm: positive,
  lengthMm: positive,
  tensionN: notNegative.default(0),
  slackMm: notNegative.default(0),
  basePost: postSchema,
  movingPost: z.union([postSchema, weightPostSchema]),
});

/** The centrifugal unit as geometry (mechanism.ts says what each length is). */
export const geometrySchema = z.strictObject({
  weights: weightsSchema,
  springs: z.array(springSchema).min(1).max(4),
  stopDeg: positive.max(60),
  friction: z
    .strictObject({
      torqueNmm: notNegative.default(0.5),
      addedAt1000RpmNmm: notNegative.default(0.5),
    })
    .prefault({}),
  rubbingBlockNmm: notNegative.default(0),
  camInertiaGCm2: positive.default(50),
  dampingNmmS: notNegative.default(8),
});

function ascends(points: readonly (readonly [number, number])[]): boolean {
  return points.every((point, i) => i === 0 || point[0] > (points[i - 1] as [number, number])[0]);
}
const table = z
  .array(z.tuple([notNegative, z.number().min(-90).max(90)]))
  .min(1)
  .max(200)
  .refine(ascends, { error: "the first figures of the pairs must ascend" });

/** Distributor rpm or kilopascals below ambient against distributor degrees. */
export const tablesSchema = z.strictObject({
  speedTable: table.optional(),
  vacuumTable: table.optional(),
});

export const capsuleSchema = z.strictObject({
  areaMm2: positive,
  loadN: notNegative,
  rateNPerMm: positive,
  frictionN: notNegative.default(0.2),
  travelMm: positive,
  radiusMm: positive,
  acts: z.enum(["advance", "retard"]).default("advance"),
});
