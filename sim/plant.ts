// The bench rig and the unit on it as physics: takes drive, pump and valve, gives edges and readings.
import {
  type AdvanceSource,
  type AdvanceStep,
  GeometricAdvance,
  Table,
  TableAdvance,
} from "./advance.ts";
import { type Flanks, flanks } from "./cam.ts";
import { CapsuleMotion, type Leak } from "./capsule.ts";
import { Drive, NAMEPLATE } from "./drive.ts";
import type { Mechanism } from "./faultyMechanism.ts";
import { installedMechanism } from "./installedUnit.ts";
import { trueFlanks } from "./lobes.ts";
import { Random } from "./random.ts";
import type { Scenario } from "./scenario.ts";
import { type Edges, Shaft } from "./shaft.ts";
import { hasShifts, ShiftedAdvance } from "./shiftedAdvance.ts";
import { changesTrigger, TriggerInput } from "./triggerInput.ts";
import { VacuumLine, type Valve } from "./vacuumLine.ts";
import { CentrifugalMotion } from "./weights.ts";

const JITTER_STREAM = 1;
const SENSOR_STREAM = 2;
export const RPM_PER_RAD_S = 30 / Math.PI;

/** What a board sets. */
export interface PlantInputs {
  /** Share of the motor's full speed, or null with the drive switched off. */
  drive: number | null;
  direction: "cw" | "ccw";
  pump: number;
  bleed: number;
  valve: Valve;
}

export class Plant {
  readonly inputs: PlantInputs = {
    drive: null,
    direction: "cw",
    pump: 0,
    bleed: 0,
    valve: "vent",
  };
  readonly motor: Drive;
  guardShut = true;
  stopPressed = false;
  sensorFailed = false;
  timeS = 0;
  private readonly line: VacuumLine;
  private readonly shaft: Shaft;
  private readonly mechanism: AdvanceSource;
  /** The mechanism as the trigger shows it. */
  private readonly advance: AdvanceSource;
  /** Null where edges reach the board as they are. */
  private readonly input: TriggerInput | null;
  private readonly leaks: readonly (readonly Leak[])[];
  private readonly sensorRandom: Random;
  private readonly noisePa: number;
  private readonly sensorGain: number;
  private readonly sensorOffsetPa: number;
  private readonly flanksBy: Readonly<Record<"cw" | "ccw", Flanks>>;
  private readonly rotation: "cw" | "ccw";
  private readonly now: AdvanceStep;
  private turning: "cw" | "ccw";
  private onLine = 0;

  constructor(scenario: Scenario) {
    const { unit, rig, seed } = scenario;
    const mechanism = installedMechanism(scenario);
    this.mechanism = advanceOf(scenario, mechanism);
    this.advance = hasShifts(scenario.pulses)
      ? new ShiftedAdvance(this.mechanism, scenario.pulses, unit.firingEdge)
      : this.mechanism;
    this.input = changesTrigger(scenario) ? new TriggerInput(scenario) : null;
    this.leaks = mechanism === null ? [] : mechanism.capsules.map(({ leaks }) => leaks);
    this.rotation = unit.rotation;
    this.turning = unit.rotation;
    const places = trueFlanks(scenario);
    const right = flanks(places, rig.couplingDeg, 1);
    const wrong = flanks(places, rig.couplingDeg, -1);
    this.flanksBy = unit.rotation === "cw" ? { cw: right, ccw: wrong } : { cw: wrong, ccw: right };
    this.shaft = new Shaft(scenario, this.advance, right, new Random(seed, JITTER_STREAM));
    this.line = new VacuumLine(rig);
    this.motor = new Drive(rig.dragNm, fullRadS(rig.speedMaxRpm));
    this.sensorRandom = new Random(seed, SENSOR_STREAM);
    this.noisePa = rig.sensorNoisePa;
    this.sensorGain = rig.sensorGain;
    this.sensorOffsetPa = rig.sensorOffsetPa;
    this.now = { dtS: 0, startRadS: 0, endRadS: 0, startPa: 0, endPa: 0, sense: 1 };
  }

