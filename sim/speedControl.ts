// The board's speed control: a ramped target, the drive's known behaviour ahead, and a PI part from the index.
import { NAMEPLATE } from "./drive.ts";

const RAD_S_PER_RPM = Math.PI / 30;
/** Share of the speed error of one long turn that the integral takes up; short turns count less. */
const INTEGRAL_SHARE = 0.5;
const PROPORTIONAL_SHARE = 0.2;
const SETTLING_S = 0.25;

export class SpeedControl {
  private readonly fullRpm: number;
  private goalRpm = 0;
  private rampRpmPerS = 1;
  /** Target that the ramp has reached so far. */
  private reachedRpm = 0;
  private integralRpm = 0;
  private proportionalRpm = 0;
  private expectedTurns = 0;
  private indexSeen = false;
  private on = false;

  constructor(fullRpm: number) {
    this.fullRpm = fullRpm;
  }

  /** True while the drive is commanded to turn. */
  get turning(): boolean {
    return this.on;
  }

  get rampedRpm(): number {
    return this.reachedRpm;
  }

  /** Heads for `goalRpm` from the speed of the moment. Nothing is switched on for 0 at rest. */
  goTo(goalRpm: number, rampRpmPerS: number, nowRpm: number): void {
    if (!this.on) {
      this.off();
      this.reachedRpm = nowRpm;
      this.on = goalRpm > 0 || nowRpm > 0;
    }
    this.goalRpm = goalRpm;
    this.rampRpmPerS = rampRpmPerS;
  }

  off(): void {
    this.on = false;
    this.goalRpm = 0;
    this.reachedRpm = 0;
    this.integralRpm = 0;
    this.proportionalRpm = 0;
    this.indexSeen = false;
  }

  /** Moves the ramp on by `dtS` and gives the drive's command for that time, null for off. */
  step(dtS: number): number | null {
    if (!this.on) return null;
    const before = this.reachedRpm;
    const change = Math.min(Math.abs(this.goalRpm - before), this.rampRpmPerS * dtS);
    this.reachedRpm = before + Math.sign(this.goalRpm - before) * change;
    if (this.reachedRpm === 0 && this.goalRpm === 0) {
      this.off();
      return null;
    }
    const middle = (before + this.reachedRpm) / 2;
    this.expectedTurns += (middle / 60) * dtS;
    const acceleration = ((this.reachedRpm - before) / dtS) * RAD_S_PER_RPM;
    const { inertiaKgM2, dragNm, dragNmPerRadS, torqueNmPerRadS } = NAMEPLATE;
    const torque = inertiaKgM2 * acceleration + dragNm + dragNmPerRadS * middle * RAD_S_PER_RPM;
    const slipRpm = torque / torqueNmPerRadS / RAD_S_PER_RPM;
    const command = middle + slipRpm + this.proportionalRpm + this.integralRpm;
    return Math.min(Math.max(command / this.fullRpm, 0), 1);
  }

  /**
   * An index pulse `agoS` before the end of the last step, `turnS` after the one before (0: unknown).
   * The error is one turn less the turns that the target made meanwhile, so that it is exact on ramps too.
   */
  index(turnS: number, agoS: number): void {
    const since = (this.reachedRpm / 60) * agoS;
    const expected = this.expectedTurns - since;
    this.expectedTurns = since;
    const known = this.indexSeen && turnS > 0;
    this.indexSeen = true;
    if (!known || !this.on) return;
    const errorRpm = ((expected - 1) / turnS) * 60;
    const share = 1 - Math.exp(-turnS / SETTLING_S);
    this.integralRpm += INTEGRAL_SHARE * share * errorRpm;
    this.proportionalRpm = PROPORTIONAL_SHARE * share * errorRpm;
  }
}
