// Any records set side by side: what tells them apart, and every printed row with its differences. Pure.
import type { RowVerdict, RunDocument, RunResult } from "../documents.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import { resultOf, startDocumentOf } from "../sheet/curves.ts";
import { rowsOf } from "../sheet/earlier.ts";
import type { Unit } from "../unit.ts";

/** More curves than these on one chart cannot be told apart. */
export const COMPARED_MAX = 6;

export interface ComparedRecord {
  readonly recordId: string;
  readonly startedUtc: string;
  readonly unit: Unit;
  readonly isSimulated: boolean;
  readonly isByHand: boolean;
  readonly isOwnTarget: boolean;
  readonly result: RunResult;
}

export function comparedRecord(documents: readonly RunDocument[]): ComparedRecord {
  const { recordId, startedUtc, unit, rig } = startDocumentOf(documents);
  return {
    recordId,
    startedUtc,
    unit,
    isSimulated: rig.simulated,
    isByHand: rig.byHand !== undefined,
    isOwnTarget: hasOwnTarget(unit),
    result: resultOf(documents),
  };
}

/** What has to be said wherever these stand side by side. */
export interface Mixture {
  /** Simulations among measurements. */
  readonly isPartSimulated: boolean;
  /** Readings by hand among readings by rig. */
  readonly isPartByHand: boolean;
  readonly isOfSeveralUnits: boolean;
  /** Not all were judged by the same limits. */
  readonly hasSeveralBands: boolean;
}

export function mixtureOf(records: readonly ComparedRecord[]): Mixture {
  const differs = (of: (record: ComparedRecord) => unknown) =>
    new Set(records.map((record) => JSON.stringify(of(record)))).size > 1;
  return {
    isPartSimulated: differs(({ isSimulated }) => isSimulated),
    isPartByHand: differs(({ isByHand }) => isByHand),
    isOfSeveralUnits: differs(({ unit }) => [unit.description, unit.stampedNumber]),
    hasSeveralBands: differs(({ unit }) => [
      unit.speedBand?.rows ?? null,
      unit.capsules.map(({ band }) => band?.rows ?? null),
    ]),
  };
}

/** Of a figure from that of the first record, in the row's unit. */
export interface Difference {
  readonly value: number;
  /** Of 95 % coverage, the two figures taken as independent; null: one has none. */
  readonly expandedUncertainty: number | null;
}

export interface ComparedRow {
  /** The last record's, or where it has none an earlier one's. */
  readonly row: RowVerdict;
  /** As many as there are records; null where one has no such row. */
  readonly figures: readonly (RowVerdict | null)[];
  /** Likewise; null for the first, and where there are no two figures. */
  readonly differences: readonly (Difference | null)[];
}

/** Every printed row of any of the records; rows with other limits are other rows. */
export function comparedRows(records: readonly ComparedRecord[]): readonly ComparedRow[] {
  return rowsOf(records.map(({ result }) => result)).map(({ row, runs }) => ({
    row,
    figures: runs,
    differences: runs.map((one, i) => (i === 0 ? null : differenceOf(runs[0] ?? null, one))),
  }));
}

/** JCGM 100 § 5.1.2. Errors of the rig that stand in both make it smaller than this, never larger. */
function differenceOf(first: RowVerdict | null, other: RowVerdict | null): Difference | null {
  if (first === null || other === null) return null;
  if (first.measured === null || other.measured === null) return null;
  const [a, b] = [first.expandedUncertainty, other.expandedUncertainty];
  return {
    value: other.measured - first.measured,
    expandedUncertainty: a === null || b === null ? null : Math.hypot(a, b),
  };
}
