// The languages that page and papers speak. Pure.

export const LANGUAGES = ["en", "de"] as const;
export type Language = (typeof LANGUAGES)[number];
