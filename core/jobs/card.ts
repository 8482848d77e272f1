// The job card: what came in, whose it is, and what eyes and hands found of it. Pure.
import * as z from "zod";

const LINE_LENGTH_MAX = 200;
const TEXT_LENGTH_MAX = 4000;
const PARTS_MAX = 50;

const line = z.string().trim().max(LINE_LENGTH_MAX).default("");
const text = z.string().trim().max(TEXT_LENGTH_MAX).default("");
const day = z.iso.date().nullable().default(null);
const millimetres = z.number().min(0).max(50).nullable().default(null);

/** How the cam goes when it is turned by hand against its springs and let go. */
export const CAM_BY_HAND = ["springs back", "comes back slowly", "stays", "does not turn"] as const;

/** Of a magnetic or optical trigger both gaps stay null where none is set. */
export const cardSchema = z.strictObject({
  /** The workshop's own, as written on the tag. */
  number: line,
  receivedOn: day,
  returnedOn: day,
  owner: line,
  ownerContact: line,
  vehicle: line,
  /** What came in, in the workshop's words: make, model, type. */
  unit: line,
  stampedNumber: line,
  /** As stamped: makers wrote week and year in ways of their own. */
  stampedDate: line,
  /** Drive dog against rotor, clamp, terminals: whatever must stand as it stood. */
  markings: text,
  condition: text,
  camByHand: z.enum(CAM_BY_HAND).nullable().default(null),
  sidePlayMm: millimetres,
  endFloatMm: millimetres,
  gapFoundMm: millimetres,
  gapSetMm: millimetres,
  /** One a line on the sheet. */
  partsReplaced: z.array(z.string().trim().min(1).max(LINE_LENGTH_MAX)).max(PARTS_MAX).default([]),
  notes: text,
});

/** Empty strings, nulls and empty lists are what is not known: nothing of a card must be. */
export type JobCard = z.output<typeof cardSchema>;

export const EMPTY_CARD: JobCard = cardSchema.parse({});

/** The next number of the year in the workshop's row: "2026-001", "2026-002" … */
export function nextNumber(year: number, taken: readonly string[]): string {
  const highest = taken.reduce((most, number) => {
    const match = /^(\d{4})-(\d{1,6})$/.exec(number);
    return match !== null && Number(match[1]) === year ? Math.max(most, Number(match[2])) : most;
  }, 0);
  return `${year}-${String(highest + 1).padStart(3, "0")}`;
}
