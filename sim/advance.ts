// Where the advance of the simulated unit comes from: the moving mechanism, or tables followed exactly.
import type { CapsuleMotion } from "./capsule.ts";
import type { CentrifugalMotion } from "./weights.ts";

const RPM_PER_RAD_S = 30 / Math.PI;

/** One step of the plant as the mechanism feels it. Speeds are the shaft's without ripple. */
export interface AdvanceStep {
  dtS: number;
  startRadS: number;
  endRadS: number;
  /** Vacuum in the line, pascals below ambient. */
  startPa: number;
  endPa: number;
  /** 1 where the shaft turns the way the unit is made for, −1 the other way. */
  sense: 1 | -1;
}

/** Advance in distributor degrees against the unit's own rotation, whichever way the shaft turns. */
export interface AdvanceSource {
  step(step: Readonly<AdvanceStep>): void;
  /**
   * Advance at a share (0 to 1) of the last step, of the flanks that fire (`role` 0) or of the
   * others (1).
   */
  advanceDegAt(share: number, role: number): number;
  /** The part of it by which capsules have turned the breaker plate. */
  plateDegAt(share: number): number;
}

/** Points (x, degrees) in ascending x: linear between, end values held. */
export class Table {
  private readonly x: Float64Array;
  private readonly deg: Float64Array;
  private cell = 0;

  constructor(points: readonly (readonly [number, number])[]) {
    this.x = Float64Array.from(points, (point) => point[0]);
    this.deg = Float64Array.from(points, (point) => point[1]);
  }

  at(x: number): number {
    const { x: xs, deg } = this;
    const last = xs.length - 1;
    if (x <= (xs[0] as number)) return deg[0] as number;
    if (x >= (xs[last] as number)) return deg[last] as number;
    // Asked for neighbouring values again and again, so the search starts where the last one ended.
    let { cell } = this;
    while (x < (xs[cell] as number)) cell--;
    while (x > (xs[cell + 1] as number)) cell++;
    this.cell = cell;
    const from = xs[cell] as number;
    const share = (x - from) / ((xs[cell + 1] as number) - from);
    return (deg[cell] as number) + share * ((deg[cell + 1] as number) - (deg[cell] as number));
  }
}

/** Follows tables of advance over distributor rpm and over vacuum in pascals; nothing else moves it. */
export class TableAdvance implements AdvanceSource {
  private readonly speed: Table | null;
  private readonly vacuum: Table | null;
  private startRpm = 0;
  private endRpm = 0;
  private startPa = 0;
  private endPa = 0;

  constructor(speed: Table | null, vacuum: Table | null) {
    this.speed = speed;
    this.vacuum = vacuum;
  }

  step(step: Readonly<AdvanceStep>): void {
    this.startRpm = step.startRadS * RPM_PER_RAD_S;
    this.endRpm = step.endRadS * RPM_PER_RAD_S;
    this.startPa = step.startPa;
    this.endPa = step.endPa;
  }

  advanceDegAt(share: number): number {
    const { speed, startRpm } = this;
    const bySpeed = speed === null ? 0 : speed.at(startRpm + share * (this.endRpm - startRpm));
    return bySpeed + this.plateDegAt(share);
  }

  plateDegAt(share: number): number {
    const { vacuum, startPa } = this;
    return vacuum === null ? 0 : vacuum.at(startPa + share * (this.endPa - startPa));
  }
}

/** Weights turn the cam, the capsule on the line turns the breaker plate; the two add. */
export class GeometricAdvance implements AdvanceSource {
  private readonly weights: CentrifugalMotion;
  private readonly capsules: readonly CapsuleMotion[];
  private onLine = 0;
  private startDeg = 0;
  private endDeg = 0;
  private startPlateDeg = 0;
  private endPlateDeg = 0;

  constructor(weights: CentrifugalMotion, capsules: readonly CapsuleMotion[]) {
    this.weights = weights;
    this.capsules = capsules;
    this.endPlateDeg = this.plate();
    this.endDeg = this.total();
  }

  /** Puts the vacuum line's hose on another capsule; the rest are open to ambient. */
  connectCapsule(index: number): void {
    this.onLine = index;
  }

  step(step: Readonly<AdvanceStep>): void {
    this.startDeg = this.endDeg;
    this.startPlateDeg = this.endPlateDeg;
    this.weights.step(step.dtS, step.endRadS, step.sense);
    const { capsules } = this;
    for (let i = 0; i < capsules.length; i++) {
      (capsules[i] as CapsuleMotion).step(step.dtS, i === this.onLine ? step.endPa : 0);
    }
    this.endPlateDeg = this.plate();
    this.endDeg = this.total();
  }

  advanceDegAt(share: number): number {
    return this.startDeg + share * (this.endDeg - this.startDeg);
  }

  plateDegAt(share: number): number {
    return this.startPlateDeg + share * (this.endPlateDeg - this.startPlateDeg);
  }

  private plate(): number {
    let deg = 0;
    for (const capsule of this.capsules) deg += capsule.advanceDeg;
    return deg;
  }

  private total(): number {
    let deg = this.weights.advanceDeg;
    for (const capsule of this.capsules) deg += capsule.advanceDeg;
    return deg;
  }
}
