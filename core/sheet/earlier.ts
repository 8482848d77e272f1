// The runs before a change, as sheet and page set them beside the present one. Pure.
import type { RunDocument, RunResult } from "../documents.ts";
import { resultOf, startDocumentOf } from "./curves.ts";

/** A run that the present one follows, with all that is shown of it. Plain JSON. */
export interface EarlierRun {
  readonly name: "as received" | "before";
  readonly recordId: string;
  readonly startedUtc: string;
  readonly isByHand: boolean;
  readonly result: RunResult;
}

/**
 * The first of all, and the one just before the change where that is another.
 * @param chain documents of every record that is followed, the oldest first
 */
export function earlierRuns(chain: readonly (readonly RunDocument[])[]): readonly EarlierRun[] {
  const [first, ...rest] = chain;
  const before = rest.at(-1);
  return [
    ...(first === undefined ? [] : [earlierRun("as received", first)]),
    ...(before === undefined ? [] : [earlierRun("before", before)]),
  ];
}

function earlierRun(name: EarlierRun["name"], documents: readonly RunDocument[]): EarlierRun {
  const { recordId, startedUtc, rig } = startDocumentOf(documents);
  const isByHand = rig.byHand !== undefined;
  return { name, recordId, startedUtc, isByHand, result: resultOf(documents) };
}
