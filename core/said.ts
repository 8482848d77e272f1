// Sentences for people as data: what is said, in English, with its values apart, so that whoever shows it
// can say it in another language. Pure.
import type { sentences } from "./speech/de/sentences.ts";

/** What can be said in every language: a text that German lacks does not compile. */
export type Sentence = keyof typeof sentences;

/** A list is told with commas. */
export type SaidValue = string | number | Said | readonly SaidValue[];

/** Plain JSON, the same in every language; records and answers carry it. */
export interface Said {
  /** `{}` stands for a value, `{.2}` for a number with two digits after the point. */
  readonly say: Sentence;
  readonly of: readonly SaidValue[];
}

type Holes<Text extends string> = Text extends `${string}{${infer Hole}}${infer Rest}`
  ? [Hole extends "" ? SaidValue : number, ...Holes<Rest>]
  : [];

/** The English stands where it is said; German is in speech/de/sentences.ts. */
export function said<S extends Sentence>(say: S, ...of: Holes<S>): Said {
  return { say, of };
}

/** What a language has to bring along to say it. */
export interface Tongue {
  readonly decimalMark: string;
  /** `{}` as in English, or `{2}` for the value of the second place. Null: as it is typed, English. */
  readonly sentences: Readonly<Record<Sentence, string>> | null;
}

const AS_TYPED: Tongue = { decimalMark: ".", sentences: null };
const HOLE = /\{(?:\.(\d))?\}/g;

/** English where no language is given, or where it does not know the sentence: a record may be newer. */
export function textOf({ say, of }: Said, tongue: Tongue = AS_TYPED): string {
  const known: Readonly<Record<string, string>> = tongue.sentences ?? {};
  const digits = [...say.matchAll(HOLE)].map(([, count]) => count);
  const values = of.map((value, i) => valueText(value, digits[i], tongue));
  let next = 0;
  return (Object.hasOwn(known, say) ? (known[say] ?? say) : say).replace(
    /\{(\d?)(?:\.\d)?\}/g,
    (_, place: string) => values[place === "" ? next++ : Number(place) - 1] ?? "",
  );
}

function valueText(value: SaidValue, digits: string | undefined, tongue: Tongue): string {
  if (typeof value === "string") return value;
  if (typeof value === "number") {
    const text = digits === undefined ? String(value) : value.toFixed(Number(digits));
    return text.replace(".", tongue.decimalMark);
  }
  if ("say" in value) return textOf(value, tongue);
  return value.map((one) => valueText(one, digits, tongue)).join(", ");
}
