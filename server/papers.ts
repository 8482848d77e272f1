// The papers of a record: the owner's page and the tag with the card of its job, and the file's sheet.
import type { RunDocument } from "../core/documents.ts";
import type { JobCard } from "../core/jobs/card.ts";
import type { Language } from "../core/language.ts";
import { ownerSheet } from "../core/papers/owner.ts";
import { tagSheet } from "../core/papers/tag.ts";
import { letterheadOf } from "../core/settings/letterhead.ts";
import { startDocumentOf } from "../core/sheet/curves.ts";
import type { Paper, Sheet } from "../core/sheet/model.ts";
import { buildSheet, type FileSheetOptions } from "../core/sheet/sheet.ts";
import { SPEECHES } from "../core/speech/languages.ts";
import type { VacuumUnit } from "../core/units.ts";
import { fingerprintOf } from "./fingerprint.ts";
import { keptLogo, keptSettings } from "./settings.ts";
import { earlierOf } from "./store/chain.ts";
import type { Store } from "./store/store.ts";

export const READERS = ["owner", "tag", "file"] as const;
export type Reader = (typeof READERS)[number];

/** What is left out is as the workshop has set it. */
export interface PaperChoice {
  readonly paper: Paper;
  readonly vacuumUnit?: VacuumUnit | undefined;
  readonly language?: Language | undefined;
}

/** @throws STORE_FAILED */
export async function sheetFor(
  store: Store,
  documents: readonly RunDocument[],
  reader: Reader,
  choice: PaperChoice,
  givenCard?: JobCard | null,
): Promise<Sheet> {
  const settings = await keptSettings(store);
  const card = givenCard === undefined ? await cardOf(store, documents) : givenCard;
  const options: FileSheetOptions = {
    paper: choice.paper,
    vacuumUnit: choice.vacuumUnit ?? settings.vacuumUnit,
    say: SPEECHES[choice.language ?? settings.language],
    letterhead: letterheadOf(settings.workshop, await keptLogo(store)),
  };
  switch (reader) {
    case "owner":
      return ownerSheet({ documents, earlier: await earlierOf(store, documents), card }, options);
    case "tag":
      return tagSheet(documents, card, options);
    case "file": {
      const fingerprint = await fingerprintOf(store, startDocumentOf(documents).recordId);
      return buildSheet(documents, { ...options, fingerprint }, await earlierOf(store, documents));
    }
  }
}

/** Null for a record that goes with no job. */
async function cardOf(store: Store, documents: readonly RunDocument[]): Promise<JobCard | null> {
  const jobId = await store.jobs.jobIdOf(startDocumentOf(documents).recordId);
  return jobId === null ? null : (await store.jobs.job(jobId)).card;
}
