// Engine figures as CSV (RFC 4180), for spreadsheets and other programs. Pure.
import { type Cell, csvText, rounded } from "../csv/text.ts";
import type { JudgedReadings } from "./agreement.ts";
import type { EngineMark } from "./marks.ts";

const MARK_COLUMNS = [
  "engine_rpm",
  "plugged_rising_crankshaft_deg",
  "plugged_rising_expanded_uncertainty_crankshaft_deg",
  "plugged_falling_crankshaft_deg",
  "plugged_falling_expanded_uncertainty_crankshaft_deg",
  "specified_min_crankshaft_deg",
  "specified_max_crankshaft_deg",
  "unloaded_from_crankshaft_deg",
  "unloaded_to_crankshaft_deg",
  "unloaded_expanded_uncertainty_crankshaft_deg",
  "cruise_crankshaft_deg",
  "cruise_expanded_uncertainty_crankshaft_deg",
] as const;

export function marksCsv(marks: readonly EngineMark[]): string {
  return csvText([
    MARK_COLUMNS,
    ...marks.map(({ engineRpm, plugged, specified, unloaded, cruise }) => [
      engineRpm,
      figure(plugged.rising?.markCrankshaftDeg),
      figure(plugged.rising?.expandedUncertaintyCrankshaftDeg),
      figure(plugged.falling?.markCrankshaftDeg),
      figure(plugged.falling?.expandedUncertaintyCrankshaftDeg),
      figure(specified?.min),
      figure(specified?.max),
      figure(unloaded?.fromCrankshaftDeg),
      figure(unloaded?.toCrankshaftDeg),
      figure(unloaded?.expandedUncertaintyCrankshaftDeg),
      figure(cruise?.markCrankshaftDeg),
      figure(cruise?.expandedUncertaintyCrankshaftDeg),
    ]),
  ]);
}

const READING_COLUMNS = [
  "engine_rpm",
  "vacuum_line",
  "mark_crankshaft_deg",
  "expected_from_crankshaft_deg",
  "expected_to_crankshaft_deg",
  "expected_expanded_uncertainty_crankshaft_deg",
  "agreement",
  "specification",
  "distributor_rpm",
  "advance_distributor_deg",
] as const;

export function judgedReadingsCsv({ readings }: JudgedReadings): string {
  return csvText([
    READING_COLUMNS,
    ...readings.map((reading) => [
      reading.engineRpm,
      reading.vacuumLine,
      reading.markCrankshaftDeg,
      figure(reading.expected?.fromCrankshaftDeg),
      figure(reading.expected?.toCrankshaftDeg),
      figure(reading.expected?.expandedUncertaintyCrankshaftDeg),
      reading.agreement,
      reading.specification,
      reading.distributorRpm,
      figure(reading.advanceDistributorDeg),
    ]),
  ]);
}

function figure(value: number | null | undefined): Cell {
  return value === null || value === undefined ? null : rounded(value, 4);
}
