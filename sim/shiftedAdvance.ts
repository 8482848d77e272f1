// Shifts of the trigger's flanks that move while it runs: a magnetic threshold, dwell that goes with the plate.
import type { AdvanceSource, AdvanceStep } from "./advance.ts";
import type { Pulses } from "./triggerFaults.ts";

const RPM_PER_RAD_S = 30 / Math.PI;
const FIRING = 0;

/** By how many degrees a magnetic trigger's signal crosses its threshold late. */
export function thresholdShiftDeg({ magnetic }: Pulses, speedRpm: number): number {
  if (magnetic === undefined) return 0;
  const { thresholdShiftDegAt1000Rpm: at1000, shiftMaxDeg } = magnetic;
  const shift = (at1000 * 1000) / Math.max(speedRpm, 1e-3);
  return Math.min(Math.max(shift, -shiftMaxDeg), shiftMaxDeg);
}

export function hasShifts({ magnetic, dwellChangeDegPerDeg }: Pulses): boolean {
  return (magnetic?.thresholdShiftDegAt1000Rpm ?? 0) !== 0 || dwellChangeDegPerDeg !== 0;
}

/** A mechanism's advance as its trigger's flanks show it. */
export class ShiftedAdvance implements AdvanceSource {
  private readonly mechanism: AdvanceSource;
  private readonly pulses: Pulses;
  /** Of the flanks that do not fire, for each degree of plate: + earlier. */
  private readonly otherPerPlateDeg: number;
  private startShiftDeg = 0;
  private endShiftDeg = 0;

  constructor(mechanism: AdvanceSource, pulses: Pulses, firingEdge: "a" | "b") {
    this.mechanism = mechanism;
    this.pulses = pulses;
    // More dwell: the closing comes earlier before an opening that fires, or the opening comes later.
    this.otherPerPlateDeg = (firingEdge === "a" ? 1 : -1) * pulses.dwellChangeDegPerDeg;
    this.endShiftDeg = thresholdShiftDeg(pulses, 0);
  }

  step(step: Readonly<AdvanceStep>): void {
    this.mechanism.step(step);
    this.startShiftDeg = this.endShiftDeg;
    this.endShiftDeg = thresholdShiftDeg(this.pulses, step.endRadS * RPM_PER_RAD_S);
  }

  advanceDegAt(share: number, role: number): number {
    const shiftDeg = this.startShiftDeg + share * (this.endShiftDeg - this.startShiftDeg);
    const firing = this.mechanism.advanceDegAt(share, role) - shiftDeg;
    if (role === FIRING) return firing;
    return firing + this.otherPerPlateDeg * this.mechanism.plateDegAt(share);
  }

  plateDegAt(share: number): number {
    return this.mechanism.plateDegAt(share);
  }
}
