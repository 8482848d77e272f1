// What the papers say of the job card, and how they cut what is too long for them. Pure.
import type { JobCard } from "../jobs/card.ts";
import { dateText, fixed } from "../sheet/figures.ts";
import type { Fact } from "../sheet/model.ts";
import type { Speech } from "../speech/speech.ts";
import type { Unit } from "../unit.ts";

/** Cut between words, where there are any, with a sign that it was. */
export function clipped(text: string, lengthMost: number): string {
  const line = text.replace(/\s+/gu, " ").trim();
  if (line.length <= lengthMost) return line;
  const cut = line.slice(0, lengthMost - 1);
  const space = cut.lastIndexOf(" ");
  return `${(space > lengthMost / 2 ? cut.slice(0, space) : cut).trimEnd()}…`;
}

/** The number that eyes read off the unit goes before the one that its file names. */
export function stampedNumberOf(card: JobCard | null, unit: Unit, say: Speech): string {
  return card?.stampedNumber || unit.stampedNumber || say.papers.notKnown;
}

/** Null where the unit has none to set, as far as is known. */
export function gapText(card: JobCard | null, unit: Unit, say: Speech): string | null {
  const gapMm = card?.gapSetMm ?? null;
  if (gapMm !== null) return `${fixed(gapMm, 2, say)} mm`;
  return unit.trigger.kind === "contacts" ? say.papers.notKnown : null;
}

/** Whose car, which job; nothing of what the card leaves open. */
export function jobFacts(card: JobCard | null, lengthMost: number, say: Speech): Fact[] {
  if (card === null) return [];
  const { label: words } = say.papers;
  const day = (on: string | null) => on && dateText(on, say);
  const facts: readonly (readonly [string, string | null])[] = [
    [words.job, card.number],
    [words.car, card.vehicle],
    [words.owner, card.owner],
    [words.received, day(card.receivedOn)],
    [words.returned, day(card.returnedOn)],
    [words.cameInAs, card.unit],
  ];
  return facts.flatMap(([label, value]) =>
    value === null || value === "" ? [] : [{ label, value: clipped(value, lengthMost) }],
  );
}

/** Parts as many as find room, and how many more the card has. */
export function partsText(card: JobCard | null, lengthMost: number, say: Speech): string {
  const parts = card?.partsReplaced ?? [];
  if (parts.length === 0) return say.papers.notKnown;
  const told: string[] = [];
  for (const part of parts) {
    if (told.length > 0 && [...told, part].join("; ").length > lengthMost) break;
    told.push(clipped(part, lengthMost));
  }
  const more = parts.length - told.length;
  return more === 0 ? told.join("; ") : `${told.join("; ")}; ${say.papers.moreParts(more)}`;
}
