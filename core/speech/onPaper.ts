// What the sheets of a workshop's own say beside all else, joined to it. Apart, since the page needs none of it.
import { sheet as sheetInGerman } from "./de/sheet.ts";
import { sheet } from "./en/sheet.ts";
import { ENGLISH } from "./english.ts";
import { GERMAN } from "./german.ts";
import type { PaperSpeech } from "./speech.ts";

export const ENGLISH_ON_PAPER: PaperSpeech = { ...ENGLISH, sheet };
export const GERMAN_ON_PAPER: PaperSpeech = {
  ...GERMAN,
  sheet: sheetInGerman,
};
