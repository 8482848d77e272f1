// The page's words in the language that is spoken. Components read `words` when they are made, never
// a module at its top: there it would still be English.
import { en } from "./words/en/index.ts";

/** Any texts, in the form of the English ones. */
type Translated<T> = T extends string
  ? string
  : T extends (...values: infer Values) => string
    ? (...values: Values) => string
    : { readonly [Key in keyof T]: Translated<T[Key]> };

export type Words = Translated<typeof en>;

/** Languages beside English come when they are asked for, so that the first load stays small. */
const CATALOGUES = {
  en: async (): Promise<Words> => en,
};

export type Language = keyof typeof CATALOGUES;

export let words: Words = en;

/** To be awaited before the page is made; later the page has to be loaded again. */
export async function speak(language: Language): Promise<void> {
  words = await CATALOGUES[language]();
  document.documentElement.lang = language;
}
