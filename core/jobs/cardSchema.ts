// The form of a job card as it comes from a page or a file. Apart from the card, so that the page goes without it.
import * as z from "zod";
import { CAM_BY_HAND, type JobCard } from "./card.ts";

const LINE_LENGTH_MAX = 200;
const TEXT_LENGTH_MAX = 4000;
const PARTS_MAX = 50;

const line = z.string().trim().max(LINE_LENGTH_MAX).default("");
const text = z.string().trim().max(TEXT_LENGTH_MAX).default("");
const day = z.iso.date().nullable().default(null);
const millimetres = z.number().min(0).max(50).nullable().default(null);
const part = z.string().trim().min(1).max(LINE_LENGTH_MAX);

/** A field that is left out is not known. */
export const cardSchema: z.ZodType<JobCard> = z.strictObject({
  number: line,
  receivedOn: day,
  returnedOn: day,
  owner: line,
  ownerContact: line,
  vehicle: line,
  unit: line,
  stampedNumber: line,
  stampedDate: line,
  markings: text,
  condition: text,
  camByHand: z.enum(CAM_BY_HAND).nullable().default(null),
  sidePlayMm: millimetres,
  endFloatMm: millimetres,
  gapFoundMm: millimetres,
  gapSetMm: millimetres,
  partsReplaced: z.array(part).max(PARTS_MAX).default([]),
  notes: text,
});
