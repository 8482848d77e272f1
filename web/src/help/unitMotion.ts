// The unit's motion for drawings: taken slowly from where it stands to a speed or a vacuum, as a rig does it.
import { type Capsule, CapsuleMotion, type Leak } from "../../../sim/capsule.ts";
import type { CentrifugalUnit } from "../../../sim/mechanism.ts";
import { VacuumLine } from "../../../sim/vacuumLine.ts";
import { CentrifugalMotion } from "../../../sim/weights.ts";

/** x in rpm, pascals or seconds; y in degrees or pascals. */
export type Point = readonly [x: number, y: number];

export interface Branches {
  readonly rising: readonly Point[];
  readonly falling: readonly Point[];
}

export const SPEED_MAX_RPM = 2600;
const SPEED_EVERY_RPM = 20;
const SPEED_STEP_RPM = 0.5;
const SPEED_STEP_S = 0.001;
/** The part comes to rest on its friction by then. */
const SPEED_SETTLE_STEPS = 200;

/** Weights, springs and cam of a unit, in motion. */
export class WeightsRun {
  speedRpm = 0;
  private readonly motion: CentrifugalMotion;

  constructor(unit: CentrifugalUnit) {
    this.motion = new CentrifugalMotion(unit);
  }

  /** Advance in distributor degrees, at rest at that speed. */
  to(speedRpm: number): number {
    while (this.speedRpm !== speedRpm) {
      const missing = speedRpm - this.speedRpm;
      this.speedRpm += Math.sign(missing) * Math.min(Math.abs(missing), SPEED_STEP_RPM);
      this.step();
    }
    for (let i = 0; i < SPEED_SETTLE_STEPS; i++) this.step();
    return this.motion.advanceDeg;
  }

  private step(): void {
    this.motion.step(SPEED_STEP_S, (this.speedRpm * Math.PI) / 30, 1);
  }
}

export function speedCurve(unit: CentrifugalUnit): Branches {
  const run = new WeightsRun(unit);
  return upAndDown(SPEED_MAX_RPM, SPEED_EVERY_RPM, (rpm) => [rpm, run.to(rpm)]);
}

export const VACUUM_MAX_PA = 60_000;
const VACUUM_EVERY_PA = 1000;
const VACUUM_STEP_PA = 100;
const VACUUM_STEP_S = 0.01;
const VACUUM_SETTLE_STEPS = 20;

/** The stand-in rig's pump and line. */
const LINE = { lineVolumeMl: 250, ambientPa: 101_325, pumpFlowMlPerS: 300, pumpLimitPa: 85_000 };
const PUMP_S = 20;

/** The most the pump at full effort can draw against these leaks. */
export function reachablePa(leaks: readonly Leak[]): number {
  const line = new VacuumLine(LINE);
  for (let s = 0; s < PUMP_S; s += VACUUM_STEP_S) line.step(VACUUM_STEP_S, "control", 1, 0, leaks);
  return line.vacuumPa;
}

/** A capsule on the pump, in motion. */
export class CapsuleRun {
  /** What the capsule has, which a leak keeps below what is wanted of the pump. */
  vacuumPa = 0;
  private readonly motion: CapsuleMotion;
  private readonly mostPa: number;

  constructor(capsule: Capsule) {
    this.motion = new CapsuleMotion(capsule);
    this.mostPa = reachablePa(capsule.leaks);
  }

  /** The plate's advance in distributor degrees, at rest at that vacuum. */
  to(wantedPa: number): number {
    const goalPa = Math.min(wantedPa, this.mostPa);
    while (this.vacuumPa !== goalPa) {
      const missing = goalPa - this.vacuumPa;
      this.vacuumPa += Math.sign(missing) * Math.min(Math.abs(missing), VACUUM_STEP_PA);
      this.motion.step(VACUUM_STEP_S, this.vacuumPa);
    }
    for (let i = 0; i < VACUUM_SETTLE_STEPS; i++) this.motion.step(VACUUM_STEP_S, this.vacuumPa);
    return this.motion.advanceDeg;
  }
}

/** Over the vacuum that is in the capsule. */
export function vacuumCurve(capsule: Capsule): Branches {
  const run = new CapsuleRun(capsule);
  return upAndDown(VACUUM_MAX_PA, VACUUM_EVERY_PA, (wantedPa) => {
    const deg = run.to(wantedPa);
    return [run.vacuumPa, deg];
  });
}

export const HOLD_S = 15;
const HOLD_EVERY_S = 0.25;

/** The vacuum after the valve shut, from 50 kPa. */
export function holdTrace(leaks: readonly Leak[]): readonly Point[] {
  const line = new VacuumLine(LINE);
  line.vacuumPa = 50_000;
  const trace: Point[] = [[0, line.vacuumPa]];
  for (let s = HOLD_EVERY_S; s <= HOLD_S; s += HOLD_EVERY_S) {
    line.step(HOLD_EVERY_S, "hold", 0, 0, leaks);
    trace.push([s, line.vacuumPa]);
  }
  return trace;
}

function upAndDown(max: number, every: number, at: (x: number) => Point): Branches {
  const places = Array.from({ length: max / every + 1 }, (_, i) => i * every);
  const rising = places.map(at);
  return { rising, falling: places.reverse().map(at) };
}
