// The vacuum capsule's reduced form: straight between its start and its end, with friction.
import type { Branch } from "../unit.ts";

/** Vacuum in kilopascals below ambient. */
export interface CapsuleForm {
  /** Where the plate begins to move, friction apart. */
  readonly startKPa: number;
  /** Advance that stands before the plate moves: weights that had begun, or the error of all readings. */
  readonly restDeg: number;
  /** Distributor degrees; negative for a capsule that retards. */
  readonly degPerKPa: number;
  /** Largest advance or retard, from rest; null where the readings do not reach it. */
  readonly endDeg: number | null;
  /** Half the gap between rising and falling. */
  readonly frictionKPa: number;
}

/** Advance in distributor degrees at a vacuum in pascals. */
export function capsuleAdvanceAt(form: CapsuleForm, vacuumPa: number, branch: Branch): number {
  const { startKPa, restDeg, degPerKPa, endDeg, frictionKPa } = form;
  const friction = branch === "rising" ? frictionKPa : -frictionKPa;
  const deg = degPerKPa * Math.max(0, vacuumPa / 1000 - startKPa - friction);
  if (endDeg === null) return restDeg + deg;
  return restDeg + (endDeg < 0 ? Math.max(deg, endDeg) : Math.min(deg, endDeg));
}
