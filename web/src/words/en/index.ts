// The page's words in English, all parts joined: the form that every other language fills.
import { desk } from "./desk.ts";
import { engine } from "./engine.ts";
import { guide } from "./guide.ts";
import { jobs } from "./job.ts";
import { page } from "./page.ts";
import { record } from "./record.ts";
import { settings } from "./settings.ts";

export const en = {
  locale: "en-GB",
  decimalMark: ".",
  rpm: "rpm",
  ...page,
  ...record,
  jobs,
  settings,
  guide,
  desk,
  engine,
};
