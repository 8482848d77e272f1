// The vacuum capsule: diaphragm against spring, with friction, turning the breaker plate.

/** A sound or faulty capsule. A·Δp = F0 + k·x ± friction, 0 ≤ x ≤ travel; plate angle = x / radius. */
export interface Capsule {
  readonly areaMm2: number;
  /** Spring load at rest. */
  readonly loadN: number;
  readonly rateNPerMm: number;
  /** Of rod, plate and diaphragm, felt at the rod. */
  readonly frictionN: number;
  readonly travelMm: number;
  /** From the shaft's axis to the rod's hook on the plate. */
  readonly radiusMm: number;
  readonly acts: "advance" | "retard";
  /** Plate rusted fast at this travel, or null where it moves. */
  readonly seizedMm: number | null;
  /** Friction at rest over friction in motion. */
  readonly stickRatio: number;
  /** Ways for air into the closed line; none where it is tight. */
  readonly leaks: readonly Leak[];
}

/** What a capsule without faults adds to its figures. */
export const SOUND_CAPSULE = { seizedMm: null, stickRatio: 1, leaks: [] } as const;

/**
 * A leak by the free air it passes at 50 kPa below ambient. `passage`: a narrow channel, flow in
 * proportion to the vacuum. `pinhole`: a sharp hole, choked above about 48 kPa.
 */
export interface Leak {
  readonly form: "passage" | "pinhole";
  readonly flowMlPerS: number;
}

/** The rod follows the pressure with this lag, from the air in hose and capsule. */
const LAG_S = 0.015;
/** This near to where it is going, the rod has come to rest. */
const REST_MM = 0.002;
const DEG_PER_RAD = 180 / Math.PI;

/** Travel in mm at which the rod, once moving, stops at `vacuumPa` after the vacuum rose or fell to it. */
export function restingTravelMm(
  capsule: Capsule,
  vacuumPa: number,
  branch: "rising" | "falling",
): number {
  return balanceMm(capsule, vacuumPa, branch === "rising" ? capsule.frictionN : -capsule.frictionN);
}

/** Whether the rod, at rest at `travelMm`, stays there at `vacuumPa`. */
export function staysAt(capsule: Capsule, vacuumPa: number, travelMm: number): boolean {
  const stickN = capsule.stickRatio * capsule.frictionN;
  return (
    travelMm >= balanceMm(capsule, vacuumPa, stickN) &&
    travelMm <= balanceMm(capsule, vacuumPa, -stickN)
  );
}

function balanceMm(capsule: Capsule, vacuumPa: number, frictionN: number): number {
  // Area in mm² times pascals is micronewtons.
  const pullN = capsule.areaMm2 * 1e-6 * vacuumPa;
  const travelMm = (pullN - capsule.loadN - frictionN) / capsule.rateNPerMm;
  return Math.min(Math.max(travelMm, 0), capsule.travelMm);
}

/** A capsule in motion: it moves only when the pull overcomes spring and friction. */
export class CapsuleMotion {
  private readonly capsule: Capsule;
  private readonly degPerMm: number;
  private travelMm: number;
  private resting = true;

  constructor(capsule: Capsule) {
    this.capsule = capsule;
    const sign = capsule.acts === "advance" ? 1 : -1;
    this.degPerMm = (sign * DEG_PER_RAD) / capsule.radiusMm;
    this.travelMm = capsule.seizedMm ?? 0;
  }

  step(dtS: number, vacuumPa: number): void {
    const { capsule } = this;
    if (capsule.seizedMm !== null) return;
    if (this.resting && staysAt(capsule, vacuumPa, this.travelMm)) return;
    const least = restingTravelMm(capsule, vacuumPa, "rising");
    const most = restingTravelMm(capsule, vacuumPa, "falling");
    const goal = Math.min(Math.max(this.travelMm, least), most);
    this.travelMm += (goal - this.travelMm) * (1 - Math.exp(-dtS / LAG_S));
    this.resting = Math.abs(goal - this.travelMm) < REST_MM;
  }

  /** Distributor degrees, negative for a capsule that retards. */
  get advanceDeg(): number {
    return this.travelMm * this.degPerMm;
  }
}
