// Errors and notices from answers and records, in the language that is spoken. Pure.
import type { ErrorCode, Told } from "./errors.ts";
import { type Said, type Tongue, textOf } from "./said.ts";

/** What is needed beside the sentences: what to do about each error; null: as the error has it, English. */
export interface RemedyTongue extends Tongue {
  readonly remedies: Readonly<Record<ErrorCode, string>> | null;
}

/** What happened, and of an error nothing else. */
export function noticeText({ text, said }: Told, tongue: Tongue): string {
  return tongue.sentences === null || !isSaid(said) ? text : textOf(said, tongue);
}

/** A record may come from elsewhere, and its notices are read as they are. */
function isSaid(value: unknown): value is Said {
  if (typeof value !== "object" || value === null || !("say" in value && "of" in value))
    return false;
  return typeof value.say === "string" && Array.isArray(value.of) && value.of.every(isValue);
}

function isValue(value: unknown): boolean {
  if (Array.isArray(value)) return value.every(isValue);
  return typeof value === "string" || typeof value === "number" || isSaid(value);
}

/** What happened and what to do; the English text where it has no more, or comes of a newer version. */
export function toldText(told: Told, tongue: RemedyTongue): string {
  const { code, text, said } = told;
  const { remedies } = tongue;
  if (remedies === null || !isSaid(said) || !Object.hasOwn(remedies, code)) return text;
  return `${noticeText(told, tongue)} ${remedies[code as ErrorCode]}`;
}
