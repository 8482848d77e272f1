// The owner's readings with the timing light, as CSV.

import { tableRows } from "../csv/table.ts";
import { said } from "../said.ts";

export const READING_COLUMNS = ["engine_rpm", "mark_crankshaft_deg", "vacuum_line"] as const;

export interface EngineReading {
  readonly engineRpm: number;
  /** Before top dead centre; negative after it. */
  readonly markCrankshaftDeg: number;
  readonly vacuumLine: "plugged" | "on";
}

/** In rising order of speed. @throws TABLE_INVALID naming row and column */
export function engineReadingsFromCsv(text: string, name: string): EngineReading[] {
  return tableRows(text, name, READING_COLUMNS)
    .map((row): EngineReading => {
      const vacuumLine = row.text("vacuum_line")?.toLowerCase() ?? "plugged";
      if (vacuumLine !== "plugged" && vacuumLine !== "on") {
        return row.fail("vacuum_line", said('"{}" is neither "plugged" nor "on"', vacuumLine));
      }
      return {
        engineRpm: row.needed("engine_rpm", 1, 20_000),
        markCrankshaftDeg: row.needed("mark_crankshaft_deg", -60, 120),
        vacuumLine,
      };
    })
    .sort((one, other) => one.engineRpm - other.engineRpm);
}
