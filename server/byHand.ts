// A record of readings taken by hand, made and kept: for the page and the command alike.
import type { ByHandNotes } from "../core/byHand/notes.ts";
import { type ByHandRecord, byHandRecord } from "../core/byHand/record.ts";
import { unitFromFile } from "../core/unitFile.ts";
import type { NamedFile } from "./files.ts";
import { engineVersion } from "./measurement.ts";
import { newKey } from "./store/keys.ts";
import type { Store } from "./store/store.ts";

/** @throws FILE_INVALID */
export function makeByHandRecord(
  notes: ByHandNotes,
  { name, content: unitFile }: NamedFile,
  afterRecordId: string | null = null,
): ByHandRecord {
  const unit = unitFromFile(unitFile, name);
  return byHandRecord(notes, unit, {
    recordId: newKey(),
    startedUtc: new Date().toISOString(),
    engineVersion: engineVersion(),
    unitFile,
    afterRecordId,
  });
}

/** @throws STORE_FAILED */
export function keepByHandRecord(
  { start, middle, end }: ByHandRecord,
  store: Store,
): Promise<void> {
  return store.bringIn({
    start: { ...start, bench: store.bench },
    middle,
    end,
    raw: new Uint8Array(),
  });
}
