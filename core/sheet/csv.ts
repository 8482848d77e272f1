// A run's curves as CSV (RFC 4180), one reading a line, for spreadsheets and other programs. Pure.

import { type Cell, csvText, rounded } from "../csv/text.ts";
import type { CurvePoint, RunDocument } from "../documents.ts";
import type { Branch } from "../unit.ts";
import { crankshaftFromDistributor } from "../units.ts";
import { resultOf, startDocumentOf } from "./curves.ts";

const COLUMNS = [
  "record",
  "simulated",
  "unit",
  "stamped_number",
  "sweep",
  "capsule",
  "branch",
  "distributor_rpm",
  "vacuum_pa",
  "advance_distributor_deg",
  "expanded_uncertainty_distributor_deg",
  "crankshaft_rpm",
  "advance_crankshaft_deg",
  "expanded_uncertainty_crankshaft_deg",
] as const;

/** Lines end in CRLF; the first one names the columns. Expanded uncertainties are of 95 % coverage. */
export function curvesCsv(documents: readonly RunDocument[]): string {
  const { recordId, rig, unit } = startDocumentOf(documents);
  const { speed, capsules } = resultOf(documents);
  const first: readonly Cell[] = [
    recordId,
    rig.simulated ? "yes" : "no",
    unit.description,
    unit.stampedNumber,
  ];
  const line = (sweep: string, capsule: string | null, branch: Branch, point: CurvePoint) => [
    ...first,
    sweep,
    capsule,
    branch,
    ...figures(point, sweep === "speed", unit.driveRatio),
  ];
  const sweeps = [
    { sweep: "speed", name: null, curves: speed },
    ...capsules.map((capsule) => ({ sweep: "vacuum", name: capsule.name, curves: capsule })),
  ];
  const rows = sweeps.flatMap(({ sweep, name, curves }) => [
    ...curves.rising.map((point) => line(sweep, name, "rising", point)),
    ...curves.falling.map((point) => line(sweep, name, "falling", point)),
  ]);
  return csvText([COLUMNS, ...rows]);
}

function figures(point: CurvePoint, isSpeed: boolean, driveRatio: number): Cell[] {
  const expandedDeg = point.coverageFactor * point.standardUncertaintyDeg;
  const crankshaft = (value: number) => crankshaftFromDistributor(value, driveRatio);
  return [
    isSpeed ? rounded(point.x, 2) : null,
    isSpeed ? null : rounded(point.x, 0),
    rounded(point.advanceDeg, 4),
    rounded(expandedDeg, 4),
    isSpeed ? rounded(crankshaft(point.x), 2) : null,
    rounded(crankshaft(point.advanceDeg), 4),
    rounded(crankshaft(expandedDeg), 4),
  ];
}
