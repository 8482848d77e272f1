// Which records a run follows: checked before it begins, and read back for sheet and page.

import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import { type EarlierRun, earlierRuns } from "../../core/sheet/earlier.ts";
import type { Unit } from "../../core/unit.ts";
import type { Store } from "./store.ts";

/** What a run is said to follow. */
export interface Following {
  /** Null: no records are kept. */
  readonly store: Store | null;
  readonly recordId: string | null;
}

/**
 * The record's id, or null where none is followed.
 * @throws USAGE without a store, RECORD_UNKNOWN, RECORD_OTHER_UNIT
 */
export async function checkedFollowing(
  { store, recordId }: Following,
  unit: Unit,
  simulated: boolean,
): Promise<string | null> {
  if (recordId === null) return null;
  if (store === null) {
    throw new BobweightError(
      "USAGE",
      "--after needs the records; with --no-record there are none.",
    );
  }
  const { head } = await store.record(recordId);
  if (head.unitDescription !== unit.description || head.stampedNumber !== unit.stampedNumber) {
    throw new BobweightError(
      "RECORD_OTHER_UNIT",
      said(
        "Record {} is of {}; this run is of {}.",
        recordId,
        unitText(head.unitDescription, head.stampedNumber),
        unitText(unit.description, unit.stampedNumber),
      ),
    );
  }
  if (head.simulated !== simulated) {
    const kind = (one: boolean) => (one ? said("simulated") : said("of a real unit"));
    throw new BobweightError(
      "RECORD_OTHER_UNIT",
      said("Record {} is {}; this run is {}.", recordId, kind(head.simulated), kind(simulated)),
    );
  }
  return recordId;
}

function unitText(description: string, stampedNumber: string | null): string {
  return stampedNumber === null ? `"${description}"` : `"${description}" (${stampedNumber})`;
}

/** The runs that these documents' own follows, as sheet and page show them. @throws STORE_FAILED */
export async function earlierOf(
  store: Store,
  documents: readonly RunDocument[],
): Promise<readonly EarlierRun[]> {
  const chain: (readonly RunDocument[])[] = [];
  let followed = afterOf(documents);
  // A record is only ever written after the one that it follows, so this ends.
  while (followed !== null) {
    const earlier = (await store.record(followed)).documents;
    chain.unshift(earlier);
    followed = afterOf(earlier);
  }
  return earlierRuns(chain);
}

function afterOf(documents: readonly RunDocument[]): string | null {
  return (documents[0] as StartDocument).afterRecordId;
}
