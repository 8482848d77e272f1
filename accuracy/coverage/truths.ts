// The truth behind each figure of one run: the scenario's physics under the conditions the figure names.
import type { HoldDocument, Reading, RunDocument, StartDocument } from "../../core/documents.ts";
import type { Scenario } from "../../sim/scenario.ts";
import {
  type Branch,
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  dwellsDeg,
  lobeDeviationsDeg,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import { VacuumLine } from "../../sim/vacuumLine.ts";
import { mean } from "../lockedCam.ts";
import type { StandInRun } from "../standIn.ts";
import { capsuleStartPa, installedCapsule } from "../truth.ts";

const HOLD_STEP_S = 0.01;
/** Beyond every stop and every capsule's end. */
const MOST_RPM = 10_000;
const MOST_PA = 100_000;

export class Truths {
  readonly scenario: Scenario;
  readonly run: StandInRun;
  readonly plan: StartDocument["plan"];
  /** As the run knew them in the end. */
  readonly readings: readonly Reading[];
  /** Largest cam advance and largest plate travel, the second as a size. */
  readonly stopDeg: number;
  readonly plateDeg: number;
  private readonly highestRpm: number;
  private readonly zeroDeg: number;

  constructor(scenario: Scenario, run: StandInRun) {
    this.scenario = scenario;
    this.run = run;
    const start = run.documents.find((document) => document.type === "start");
    if (start === undefined) throw new Error("the run has no start document");
    this.plan = start.plan;
    this.readings = finalReadings(run.documents);
    this.stopDeg = centrifugalAdvanceDeg(scenario, MOST_RPM, "rising");
    this.plateDeg = Math.abs(vacuumAdvanceDeg(scenario, MOST_PA, "rising"));
    this.highestRpm = Math.max(...start.plan.speedsRpm);
    this.zeroDeg = centrifugalAdvanceDeg(scenario, start.plan.referenceRpm, "rising");
  }

  /** Cam against its rest. */
  camDeg(rpm: number, branch: Branch): number {
    return centrifugalAdvanceDeg(this.scenario, rpm, branch, this.highestRpm);
  }

  /** Counted from the reference, as the product counts it. */
  advanceDeg(rpm: number, branch: Branch): number {
    return this.camDeg(rpm, branch) - this.zeroDeg;
  }

  vacuumAdvanceDeg(vacuumPa: number, branch: Branch): number {
    return vacuumAdvanceDeg(this.scenario, vacuumPa, branch);
  }

  /** Null where the weights have left their rest at the reference already. */
  startRpm(branch: Branch): number | null {
    const rpm = centrifugalStartRpm(this.scenario, branch);
    return rpm === null || rpm <= this.plan.referenceRpm ? null : rpm;
  }

  startPa(branch: Branch): number | null {
    const capsule = installedCapsule(this.scenario);
    return capsule === null ? null : capsuleStartPa(capsule, branch);
  }

  /** Mean of the lobes. */
  get dwellDeg(): number {
    return mean(dwellsDeg(this.scenario).map(({ dwellDeg }) => dwellDeg));
  }

  get scatterDeg(): number {
    return Math.max(
      ...lobeDeviationsDeg(this.scenario).map(({ deviationDeg }) => Math.abs(deviationDeg)),
    );
  }

  /** Over the turns of a reading: the clock is all that can mislead, its ends' jitter apart. */
  speedRpm({ speedRpm }: Reading): number {
    return speedRpm * (1 + this.scenario.rig.tickErrorPpm * 1e-6);
  }

  /** How far the vacuum truly fell while the clock ran, in pascals; null without a hold test. */
  heldDropPa(): number | null {
    const hold = this.run.documents.find(
      (document): document is HoldDocument => document.type === "hold",
    );
    const capsule = installedCapsule(this.scenario);
    if (hold === undefined || capsule === null) return null;
    const { rig } = this.scenario;
    const line = new VacuumLine(rig);
    const startPa = (hold.startPa - rig.sensorOffsetPa) / rig.sensorGain;
    line.vacuumPa = startPa;
    const steps = Math.round(hold.seconds / HOLD_STEP_S);
    for (let i = 0; i < steps; i++) line.step(HOLD_STEP_S, "hold", 0, 0, capsule.leaks);
    return startPa - line.vacuumPa;
  }
}

function finalReadings(documents: readonly RunDocument[]): readonly Reading[] {
  const final = documents.find((document) => document.type === "final");
  if (final === undefined) throw new Error("the run has no final readings");
  return final.readings;
}
