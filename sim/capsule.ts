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
  /** Air let into the closed line, or null where it is tight. */
  readonly leak: Leak | null;
}

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
const DEG_PER_RAD = 180 / Math.PI;

/** Travel in mm at which the rod stands at `vacuumPa` after the vacuum rose or fell to it. */
export function restingTravelMm(
  capsule: Capsule,
  vacuumPa: number,
  branch: "rising" | "falling",
): number {
  const frictionN = branch === "rising" ? capsule.frictionN : -capsule.frictionN;
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

  constructor(capsule: Capsule) {
    this.capsule = capsule;
    const sign = capsule.acts === "advance" ? 1 : -1;
    this.degPerMm = (sign * DEG_PER_RAD) / capsule.radiusMm;
    this.travelMm = capsule.seizedMm ?? 0;
  }

  step(dtS: number, vacuumPa: number): void {
    const { capsule } = this;
    if (capsule.seizedMm !== null) return;
    const least = restingTravelMm(capsule, vacuumPa, "rising");
    const most = restingTravelMm(capsule, vacuumPa, "falling");
    const goal = Math.min(Math.max(this.travelMm, least), most);
    this.travelMm += (goal - this.travelMm) * (1 - Math.exp(-dtS / LAG_S));
  }

  /** Distributor degrees, negative for a capsule that retards. */
  get advanceDeg(): number {
    return this.travelMm * this.degPerMm;
  }
}
