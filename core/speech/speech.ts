// A language as a value that is handed to whatever makes sentences; without one they are English. Pure.
import type { Language, Translated } from "../language.ts";
import type { RemedyTongue } from "../told.ts";
import type { sheet } from "./en/sheet.ts";
import type { ENGLISH } from "./english.ts";

export type Speech = Translated<Omit<typeof ENGLISH, "language" | "sentences" | "remedies">> &
  RemedyTongue & { readonly language: Language };

/** With the words of the file's sheet, which the page does not load. */
export type PaperSpeech = Speech & {
  readonly sheet: Translated<typeof sheet>;
};
