// The measuring itself: reference, hold test, vacuum sweep, speed sweep, return.

import { Measurements } from "../../core/angles/measurements.ts";
import type { Span } from "../../core/angles/runLog.ts";
import type { FinalDocument, Reading } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { holdFrom, holdSeconds } from "../../core/hold.ts";
import {
  type CapsulePlan,
  type HoldPlan,
  type Plan,
  repeatsWithinDeg,
  type SweepChoice,
  turnsAt,
} from "../../core/plan.ts";
import { mayTurnBackwards } from "../../core/rotation.ts";
import { said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import { Choosing, type ChosenReading } from "./choosing.ts";
import { chosenSpeeds, chosenVacuums } from "./chosenAxes.ts";
import { approachSpeed, collectTurns, goToSpeed, goToVacuum, settle, vent } from "./moves.ts";
import type { Narrator, Station } from "./narrator.ts";
import { referenceTurns } from "./reference.ts";
import { type Rig, send } from "./rig.ts";

export class Course {
  private readonly rig: Rig;
  private readonly plan: Plan;
  private readonly unit: Unit;
  private readonly narrator: Narrator;
  private readonly scheduler: Scheduler;
  private found: Measurements | null = null;
  private readonly bySpeed: Reading[] = [];

  constructor(rig: Rig, plan: Plan, unit: Unit, narrator: Narrator, scheduler: Scheduler) {
    this.rig = rig;
    this.plan = plan;
    this.unit = unit;
    this.narrator = narrator;
    this.scheduler = scheduler;
  }

  /** Null until the reference has been taken. */
  get measurements(): Measurements | null {
    return this.found;
  }

  /** All readings so far as the whole run lets them be known; null without any. */
  final(): FinalDocument | null {
    const final = this.found?.final() ?? null;
    return final === null ? null : { type: "final", ...final };
  }

  /** @throws what a move throws, ROTATION_DOUBTFUL, NO_SPARKS, LOBES_UNKNOWN, and what interrupted the run */
  async measure(): Promise<void> {
    await this.takeReference();
    for (const [index, capsule] of this.plan.capsules.entries()) {
      await this.measureCapsule(index, capsule);
    }
    await this.sweepSpeed();
    await this.readSpeed({ sweep: "return", ...this.still() });
  }

  /** The reference condition as a place. */
  private still(): Omit<Station, "sweep"> {
    return { capsule: null, branch: null, targetRpm: this.plan.referenceRpm, targetPa: null };
  }

  private async takeReference(): Promise<void> {
    const { rig, plan, unit, narrator } = this;
    narrator.step("reference", this.still());
    await goToSpeed(rig, plan.referenceRpm);
    await settle(rig);
    const { span, anglesDeg } = await referenceTurns(rig, plan, unit);
    this.found = new Measurements(unit, rig.knowledge, rig.watch.log, anglesDeg);
    // The reference point, zero by definition.
    const station: Station = { sweep: "reference", ...this.still() };
    narrator.reading(station, this.reading(span, station));
  }

  private async measureCapsule(index: number, capsule: CapsulePlan): Promise<void> {
    const { rig } = this;
    if (capsule.hold === null && capsule.vacuumsPa.length === 0) return;
    await goToSpeed(rig, this.plan.vacuumSweepRpm);
    if (capsule.hold !== null) await this.holdTest(index, capsule.hold);
    await vent(rig);
    if (capsule.vacuumChoice === undefined) await this.sweepVacuums(index, capsule);
    else await this.chooseVacuums(index, capsule, capsule.vacuumChoice);
    await vent(rig);
  }

  private async chooseVacuums(
    index: number,
    { vacuumsPa }: CapsulePlan,
    choice: SweepChoice,
  ): Promise<void> {
    const { rig, narrator, scheduler } = this;
    const on = chosenVacuums(rig, vacuumsPa.at(-1) ?? 0, (branch, targetPa) =>
      this.readVacuum(index, branch, targetPa),
    );
    await new Choosing(on, vacuumsPa, choice, narrator, scheduler).sweep();
  }

  private async sweepVacuums(index: number, capsule: CapsulePlan): Promise<void> {
    const { narrator } = this;
    const rose: number[] = [];
    for (const targetPa of capsule.vacuumsPa) {
      const { reached } = await this.readVacuum(index, "rising", targetPa);
      if (!reached) {
        // This one was read; left out are those above it, up and down, and itself on the way down.
        narrator.passed(2 * (capsule.vacuumsPa.length - rose.length) - 1);
        break;
      }
      rose.push(targetPa);
    }
    for (const targetPa of rose.reverse()) await this.readVacuum(index, "falling", targetPa);
  }

  private async readVacuum(
    capsule: number,
    branch: Branch,
    targetPa: number,
  ): Promise<ChosenReading> {
    const { rig, plan, narrator } = this;
    const targetRpm = plan.vacuumSweepRpm;
    const station: Station = { sweep: "vacuum", capsule, branch, targetRpm, targetPa };
    const { sweep, ...at } = station;
    narrator.step("vacuum", at);
    rig.live.aim(targetRpm, targetPa);
    const { reached, vacuumPa } = await goToVacuum(rig, targetPa);
    await settle(rig);
    const span = await collectTurns(
      rig,
      turnsAt(plan, targetRpm),
      targetRpm,
      repeatsWithinDeg(plan, plan.capsules[capsule]?.vacuumChoice),
    );
    const reading = this.reading(span, station);
    narrator.reading(station, reading);
    if (!reached && branch === "rising") {
      narrator.notice(
        "VACUUM_NOT_REACHED",
        said(
          "The vacuum stayed at {.1} kPa where {.1} kPa were asked for; higher ones are left out.",
          vacuumPa / 1000,
          targetPa / 1000,
        ),
      );
    }
    return { reading, reached };
  }

  private async holdTest(capsule: number, hold: HoldPlan): Promise<void> {
    const { rig, narrator } = this;
    const { watch } = rig;
    const targetRpm = this.plan.vacuumSweepRpm;
    narrator.step("hold", { capsule, branch: null, targetRpm, targetPa: hold.vacuumPa });
    rig.live.aim(targetRpm, hold.vacuumPa);
    const { reached, pumpEffort } = await goToVacuum(rig, hold.vacuumPa);
    await send(rig, { type: "hold", token: rig.token });
    watch.forgetVacuums();
    const totalS = hold.settleS + hold.seconds;
    await watch.until(
      () => (holdSeconds(watch.vacuums, rig.tickHz) >= totalS ? true : undefined),
      totalS * 1000 + 2000,
    );
    const traced = holdFrom(watch.vacuums, hold, rig.tickHz);
    if (traced === null)
      throw new BobweightError("RIG_SENSOR", said("No vacuum lines came in the hold test."));
    narrator.append({
      type: "hold",
      capsule,
      targetPa: hold.vacuumPa,
      reached,
      pumpEffort,
      ...traced,
    });
    narrator.passed();
  }

  private async sweepSpeed(): Promise<void> {
    const { speedsRpm, speedChoice, referenceRpm } = this.plan;
    if (speedsRpm.length === 0) return;
    // The first rising reading is to be approached from below.
    await goToSpeed(this.rig, referenceRpm);
    const station = (branch: Branch, targetRpm: number): Station => ({
      sweep: "speed",
      capsule: null,
      branch,
      targetRpm,
      targetPa: null,
    });
    if (speedChoice !== undefined) {
      const { rig, plan, narrator, scheduler } = this;
      const on = chosenSpeeds(
        rig,
        plan,
        (branch, speedRpm) => this.readSpeed(station(branch, speedRpm)),
        () => this.found?.beginWay(),
      );
      await new Choosing(on, speedsRpm, speedChoice, narrator, scheduler).sweep();
      return;
    }
    for (const speedRpm of speedsRpm) await this.readSpeed(station("rising", speedRpm));
    for (const speedRpm of [...speedsRpm].reverse()) {
      await this.readSpeed(station("falling", speedRpm));
    }
  }

  private async readSpeed(station: Station): Promise<Reading | null> {
    const { rig, plan, narrator } = this;
    const { sweep, ...at } = station;
    const { targetRpm } = station;
    narrator.step(sweep === "speed" ? "speed" : "return", at);
    rig.live.aim(targetRpm, null);
    await approachSpeed(rig, targetRpm);
    await settle(rig);
    const span = await collectTurns(
      rig,
      turnsAt(plan, targetRpm),
      targetRpm,
      sweep === "speed" ? repeatsWithinDeg(plan, plan.speedChoice) : null,
    );
    const reading = this.reading(span, station);
    narrator.reading(station, reading);
    if (sweep !== "speed" || reading === null) return reading;
    this.bySpeed.push(reading);
    if (mayTurnBackwards(this.bySpeed, plan.referenceRpm)) {
      throw new BobweightError(
        "ROTATION_DOUBTFUL",
        said(
          "At {} rpm the spark comes {.1}° (distributor) later than at the reference speed.",
          targetRpm,
          -reading.advanceDeg,
        ),
      );
    }
    return reading;
  }

  private reading(span: Span, station: Station): Reading | null {
    return this.found?.add(span, station) ?? null;
  }
}
