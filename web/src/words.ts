// The page's words in the language that is spoken. Components read `words` when they are made, never
// a module at its top: there it would still be English.
import type { Language, Translated } from "../../core/language.ts";
import { ENGLISH } from "../../core/speech/english.ts";
import type { Speech } from "../../core/speech/speech.ts";
import { en } from "./words/en/index.ts";

/** With what core says, as findings and advice. */
export type Words = Translated<typeof en> & { readonly core: Speech };

const ENGLISH_WORDS: Words = { ...en, core: ENGLISH };

/** Languages beside English come when they are asked for, so that the first load stays small. */
const CATALOGUES: Readonly<Record<Language, () => Promise<Words>>> = {
  en: async () => ENGLISH_WORDS,
  de: async () => (await import("./words/de/index.ts")).de,
};

/** Each in its own language, so that whoever reads no other finds it. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = {
  en: "English",
  de: "Deutsch",
};

export let words: Words = ENGLISH_WORDS;

/** To be awaited before the page is made; later the page has to be loaded again. */
export async function speak(language: Language): Promise<void> {
  words = await CATALOGUES[language]();
}
