// The languages that page and papers speak. Pure.

export const LANGUAGES = ["en", "de"] as const;
export type Language = (typeof LANGUAGES)[number];

/** Any texts, in the form of a catalogue of English ones. */
export type Translated<T> = T extends string
  ? string
  : T extends (...values: infer Values) => string
    ? (...values: Values) => string
    : { readonly [Key in keyof T]: Translated<T[Key]> };
