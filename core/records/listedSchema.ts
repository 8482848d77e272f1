// What a page may ask of the list of records. Apart from the list, so that the page goes without it.
import * as z from "zod";
import { KIND_FILTERS, type RecordSearch, VERDICT_FILTERS } from "./listed.ts";

const SEARCH_LENGTH_MAX = 200;
const NOTE_LENGTH_MAX = 4000;

export interface RecordsQuery extends RecordSearch {
  readonly limit: number;
  readonly before: string | null;
}

const moment = z.iso.datetime().nullable().default(null);

export const recordsQuerySchema: z.ZodType<RecordsQuery> = z
  .strictObject({
    limit: z.coerce.number().int().min(1).max(200).default(50),
    before: z.uuid().nullable().default(null),
    text: z.string().max(SEARCH_LENGTH_MAX).default(""),
    verdict: z.enum(VERDICT_FILTERS).default("any"),
    kind: z.enum(KIND_FILTERS).default("any"),
    from: moment,
    to: moment,
    archived: z.enum(["true", "false"]).default("false"),
  })
  .transform(({ from, to, archived, ...others }) => ({
    ...others,
    fromUtc: from,
    toUtc: to,
    isArchived: archived === "true",
  }));

export const newNoteSchema = z.strictObject({
  text: z.string().trim().min(1).max(NOTE_LENGTH_MAX),
});

export const takingBackSchema = z.strictObject({ takenBack: z.boolean() });
export const archivingSchema = z.strictObject({ archived: z.boolean() });
