// The measuring itself: reference, hold test, vacuum sweep, speed sweep, return.
import { findLobes, firingEvents, LobeTracker, type TrackedTurn } from "../../core/angles/lobes.ts";
import {
  type Reference,
  type RigErrors,
  readingFrom,
  referenceFrom,
  vacuumsWithin,
} from "../../core/angles/reading.ts";
import type { Reading } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import { type CapsulePlan, type HoldPlan, type Plan, turnsAt } from "../../core/plan.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import {
  collectTurns,
  goToSpeed,
  goToVacuum,
  type Rig,
  send,
  settle,
  type VacuumReached,
  vent,
} from "./moves.ts";
import type { Narrator, Station } from "./narrator.ts";

/** Below this in the speed sweep a sound unit may be turning the wrong way round. */
const RETARD_LIMIT_DEG = -2;
const HOLD_TRACE_ENTRIES_MAX = 300;

export class Course {
  private readonly rig: Rig;
  private readonly plan: Plan;
  private readonly unit: Unit;
  private readonly errors: RigErrors;
  private readonly narrator: Narrator;
  private readonly scheduler: Scheduler;
  private found: Reference | null = null;

  constructor(
    rig: Rig,
    plan: Plan,
    unit: Unit,
    errors: RigErrors,
    narrator: Narrator,
    scheduler: Scheduler,
  ) {
    this.rig = rig;
    this.plan = plan;
    this.unit = unit;
    this.errors = errors;
    this.narrator = narrator;
    this.scheduler = scheduler;
  }

