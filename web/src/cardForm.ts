// The job card as typed: millimetres and lines as texts, until it is kept. Pure.
import type { JobCard } from "../../core/jobs/card.ts";

export const MILLIMETRES = ["sidePlayMm", "endFloatMm", "gapFoundMm", "gapSetMm"] as const;
type Millimetres = (typeof MILLIMETRES)[number];
const DAYS = ["receivedOn", "returnedOn"] as const;

export type TypedCard = Omit<
  JobCard,
  Millimetres | (typeof DAYS)[number] | "partsReplaced" | "camByHand"
> &
  Record<Millimetres | (typeof DAYS)[number] | "partsReplaced" | "camByHand", string>;

export function typedCard(card: JobCard): TypedCard {
  const shown = (value: number | null) => (value === null ? "" : String(value));
  return {
    ...card,
    receivedOn: card.receivedOn ?? "",
    returnedOn: card.returnedOn ?? "",
    camByHand: card.camByHand ?? "",
    sidePlayMm: shown(card.sidePlayMm),
    endFloatMm: shown(card.endFloatMm),
    gapFoundMm: shown(card.gapFoundMm),
    gapSetMm: shown(card.gapSetMm),
    partsReplaced: card.partsReplaced.join("\n"),
  };
}

/** The card, or the first field whose millimetres are no number. A decimal comma is one too. */
export function cardFrom(typed: TypedCard): JobCard | { readonly wrong: Millimetres } {
  const read = (field: Millimetres) => typedNumber(typed[field]);
  const wrong = MILLIMETRES.find((field) => Number.isNaN(read(field)));
  if (wrong !== undefined) return { wrong };
  return {
    ...typed,
    receivedOn: typed.receivedOn === "" ? null : typed.receivedOn,
    returnedOn: typed.returnedOn === "" ? null : typed.returnedOn,
    camByHand: typed.camByHand === "" ? null : (typed.camByHand as JobCard["camByHand"]),
    sidePlayMm: read("sidePlayMm"),
    endFloatMm: read("endFloatMm"),
    gapFoundMm: read("gapFoundMm"),
    gapSetMm: read("gapSetMm"),
    partsReplaced: typed.partsReplaced
      .split("\n")
      .map((line) => line.trim())
      .filter((line) => line !== ""),
  };
}

/** Null for an empty text, NaN for what is no number from 0 on. */
export function typedNumber(text: string): number | null {
  const trimmed = text.trim().replace(",", ".");
  if (trimmed === "") return null;
  return /^\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : Number.NaN;
}
