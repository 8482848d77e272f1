// All languages at once, for programs that need not be small. Pure.
import type { Language } from "../language.ts";
import { ENGLISH } from "./english.ts";
import { GERMAN } from "./german.ts";
import type { Speech } from "./speech.ts";

export const SPEECHES: Readonly<Record<Language, Speech>> = { en: ENGLISH, de: GERMAN };
