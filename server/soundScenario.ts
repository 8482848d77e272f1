// A scenario for a unit without one: a unit that does what the middle of its specification says.
import type { Band, Unit } from "../core/unit.ts";

type Table = [number, number][];

const MARGIN_DEG = 0.5;

/** Content of a scenario file, with tables instead of a mechanism. Vacuum in kPa as scenarios have it. */
export function soundScenario(unit: Unit): unknown {
  const capsule = unit.capsules[0];
  const speedTable = tableThrough(unit.speedBand, 1);
  const vacuumTable = tableThrough(capsule?.band ?? null, 1000);
  return {
    name: "sound unit",
    note: "Follows the middle of the unit's specification.",
    invented: true,
    mechanism: { speedTable, vacuumTable },
  };
}

function tableThrough(band: Band | null, xPerUnit: number): Table {
  const table: Table = [[0, 0]];
  for (const row of band?.rows ?? []) {
    const x = rowX(row);
    const y = rowMiddle(row);
    const last = table[table.length - 1] as [number, number];
    if (x !== null && y !== null && x / xPerUnit > last[0]) table.push([x / xPerUnit, y]);
  }
  return table;
}

function rowX(row: Band["rows"][number]): number | null {
  return row.kind === "start" ? (row.fromX + row.toX) / 2 : row.x;
}

function rowMiddle(row: Band["rows"][number]): number | null {
  if (row.kind === "start" || row.kind === "noneBelow") return 0;
  const { min, max } = row.limitsDeg;
  if (min !== null && max !== null) return (min + max) / 2;
  // "At least" and "at most" are met with something to spare.
  if (min !== null) return min + MARGIN_DEG;
  return max === null ? null : max - MARGIN_DEG;
}
