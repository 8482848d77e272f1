// A record as a file: its documents as they are on file, and the bytes that came from the rig, so that
// it can be computed again elsewhere. docs/files.md describes the form for others.
import * as z from "zod";

export const RECORD_FILE_FORMAT = 1;

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, "is no SHA-256 in hexadecimal digits");
const object = z.record(z.string(), z.unknown());

const start = z.looseObject({
  type: z.literal("start"),
  recordId: z.uuid(),
  startedUtc: z.iso.datetime(),
  unit: object,
  unitFile: z.unknown(),
  plan: object,
  rig: object,
  engineVersion: z.string().min(1).max(50),
  expectedS: z.number(),
  afterRecordId: z.uuid().nullable(),
});
const middle = z.looseObject({ type: z.enum(["step", "point", "hold", "final", "notice"]) });
const end = z.looseObject({
  type: z.literal("end"),
  endedUtc: z.iso.datetime(),
  ending: z.enum(["completed", "stopped", "rig fault", "link lost"]),
  result: object,
});

export const recordFileSchema = z.strictObject({
  bobweightRecordFile: z.literal(RECORD_FILE_FORMAT),
  documents: z
    .array(z.union([start, middle, end]))
    .min(2)
    .max(10_000),
  documentsSha256: sha256,
  raw: z.strictObject({
    sha256,
    bytes: z.number().int().min(0),
    deflatedBase64: z.string(),
  }),
});

export type RecordFile = z.infer<typeof recordFileSchema>;
