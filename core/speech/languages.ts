// All languages at once, for programs that need not be small. Pure.
import type { Language } from "../language.ts";
import { ENGLISH_ON_PAPER, GERMAN_ON_PAPER } from "./onPaper.ts";
import type { PaperSpeech } from "./speech.ts";

export const SPEECHES: Readonly<Record<Language, PaperSpeech>> = {
  en: ENGLISH_ON_PAPER,
  de: GERMAN_ON_PAPER,
};
