// The board's vacuum control: comes up to a target from either side without passing it.
import { BLEED_ML_PER_S } from "./vacuumLine.ts";

/** The error falls with this time constant once it is small enough for pump and bleed. */
const APPROACH_S = 0.15;
const APPROACH_PA_PER_S_MAX = 60_000;
/** Poles of the estimator of vacuum and leak: slow against the sensor's noise, fast against a hold. */
const ESTIMATOR_PER_S = 4;
const BLEED_REFERENCE_PA = 50_000;

export class VacuumControl {
  pump = 0;
  bleed = 0;
  private targetPa: number | null = null;
  private estimatePa = 0;
  private leakPaPerS = 0;
  private readonly pumpPaPerS: number;
  private readonly pumpLimitPa: number;
  private readonly bleedPerS: number;

  constructor(setup: {
    readonly lineVolumeMl: number;
    readonly ambientPa: number;
    readonly pumpFlowMlPerS: number;
    readonly pumpLimitPa: number;
  }) {
    const perMl = setup.ambientPa / setup.lineVolumeMl;
    this.pumpPaPerS = setup.pumpFlowMlPerS * perMl;
    this.pumpLimitPa = setup.pumpLimitPa;
    this.bleedPerS = (BLEED_ML_PER_S * perMl) / BLEED_REFERENCE_PA;
  }

  goTo(targetPa: number, readingPa: number): void {
    if (this.targetPa === null) {
      this.estimatePa = readingPa;
      this.leakPaPerS = 0;
    }
    this.targetPa = targetPa;
  }

  off(): void {
    this.targetPa = null;
    this.pump = 0;
    this.bleed = 0;
  }

  /** Sets pump and bleed from a reading `dtS` after the one before. */
  step(dtS: number, readingPa: number): void {
    if (this.targetPa === null) return;
    // What the pump and bleed did since then, and what reality made of it: the rest is leak. Their
    // flows are taken in the middle of that time, or fast approaches would look like leaks.
    const middlePa = this.estimatePa + (dtS / 2) * this.flow(this.estimatePa);
    const surprise = readingPa - this.estimatePa;
    this.estimatePa += dtS * (this.flow(middlePa) - this.leakPaPerS);
    this.estimatePa += dtS * 2 * ESTIMATOR_PER_S * surprise;
    this.leakPaPerS -= dtS * ESTIMATOR_PER_S ** 2 * surprise;
    const wanted = (this.targetPa - this.estimatePa) / APPROACH_S;
    const limited = Math.min(Math.max(wanted, -APPROACH_PA_PER_S_MAX), APPROACH_PA_PER_S_MAX);
    const needed = limited + this.leakPaPerS;
    const pumpPaPerS = this.fullPump(this.estimatePa);
    const bleedPaPerS = this.bleedPerS * this.estimatePa;
    this.pump = needed > 0 ? Math.min(1, needed / Math.max(pumpPaPerS, 1)) : 0;
    this.bleed = needed < 0 ? Math.min(1, -needed / Math.max(bleedPaPerS, 1)) : 0;
  }

  private fullPump(vacuumPa: number): number {
    return this.pumpPaPerS * Math.max(0, 1 - vacuumPa / this.pumpLimitPa);
  }

  /** Pascals per second that pump and bleed bring as they are set. */
  private flow(vacuumPa: number): number {
    return this.pump * this.fullPump(vacuumPa) - this.bleed * this.bleedPerS * vacuumPa;
  }
}
