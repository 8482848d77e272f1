// A job as page and server speak of it: its card, its records and photos, and the list of jobs. Pure.
import type { RecordHead } from "../messages.ts";
import { hasAllWords } from "../search.ts";
import type { JobCard } from "./card.ts";

export interface JobPhoto {
  readonly id: string;
  readonly name: string;
  readonly addedUtc: string;
}

export interface Job {
  readonly id: string;
  readonly createdUtc: string;
  readonly changedUtc: string;
  readonly isArchived: boolean;
  readonly card: JobCard;
  /** An edit can be taken back. */
  readonly canUndo: boolean;
  /** The oldest first: as received. */
  readonly records: readonly RecordHead[];
  readonly photos: readonly JobPhoto[];
}

/** What the list of jobs shows of one. */
export interface JobHead
  extends Pick<JobCard, "number" | "owner" | "vehicle" | "unit" | "stampedNumber"> {
  readonly id: string;
  readonly changedUtc: string;
  readonly isArchived: boolean;
  readonly recordCount: number;
  /** Of the newest record. */
  readonly last: Pick<RecordHead, "verdict" | "ending" | "simulated" | "ownTarget"> | null;
}

/** Every word of the search is somewhere on the card, however it is written. */
export function isFound(card: JobCard, search: string): boolean {
  return hasAllWords(Object.values(card).flat().join("\n"), search);
}