  /** Pickup edges of the last step. */
  get pickup(): Edges {
    return this.shaft.pickup;
  }

  /** Trigger edges that came in the last step; delay and jitter may set their times across or later. */
  get trigger(): Edges {
    return this.input === null ? this.shaft.trigger : this.input.sensed;
  }

  /** Mean speed, without ripple. */
  get speedRpm(): number {
    return this.motor.speedRadS * RPM_PER_RAD_S;
  }

  /** True vacuum in the line, pascals below ambient. */
  get vacuumPa(): number {
    return this.line.vacuumPa;
  }

  /** Advance of cam and plate at the end of the last step, distributor degrees. */
  get advanceDeg(): number {
    return this.mechanism.advanceDegAt(1, 0);
  }

  /** The part of it by which capsules have turned the breaker plate. */
  get plateDeg(): number {
    return this.mechanism.plateDegAt(1);
  }

  /** The sensor's reading now in pascals below ambient, or null outside its electrical range. */
  readVacuumPa(): number | null {
    if (this.sensorFailed) return null;
    const noise = this.noisePa > 0 ? this.noisePa * this.sensorRandom.normal() : 0;
    return this.sensorGain * this.line.vacuumPa + this.sensorOffsetPa + noise;
  }

  /** Puts the line's hose on another capsule, as the operator would; the rest are open to ambient. */
  connectCapsule(index: number): void {
    this.onLine = index;
    if (this.mechanism instanceof GeometricAdvance) this.mechanism.connectCapsule(index);
  }

  /** At most 1 ms forward. */
  step(dtS: number): void {
    const { inputs, motor, line, now } = this;
    if (motor.speedRadS === 0 && inputs.direction !== this.turning) this.turnAbout();
    const omega = motor.speedRadS;
    // Told to turn the other way while it still creeps, the motor brakes first.
    const drive = inputs.direction === this.turning ? inputs.drive : 0;
    const acceleration = motor.accelerationRadS2(drive, dtS);
    motor.speedRadS = Math.max(0, omega + acceleration * dtS);
    now.dtS = dtS;
    now.startRadS = omega;
    now.endRadS = motor.speedRadS;
    now.startPa = line.vacuumPa;
    line.step(dtS, inputs.valve, inputs.pump, inputs.bleed, this.leaks[this.onLine] ?? []);
    now.endPa = line.vacuumPa;
    this.advance.step(now);
    this.shaft.step(this.timeS, dtS, omega, acceleration);
    this.timeS += dtS;
    this.input?.step(this.shaft, this.timeS, this.speedRpm, this.plateDeg);
  }

  private turnAbout(): void {
    const { direction } = this.inputs;
    this.turning = direction;
    this.now.sense = direction === this.rotation ? 1 : -1;
    this.shaft.turnAbout(this.now.sense, this.flanksBy[direction]);
  }
}

/** The motor's full speed in rad/s on a rig that holds up to `speedMaxRpm`. */
export function fullRadS(speedMaxRpm: number): number {
  return (NAMEPLATE.fullCommandRatio * speedMaxRpm) / RPM_PER_RAD_S;
}

function advanceOf({ mechanism }: Scenario, built: Mechanism | null): AdvanceSource {
  if (built !== null) {
    return new GeometricAdvance(
      new CentrifugalMotion(built.centrifugal),
      built.capsules.map((capsule) => new CapsuleMotion(capsule)),
    );
  }
  const { speedTable, vacuumTable } = "weights" in mechanism ? {} : mechanism;
  const pascals = vacuumTable?.map(([kPa, deg]) => [kPa * 1000, deg] as const);
  return new TableAdvance(
    speedTable === undefined ? null : new Table(speedTable),
    pascals === undefined ? null : new Table(pascals),
  );
}
