// How far a run may go: what the unit allows and what the rig can do.
import type { Band, Limits, Unit } from "../unit.ts";

/** What a plan needs to know of the rig. Speeds in distributor rpm. */
export interface RigReach {
  readonly speedMinRpm: number;
  readonly speedMaxRpm: number;
  /** Highest vacuum of the sensor in pascals below ambient; 0 without sensor. */
  readonly vacuumMaxPa: number;
  /** Pascals absolute; null where not measured. */
  readonly ambientPa: number | null;
}

/** How close to a perfect vacuum a pump may be asked to go. Common practice, no source. */
const PUMP_MARGIN_PA = 10000;
/** Where the rig does not measure it: standard atmosphere (ISO 2533, from memory). */
const AMBIENT_PA = 101325;
/** Past the last specification speed, so that the stop shows. */
const BEYOND = 1.1;
/** Where no specification says how fast the unit may turn. Cautious; common practice, no source. */
const SPEED_MAX_RPM = 2000;

/** The last place on the axis that a specification names; null where it names none. */
export function lastX(band: Band | null): number | null {
  const places = (band?.rows ?? []).map((row) => (row.kind === "start" ? row.toX : row.x));
  const known = places.filter((x) => x !== null);
  return known.length === 0 ? null : Math.max(...known);
}

/** The last specified place and a tenth more; null where none is specified. */
export function beyondLastX(band: Band | null): number | null {
  const last = lastX(band);
  return last === null ? null : last * BEYOND;
}

/**
 * Where advance has surely not begun yet by the specification, in rpm or pascals; null where it does
 * not tell.
 */
export function onsetX(band: Band | null): number | null {
  const rows = band?.rows ?? [];
  for (const row of rows) if (row.kind === "start") return row.fromX;
  for (const row of rows) {
    if (row.kind === "noneBelow" || (row.kind === "at" && isZero(row.limitsDeg))) return row.x;
  }
  const first = rows.find((row) => row.kind === "at");
  // Most units have begun well below their first row with advance. Common practice, no source.
  return first?.kind === "at" ? 0.6 * first.x : null;
}

/** "0 ± 1": a row that asks for no advance. */
function isZero({ min, max }: Limits): boolean {
  return min !== null && max !== null && Math.abs(min + max) < 1e-9;
}

/** Highest speed that the unit allows, in distributor rpm. The rig may do more; that counts for nothing. */
export function highestSpeedRpm(unit: Unit): number {
  return unit.speedMaxRpm ?? beyondLastX(unit.speedBand) ?? SPEED_MAX_RPM;
}

/** Highest vacuum that sensor and pump can reach here, in pascals; 0 without sensor. */
export function highestVacuumPa(rig: RigReach): number {
  return Math.max(0, Math.min(rig.vacuumMaxPa, (rig.ambientPa ?? AMBIENT_PA) - PUMP_MARGIN_PA));
}
