// The runs before a change, as sheet and page set them beside the present one. Pure.
import type { RowVerdict, RunDocument, RunResult } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { resultOf, startDocumentOf } from "./curves.ts";

/** A run that the present one follows, with all that is shown of it. Plain JSON. */
export interface EarlierRun {
  readonly name: "as received" | "before";
  readonly recordId: string;
  readonly startedUtc: string;
  readonly isByHand: boolean;
  /** Judged by a target of the user's own. */
  readonly isOwnTarget: boolean;
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
  const { recordId, startedUtc, rig, unit } = startDocumentOf(documents);
  const isByHand = rig.byHand !== undefined;
  const isOwnTarget = hasOwnTarget(unit);
  return { name, recordId, startedUtc, isByHand, isOwnTarget, result: resultOf(documents) };
}

/** One line of the judgement in every run that has it. */
export interface RowOverRuns {
  /** The present run's, or where it has none an earlier one's. */
  readonly row: RowVerdict;
  /** As many as there are runs, the oldest first and the present one last; null where a run has no such row. */
  readonly runs: readonly (RowVerdict | null)[];
}

/** The present run's rows in their order, then those that only earlier runs have. */
export function rowsOverRuns(
  earlier: readonly EarlierRun[],
  present: RunResult,
): readonly RowOverRuns[] {
  return rowsOf([...earlier.map(({ result }) => result), present]);
}

/** The last result's rows in their order, then those that only the ones before have. */
export function rowsOf(results: readonly RunResult[]): readonly RowOverRuns[] {
  const tables = results.map(({ rows }) => new Map(rows.map((row) => [rowKey(row), row])));
  const keys = new Set([...tables].reverse().flatMap((table) => [...table.keys()]));
  return [...keys].flatMap((key) => {
    const runs = tables.map((table) => table.get(key) ?? null);
    const row = runs.findLast((one) => one !== null) ?? null;
    return row === null ? [] : [{ row, runs }];
  });
}

/** Rows with other limits are other rows: they were not judged alike. */
function rowKey({ about, capsule, branch, printed, x, limits }: RowVerdict): string {
  return JSON.stringify([about, capsule, branch, printed, x, limits.min, limits.max]);
}
