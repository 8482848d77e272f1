// The motor with its belt and the spindle's inertia. Speeds here are without ripple.

/** The motor's nameplate, which whoever writes the board's speed control also has. */
export const NAMEPLATE = {
  inertiaKgM2: 0.003,
  /** Standing drag of bearings and belt, and its growth with speed. */
  dragNm: 0.15,
  dragNmPerRadS: 1e-4,
  /** Torque for each rad/s by which the speed falls short of the one commanded. */
  torqueNmPerRadS: 0.075,
  torqueLimitNm: 1.2,
  /** Full command is this times the rig's highest speed. */
  fullCommandRatio: 1.4,
} as const;

/** A jammed spindle loses its speed at this rate. */
const JAM_RAD_S2 = 5000;

export class Drive {
  /** Speed of the spindle, never negative; which way it turns is the plant's matter. */
  speedRadS = 0;
  jammed = false;
  runsAway = false;
  private readonly dragNm: number;
  private readonly fullRadS: number;

  constructor(dragNm: number, fullRadS: number) {
    this.dragNm = dragNm;
    this.fullRadS = fullRadS;
  }

  /**
   * Acceleration over the next `dtS`, held constant, in rad/s². `command` is the commanded share
   * (0 to 1) of the motor's full speed, or null with the drive switched off.
   */
  accelerationRadS2(command: number | null, dtS: number): number {
    const { speedRadS } = this;
    // Drag and jam stop the spindle and never turn it round.
    const stopping = -speedRadS / dtS;
    if (this.jammed) return Math.max(-JAM_RAD_S2, stopping);
    const drag = this.dragNm + NAMEPLATE.dragNmPerRadS * speedRadS;
    const torque = this.torqueNm(command);
    if (speedRadS === 0 && torque <= drag) return 0;
    return Math.max((torque - drag) / NAMEPLATE.inertiaKgM2, stopping);
  }

  private torqueNm(command: number | null): number {
    if (command === null) return 0;
    const { torqueLimitNm, torqueNmPerRadS } = NAMEPLATE;
    if (this.runsAway) return torqueLimitNm;
    const torque = torqueNmPerRadS * (command * this.fullRadS - this.speedRadS);
    return Math.min(Math.max(torque, -torqueLimitNm), torqueLimitNm);
  }
}
