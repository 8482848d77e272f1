// The page's words in German, all parts joined.
import { GERMAN } from "../../../../core/speech/german.ts";
import type { Words } from "../../words.ts";
import { desk } from "./desk.ts";
import { engine } from "./engine.ts";
import { guide } from "./guide.ts";
import { jobs } from "./job.ts";
import { page } from "./page.ts";
import { record } from "./record.ts";
import { settings } from "./settings.ts";

export const de: Words = {
  locale: "de-DE",
  decimalMark: ",",
  rpm: "U/min",
  ...page,
  ...record,
  jobs,
  desk,
  engine,
  guide,
  settings,
  core: GERMAN,
};