  /** Null until the reference has been taken. */
  get reference(): Reference | null {
    return this.found;
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
    const { firingEdge } = unit.trigger;
    narrator.step("reference", this.still());
    await goToSpeed(rig, plan.referenceRpm);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(plan, plan.referenceRpm), plan.referenceRpm);
    const rough = findLobes(
      turns.map(({ turn }) => firingEvents(turn, firingEdge, null).anglesDeg),
      unit.lobeAnglesDeg,
    );
    if (!rough.found) throw lobesUnknown(rough.eventsPerTurn, unit);
    const tracked = (anglesDeg: readonly number[]) => {
      const tracker = new LobeTracker(anglesDeg, firingEdge);
      return turns.map(({ turn }) => tracker.track(turn));
    };
    const reference = referenceFrom(rough.anglesDeg, tracked(rough.anglesDeg), this.errors);
    this.found = reference;
    rig.watch.trackFrom(reference.anglesDeg);
    // The same turns again, now against their own mean: the reference point, zero by definition.
    const reading = this.reading(tracked(reference.anglesDeg));
    narrator.reading({ sweep: "reference", ...this.still() }, reading);
  }

  private async measureCapsule(index: number, capsule: CapsulePlan): Promise<void> {
    const { rig, narrator } = this;
    if (capsule.hold === null && capsule.vacuumsPa.length === 0) return;
    await goToSpeed(rig, this.plan.vacuumSweepRpm);
    if (capsule.hold !== null) await this.holdTest(index, capsule.hold);
    await vent(rig);
    const rose: number[] = [];
    for (const targetPa of capsule.vacuumsPa) {
      const { reached, vacuumPa } = await this.readVacuum(index, "rising", targetPa);
      if (!reached) {
        narrator.notice(
          "VACUUM_NOT_REACHED",
          `The vacuum stayed at ${kPa(vacuumPa)} kPa where ${kPa(targetPa)} kPa were asked for; higher ones are left out.`,
        );
        // This one was read; left out are those above it, up and down, and itself on the way down.
        narrator.passed(2 * (capsule.vacuumsPa.length - rose.length) - 1);
        break;
      }
      rose.push(targetPa);
    }
    for (const targetPa of rose.reverse()) await this.readVacuum(index, "falling", targetPa);
    await vent(rig);
  }

  private async readVacuum(
    capsule: number,
    branch: Branch,
    targetPa: number,
  ): Promise<VacuumReached> {
    const { rig, plan, narrator } = this;
    const targetRpm = plan.vacuumSweepRpm;
    const station: Station = { sweep: "vacuum", capsule, branch, targetRpm, targetPa };
    const { sweep, ...at } = station;
    narrator.step("vacuum", at);
    rig.live.aim(targetRpm, targetPa);
    const reached = await goToVacuum(rig, targetPa);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(plan, targetRpm), targetRpm);
    narrator.reading(station, this.reading(turns));
    return reached;
  }

  private async holdTest(capsule: number, hold: HoldPlan): Promise<void> {
    const { rig, narrator, scheduler } = this;
    const { watch } = rig;
    const targetRpm = this.plan.vacuumSweepRpm;
    narrator.step("hold", { capsule, branch: null, targetRpm, targetPa: hold.vacuumPa });
    rig.live.aim(targetRpm, hold.vacuumPa);
    const before = await goToVacuum(rig, hold.vacuumPa);
    await send(rig, { type: "hold", token: rig.token });
    const startedMs = scheduler.nowMs();
    watch.forgetVacuums();
    const totalS = hold.settleS + hold.seconds;
    const trace: [number, number][] = [];
    let startPa: number | null = null;
    let endPa = before.vacuumPa;
    await watch.until(
      () => {
        const last = watch.vacuums[watch.vacuums.length - 1];
        if (last === undefined) return undefined;
        const atS = (scheduler.nowMs() - startedMs) / 1000;
        endPa = last.vacuumPa;
        const lastEntryS = trace[trace.length - 1]?.[0] ?? Number.NEGATIVE_INFINITY;
        if (atS - lastEntryS >= totalS / HOLD_TRACE_ENTRIES_MAX) trace.push([atS, last.vacuumPa]);
        if (atS >= hold.settleS) startPa ??= last.vacuumPa;
        return atS >= totalS ? true : undefined;
      },
      totalS * 1000 + 1000,
    );
    narrator.append({
      type: "hold",
      capsule,
      targetPa: hold.vacuumPa,
      reached: before.reached,
      startPa: startPa ?? endPa,
      endPa,
      seconds: hold.seconds,
      pumpEffort: before.pumpEffort,
      trace,
    });
    narrator.passed();
  }

  private async sweepSpeed(): Promise<void> {
    const { speedsRpm, referenceRpm } = this.plan;
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
    for (const speedRpm of speedsRpm) await this.readSpeed(station("rising", speedRpm));
    for (const speedRpm of [...speedsRpm].reverse()) {
      await this.readSpeed(station("falling", speedRpm));
    }
  }

  private async readSpeed(station: Station): Promise<void> {
    const { rig, plan, narrator } = this;
    const { sweep, ...at } = station;
    const { targetRpm } = station;
    narrator.step(sweep === "speed" ? "speed" : "return", at);
    rig.live.aim(targetRpm, null);
    await goToSpeed(rig, targetRpm);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(plan, targetRpm), targetRpm);
    const reading = this.reading(turns);
    narrator.reading(station, reading);
    if (sweep === "speed" && reading !== null && reading.advanceDeg < RETARD_LIMIT_DEG) {
      throw new BobweightError(
        "ROTATION_DOUBTFUL",
        `At ${targetRpm} rpm the spark comes ${(-reading.advanceDeg).toFixed(1)}° (distributor) later than at the reference speed.`,
      );
    }
  }

  private reading(turns: readonly TrackedTurn[]): Reading | null {
    const { unit, errors, rig } = this;
    const first = turns[0]?.turn;
    const last = turns[turns.length - 1]?.turn;
    if (first === undefined || last === undefined || this.found === null) return null;
    const toTick = (last.indexTick + last.duringTicks) % 2 ** 32;
    return readingFrom(
      turns,
      this.found,
      unit.lobeAnglesDeg,
      vacuumsWithin(rig.watch.vacuums, first.indexTick, toTick),
      errors,
      unit.trigger.kind === "contacts",
    );
  }
}

/** NO_SPARKS or LOBES_UNKNOWN, by what came instead of the unit's lobes. */
export function lobesUnknown(eventsPerTurn: number, unit: Unit): BobweightError {
  if (eventsPerTurn === 0) {
    return new BobweightError("NO_SPARKS", "The spindle turns, but no firing edge comes.");
  }
  return new BobweightError(
    "LOBES_UNKNOWN",
    `The unit file says ${unit.lobeAnglesDeg.length} lobes; ${eventsPerTurn.toFixed(1)} firing edges a turn came, or not at these angles.`,
  );
}

function kPa(vacuumPa: number): string {
  return (vacuumPa / 1000).toFixed(1);
}
