// The centrifugal unit in motion: inertia, damping, dry friction and the stop.
import { type CentrifugalUnit, forcesAt, frictionTerms } from "./mechanism.ts";

const CELLS = 1024;
const DEG_PER_RAD = 180 / Math.PI;
/** Slower than about 1° a second, the part is as good as at rest and sticks (an assumption without a source). */
const REST_RAD_S = 0.02;

/**
 * Cam and weights as one moving part. Forces over the advance are tabled once, since the geometry
 * does not change while it runs. The shaft's own angular acceleration does not act on the part.
 */
export class CentrifugalMotion {
  private readonly lever = new Float64Array(CELLS + 1);
  private readonly restoring = new Float64Array(CELLS + 1);
  private readonly inertia = new Float64Array(CELLS + 1);
  private readonly stopRad: number;
  private readonly cellRad: number;
  private readonly frictionNm: number;
  private readonly frictionPerOmega2: number;
  private readonly stickRatio: number;
  private readonly blockNm: number;
  private readonly damping: number;
  private readonly seized: boolean;
  private readonly homeRad: number;
  private lowestRad = 0;
  private advanceRad: number;
  private rateRadS = 0;

  constructor(unit: CentrifugalUnit) {
    this.stopRad = unit.stopDeg / DEG_PER_RAD;
    this.cellRad = this.stopRad / CELLS;
    for (let i = 0; i <= CELLS; i++) {
      const forces = forcesAt(unit, (unit.stopDeg * i) / CELLS);
      this.lever[i] = forces.leverKgM2;
      this.restoring[i] = forces.restoringNm;
      this.inertia[i] = forces.inertiaKgM2;
    }
    const friction = frictionTerms(unit);
    this.frictionNm = friction.fixedNm;
    this.frictionPerOmega2 = friction.perOmega2;
    this.stickRatio = unit.stickRatio;
    this.homeRad = unit.homeDeg / DEG_PER_RAD;
    this.blockNm = unit.rubbingBlockNmm / 1000;
    this.damping = unit.dampingNmmS / 1000;
    this.seized = unit.seizedDeg !== null;
    this.advanceRad = (unit.seizedDeg ?? 0) / DEG_PER_RAD;
  }

  get advanceDeg(): number {
    return this.advanceRad * DEG_PER_RAD;
  }

  /**
   * One step by the linearly implicit Euler rule, which stays stable however stiff the springs are.
   * Friction is an impulse that can stop the part but never turn it round.
   */
  step(dtS: number, omegaRadS: number, sense: 1 | -1): void {
    if (this.seized) return;
    const { lever, restoring, advanceRad, cellRad } = this;
    const cell = Math.min(CELLS - 1, Math.floor(advanceRad / cellRad));
    const share = advanceRad / cellRad - cell;
    const omega2 = omegaRadS * omegaRadS;
    const below = omega2 * (lever[cell] as number) - (restoring[cell] as number);
    const above = omega2 * (lever[cell + 1] as number) - (restoring[cell + 1] as number);
    // The block drags against the shaft's rotation: towards retard, or towards advance in reverse.
    const block = omegaRadS > 0 ? sense * this.blockNm : 0;
    const torque = below + share * (above - below) - block;
    const stiffness = Math.max(0, (below - above) / cellRad);
    const inertia = this.inertia[cell] as number;
    const impulse = inertia * this.rateRadS + dtS * torque;
    const frictionImpulse = dtS * (this.frictionNm + this.frictionPerOmega2 * omega2);
    const atRest = Math.abs(this.rateRadS) < REST_RAD_S;
    if (Math.abs(impulse) <= (atRest ? this.stickRatio : 1) * frictionImpulse) {
      this.rateRadS = 0;
      return;
    }
    const free = impulse - Math.sign(impulse) * frictionImpulse;
    this.rateRadS = free / (inertia + dtS * (this.damping + dtS * stiffness));
    this.advanceRad = advanceRad + dtS * this.rateRadS;
    this.meetStops();
  }

  private meetStops(): void {
    if (this.advanceRad >= this.homeRad) this.lowestRad = this.homeRad;
    if (this.advanceRad > this.lowestRad && this.advanceRad < this.stopRad) return;
    this.advanceRad = Math.min(Math.max(this.advanceRad, this.lowestRad), this.stopRad);
    this.rateRadS = 0;
  }
}
