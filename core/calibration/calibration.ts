// What is known of a rig's own errors, with the day it was found and how well. Pure.

import type { Direction } from "../codec/rigLines.ts";

/** Common to every check of the rig. */
interface Check {
  /** ISO 8601 in UTC. */
  readonly checkedUtc: string;
  /** Of the standard uncertainty (JCGM 100, annex G); null: without limit. */
  readonly degreesOfFreedom: number | null;
}

/** The fixed delay from the unit firing to the rig's tick. A tick minus the delay is when it fired. */
export interface DelayCheck extends Check {
  readonly delayUs: number;
  readonly standardUncertaintyUs: number;
}

/** One known angle between two firing events, as the rig measured it. */
export interface PickupCheck extends Check {
  readonly knownDeg: number;
  readonly measuredDeg: number;
  /** Of measured minus known, that of the known angle included. */
  readonly standardUncertaintyDeg: number;
}

/**
 * What the rig itself adds to an event's place once a turn:
 * runOutDeg · cos(angle − phaseDeg) degrees later, the angle counted from the index, the rig turning
 * clockwise.
 */
export interface CouplingCheck extends Check {
  readonly runOutDeg: number;
  /** Where the rig makes events latest, 0 to 360 degrees after the index. */
  readonly phaseDeg: number;
  /** Of the run-out in the worse of its two directions. */
  readonly standardUncertaintyDeg: number;
}

/**
 * Where a coupling makes events latest one way round, from where it does the other way or, turning
 * clockwise, from the same: places then count backward from the index, and what was late is early.
 */
export function latestDeg(phaseDeg: number, rotation: Direction): number {
  return rotation === "cw" ? phaseDeg : (540 - phaseDeg) % 360;
}

/** True vacuum = offsetPa + gain · sensed vacuum, between the lowest and the highest checked. */
export interface VacuumCheck extends Check {
  readonly offsetPa: number;
  readonly gain: number;
  /** Of a corrected vacuum anywhere from lowest to highest, the gauge's own included. */
  readonly standardUncertaintyPa: number;
  /** The gauge's own part in it, common to all vacuums. */
  readonly gaugeStandardUncertaintyPa: number;
  /** True vacuums between which the sensor was checked. */
  readonly lowestPa: number;
  readonly highestPa: number;
}

/** Null: never checked. */
export interface RigCalibration {
  readonly delay: DelayCheck | null;
  readonly pickup: PickupCheck | null;
  readonly coupling: CouplingCheck | null;
  readonly vacuum: VacuumCheck | null;
}

export const CHECK_KINDS = ["delay", "pickup", "coupling", "vacuum"] as const;
export type CheckKind = (typeof CHECK_KINDS)[number];
