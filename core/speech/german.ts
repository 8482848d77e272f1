// What the papers say in German, all parts joined.
import { budget } from "./de/budget.ts";
import { cautions } from "./de/cautions.ts";
import { engine } from "./de/engine.ts";
import { findings } from "./de/findings.ts";
import { mechanism } from "./de/mechanism.ts";
import { papers } from "./de/papers.ts";
import { refit } from "./de/refit.ts";
import { remedies } from "./de/remedies.ts";
import { sentences } from "./de/sentences.ts";
import { trigger } from "./de/trigger.ts";
import { verdicts } from "./de/verdicts.ts";
import type { Speech } from "./speech.ts";

export const GERMAN: Speech = {
  language: "de",
  decimalMark: ",",
  sentences,
  remedies,
  rpm: "U/min",
  budget,
  cautions,
  engine,
  findings,
  mechanism,
  papers,
  refit,
  trigger,
  verdicts,
};
