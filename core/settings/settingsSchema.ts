// The form of the settings as they come from page, command line or store. Apart, so that the page goes without it.
import * as z from "zod";
import { LANGUAGES } from "../language.ts";
import { FIRST_SETTINGS, type Settings, SHOWN_SHAFTS, SHOWN_VACUUM_UNITS } from "./settings.ts";

const LINE_LENGTH_MAX = 80;

const line = z.string().trim().max(LINE_LENGTH_MAX).default("");
/** Empty or left out: as the program has it. */
const orUsual = <T extends z.ZodType>(schema: T) => schema.nullable().default(null);

/** A setting that is left out is as at first. */
export const settingsSchema: z.ZodType<Settings> = z.strictObject({
  language: z.enum(LANGUAGES).default(FIRST_SETTINGS.language),
  vacuumUnit: z.enum(SHOWN_VACUUM_UNITS).default(FIRST_SETTINGS.vacuumUnit),
  shownShaft: z.enum(SHOWN_SHAFTS).default(FIRST_SETTINGS.shownShaft),
  toleranceDeg: orUsual(z.number().positive().max(5)),
  holdSeconds: orUsual(z.number().min(1).max(600)),
  holdDropMaxPa: orUsual(z.number().min(1).max(50_000)),
  firstRigId: orUsual(z.string().min(1).max(200)),
  workshop: z
    .strictObject({ name: line, address: line, phone: line })
    .default(FIRST_SETTINGS.workshop),
});
