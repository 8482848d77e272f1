// At which shaft speed and advance are shown: the one place where the page turns the distributor's figures into those.
import type { RowVerdict } from "../../core/documents.ts";
import type { ComparedRecord } from "../../core/records/compare.ts";
import type { Limits, Shaft } from "../../core/unit.ts";
import { crankshaftFromDistributor } from "../../core/units.ts";

/** Read when something is shown, never at a module's top. */
export let shownShaft: Shaft = "distributor";

/** To be called before the page is made. */
export function showAt(shaft: Shaft): void {
  shownShaft = shaft;
}

/** Degrees or rpm of the shaft that is shown, from the distributor's. */
export function atShownShaft(distributor: number, driveRatio: number): number {
  return shownShaft === "distributor"
    ? distributor
    : crankshaftFromDistributor(distributor, driveRatio);
}

export function limitsAtShownShaft({ min, max }: Limits, driveRatio: number): Limits {
  const shown = (limit: number | null) => limit && atShownShaft(limit, driveRatio);
  return { min: shown(min), max: shown(max) };
}

/** Dwell and lobes are the distributor's cam's own, and a vacuum is no shaft's. */
const OF_ADVANCE: readonly RowVerdict["about"][] = ["speed", "vacuum", "return"];

export function rowAtShownShaft<Row extends RowVerdict | null>(row: Row, driveRatio: number): Row {
  if (row === null || row.unit === "Pa" || !OF_ADVANCE.includes(row.about)) return row;
  const shown = (value: number | null) => value && atShownShaft(value, driveRatio);
  return {
    ...row,
    measured: shown(row.measured),
    expandedUncertainty: shown(row.expandedUncertainty),
    limits: limitsAtShownShaft(row.limits, driveRatio),
  };
}

/** Its printed rows; curves are turned where they are drawn. */
export function comparedAtShownShaft(record: ComparedRecord): ComparedRecord {
  const { result, unit } = record;
  const rows = result.rows.map((row) => rowAtShownShaft(row, unit.driveRatio));
  return { ...record, result: { ...result, rows } };
}
