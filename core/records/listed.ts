// Records as the list of the page has them: searched, with their job, their notes, and what came of a unit over time. Pure.
import type { RunResult, Verdict } from "../documents.ts";
import type { RecordHead } from "../messages.ts";
import { hasAllWords } from "../search.ts";
import type { Branch } from "../unit.ts";

export interface ListedRecord extends RecordHead {
  /** Of the job that it goes with; null: none. */
  readonly jobNumber: string | null;
  readonly isArchived: boolean;
  /** Notes that stand. */
  readonly noteCount: number;
}

/** GET /api/records */
export interface RecordsPage {
  /** The newest first. */
  readonly records: readonly ListedRecord[];
  /** Asking with this goes on where the page ends, perhaps before a full one; null: there are no older ones. */
  readonly before: string | null;
}

export const VERDICT_FILTERS = ["any", "within", "outside", "unproven", "none"] as const;
export const KIND_FILTERS = ["any", "real", "simulated"] as const;

export interface RecordSearch {
  /** Words over unit, stamped number and job number; empty: all. */
  readonly text: string;
  /** `none`: not judged. */
  readonly verdict: (typeof VERDICT_FILTERS)[number];
  readonly kind: (typeof KIND_FILTERS)[number];
  /** From this moment on; null: from the first. */
  readonly fromUtc: string | null;
  /** Before this moment; null: to the last. */
  readonly toUtc: string | null;
  readonly isArchived: boolean;
}

export function isFound(record: ListedRecord, search: RecordSearch): boolean {
  const { unitDescription, stampedNumber, jobNumber, startedUtc } = record;
  return (
    record.isArchived === search.isArchived &&
    fits(search.verdict, record.verdict ?? "none") &&
    fits(search.kind, record.simulated ? "simulated" : "real") &&
    (search.fromUtc === null || startedUtc >= search.fromUtc) &&
    (search.toUtc === null || startedUtc < search.toUtc) &&
    hasAllWords([unitDescription, stampedNumber, jobNumber].join("\n"), search.text)
  );
}

function fits(wanted: string, is: Verdict | string): boolean {
  return wanted === "any" || wanted === is;
}

/** What somebody wrote on a record, which stays as it is. */
export interface RecordNote {
  readonly id: string;
  readonly writtenUtc: string;
  readonly text: string;
  /** It stays, and no longer counts. */
  readonly isTakenBack: boolean;
}

/** GET /api/records/ID/notes, and the answer to every change of them. */
export interface RecordNotes {
  readonly isArchived: boolean;
  /** The oldest first. */
  readonly notes: readonly RecordNote[];
}

export interface LargestAdvance {
  readonly advanceDeg: number;
  readonly expandedUncertaintyDeg: number;
  readonly speedRpm: number;
  readonly branch: Branch;
}

/** GET /api/records/ID/history: every record of the same unit, the oldest first. */
export interface HistoryEntry extends ListedRecord {
  /** By the weights; null: not measured over speed. */
  readonly largest: LargestAdvance | null;
}

/** Where the weights go farthest, rising; falling where nothing was read rising. */
export function largestAdvance(speed: RunResult["speed"]): LargestAdvance | null {
  const branch = speed.rising.length > 0 ? "rising" : "falling";
  const [first, ...others] = speed[branch];
  if (first === undefined) return null;
  const top = others.reduce((a, b) => (b.advanceDeg > a.advanceDeg ? b : a), first);
  return {
    advanceDeg: top.advanceDeg,
    expandedUncertaintyDeg: top.coverageFactor * top.standardUncertaintyDeg,
    speedRpm: top.x,
    branch,
  };
}
