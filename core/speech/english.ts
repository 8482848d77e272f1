// What the papers say in English, all parts joined: the form that every other language fills.
import { CAUTIONS, ENGINE_CAUTIONS, SHORT_ENGINE_CAUTIONS } from "../cautions.ts";
import type { Language } from "../language.ts";
import { budget } from "./en/budget.ts";
import { engine } from "./en/engine.ts";
import { findings } from "./en/findings.ts";
import { mechanism } from "./en/mechanism.ts";
import { papers } from "./en/papers.ts";
import { refit } from "./en/refit.ts";
import { trigger } from "./en/trigger.ts";
import { verdicts } from "./en/verdicts.ts";

export const ENGLISH = {
  language: "en" as Language,
  decimalMark: ".",
  /** As typed where it is said, and with the errors themselves. */
  sentences: null,
  remedies: null,
  rpm: "rpm",
  cautions: { rig: CAUTIONS, engine: ENGINE_CAUTIONS, shortEngine: SHORT_ENGINE_CAUTIONS },
  budget,
  engine,
  findings,
  mechanism,
  papers,
  refit,
  trigger,
  verdicts,
};
