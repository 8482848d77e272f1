// A record of readings taken by hand, made and kept: for the page and the command alike.
import type { ByHandNotes } from "../core/byHand/notes.ts";
import { type ByHandRecord, byHandRecord } from "../core/byHand/record.ts";
import { unitFromFile } from "../core/unitFile.ts";
import type { NamedFile } from "./files.ts";
import { engineVersion } from "./measurement.ts";
import { RealScheduler } from "./schedulers.ts";
import { checkedFollowing, FOLLOWS_NONE, type Following } from "./store/chain.ts";
import { newKey } from "./store/keys.ts";
import type { Store } from "./store/store.ts";

/** @throws FILE_INVALID, RECORD_UNKNOWN, RECORD_OTHER_UNIT */
export function makeByHandRecord(
  notes: ByHandNotes,
  { name, content: unitFile }: NamedFile,
  follows: Following = FOLLOWS_NONE,
): ByHandRecord {
  const unit = unitFromFile(unitFile, name);
  const afterRecordId = checkedFollowing(follows, unit, false);
  return byHandRecord(notes, unit, {
    recordId: newKey(),
    startedUtc: new Date().toISOString(),
    engineVersion: engineVersion(),
    unitFile,
    afterRecordId,
  });
}

/** @throws STORE_FAILED */
export function keepByHandRecord({ start, middle, end }: ByHandRecord, store: Store): void {
  const writer = store.begin(start, new RealScheduler());
  for (const document of middle) writer.append(document);
  writer.end(end);
}
