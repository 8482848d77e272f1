// Carries out a plan on a rig and tells what happens as a stream of documents. Whatever happens, it ends
// with the motor off, the line vented, and one end document.
import { findLobes, firingEvents, LobeTracker } from "../../core/angles/lobes.ts";
import {
  type Reference,
  type RigErrors,
  readingFrom,
  referenceFrom,
  vacuumsWithin,
} from "../../core/angles/reading.ts";
import type { Hello } from "../../core/codec/rigLines.ts";
import type {
  EndDocument,
  Ending,
  LinkCounts,
  PointDocument,
  Reading,
  RigDescription,
  RunDocument,
  StartDocument,
  StepDocument,
} from "../../core/documents.ts";
import { BobweightError, type ErrorCode } from "../../core/errors.ts";
import { judge } from "../../core/judge/result.ts";
import { type CapsulePlan, type HoldPlan, type Plan, turnsAt } from "../../core/plan.ts";
import { timeline } from "../../core/planFile.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import type { Branch, Unit } from "../../core/unit.ts";
import type { BytePort } from "../link/bytePort.ts";
import { RigLink } from "../link/rigLink.ts";
import { LiveFeed } from "./live.ts";
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
import { asBobweightError, Watch } from "./watch.ts";

/** Where a run's documents and raw bytes go. A throw ends the run with that error. */
export interface Recorder {
  readonly append: (document: MiddleDocument) => void;
  readonly raw: (bytes: Uint8Array) => void;
  /** Closes the record; nothing follows. */
  readonly end: (document: EndDocument) => void;
}

type MiddleDocument = Exclude<RunDocument, StartDocument | EndDocument>;

export interface RunSetup {
  readonly port: BytePort;
  readonly scheduler: Scheduler;
  readonly recordId: string;
  readonly engineVersion: string;
  readonly unit: Unit;
  readonly unitFile: unknown;
  /** Makes the plan for this rig and walks its limits; nothing has moved yet. @throws PLAN_BEYOND_LIMITS */
  readonly planFor: (hello: Hello) => Plan;
  readonly describeRig: (hello: Hello) => RigDescription;
  /** Opens the place where the record is kept, once the rig is known. */
  readonly record: (start: StartDocument) => Recorder;
  readonly emit: (document: RunDocument) => void;
  /** Milliseconds of rig time between live documents; null: none. */
  readonly liveEveryMs: number | null;
  /** Whether the controlling user's own sign of life is fresh. */
  readonly isFresh: () => boolean;
  readonly utcNow: () => string;
}

/** Below this in the speed sweep a sound unit may be turning the wrong way round. */
const RETARD_LIMIT_DEG = -2;
const HOLD_TRACE_ENTRIES_MAX = 300;
/** After the stop, how long the rig may take to report drive off. */
const AT_REST_LIMIT_MS = 1500;

const ENDINGS: Partial<Record<ErrorCode, Ending>> = {
  STOPPED_BY_USER: "stopped",
  STOPPED_PAGE_GONE: "stopped",
  ROTATION_DOUBTFUL: "stopped",
  NO_SPARKS: "stopped",
  LOBES_UNKNOWN: "stopped",
  STORE_FAILED: "stopped",
  BUG: "stopped",
  LINK_LOST: "link lost",
  RIG_REPLY_TIMEOUT: "link lost",
};

export class Run {
  private readonly setup: RunSetup;
  private readonly watch: Watch;
  private readonly link: RigLink;
  private readonly documents: RunDocument[] = [];
  private recorder: Recorder | null = null;
  private rig: Rig | null = null;
  private plan: Plan | null = null;
  private errors: RigErrors | null = null;
  private reference: Reference | null = null;
  private done = 0;
  /** Seconds of rig time after which each reading should be done. */
  private timeline: readonly number[] = [];
  private startMs = 0;
  private liveTimer: Timer | null = null;
  private live: LiveFeed | null = null;

  constructor(setup: RunSetup) {
    this.setup = setup;
    this.watch = new Watch(setup.scheduler, setup.unit.trigger.firingEdge, (bytes) =>
      this.recorder?.raw(bytes),
    );
    this.link = new RigLink(setup.port, setup.scheduler, this.watch);
  }

  /** Ends the run as soon as can be. May be called at any time and more than once. */
  stop(code: "STOPPED_BY_USER" | "STOPPED_PAGE_GONE"): void {
    const what =
      code === "STOPPED_BY_USER"
        ? "The run was stopped by the user."
        : "The controlling page is gone.";
    // The stop goes out before anything else is told or tidied.
    this.link.stop().catch(() => {});
    this.watch.interrupt(new BobweightError(code, what));
  }

  /**
   * Opens the link and checks the plan. After this, `carryOut` always settles with an end document.
   * @throws RIG_NOT_AVAILABLE, RIG_NO_HELLO, RIG_VERSION, PLAN_BEYOND_LIMITS, STORE_FAILED; nothing moved
   */
  async prepare(): Promise<void> {
    const { setup } = this;
    try {
      const hello = await this.link.connect();
      const plan = setup.planFor(hello);
      const rig = setup.describeRig(hello);
      this.plan = plan;
      this.errors = {
        tickHz: hello.tickHz,
        tickPpm: hello.tickPpm,
        vacuumSensorPa: rig.vacuumSensorStandardUncertaintyPa,
        triggerDelayUs: rig.triggerDelayStandardUncertaintyUs,
        indexOnly: hello.edgesPerTurn === 1,
      };
      this.timeline = timeline(plan);
      this.startMs = setup.scheduler.nowMs();
      const start: StartDocument = {
        type: "start",
        recordId: setup.recordId,
        startedUtc: setup.utcNow(),
        unit: setup.unit,
        unitFile: setup.unitFile,
        plan,
        rig,
        engineVersion: setup.engineVersion,
        expectedS: this.timeline[this.timeline.length - 1] ?? 0,
      };
      this.recorder = setup.record(start);
      this.documents.push(start);
      setup.emit(start);
    } catch (error) {
      await this.link.close();
      throw error;
    }
  }

  /** Arms, measures, and ends. Never rejects for what happens on the rig. */
  async carryOut(): Promise<EndDocument> {
    let reason: BobweightError | null = null;
    try {
      await this.arm();
      await this.measure();
    } catch (error) {
      // What interrupted the run is why it ended, even if a command failed because of it.
      reason = this.watch.interruption ?? asBobweightError(error);
    }
    this.liveTimer?.cancel();
    await this.bringToRest();
    const end = this.endDocument(reason);
    await this.link.close();
    try {
      this.recorder?.end(end);
    } finally {
      this.setup.emit(end);
    }
    return end;
  }

  private async arm(): Promise<void> {
    const { setup, link, watch } = this;
    if (watch.interruption !== null) throw watch.interruption;
    const start = this.documents[0] as StartDocument;
    const token = await link.command({ type: "arm" });
    if (token === null) throw new BobweightError("RIG_REFUSED", `The rig armed without a token.`);
    link.keepAlive(token, setup.isFresh);
    watch.minds();
    this.rig = {
      link,
      watch,
      token,
      tickHz: start.rig.hello.tickHz,
      direction: setup.unit.rotation,
      rampRpmPerS: start.plan.rampRpmPerS,
    };
    this.live = new LiveFeed(watch, start.rig.hello.tickHz);
    this.beatLive();
  }

  private async bringToRest(): Promise<void> {
    const { watch, link, setup } = this;
    try {
      await link.stop();
      const sinceMs = setup.scheduler.nowMs();
      // The watch may be interrupted for good, so this looks at the state by itself.
      while (!isAtRest(watch) && setup.scheduler.nowMs() - sinceMs < AT_REST_LIMIT_MS) {
        await new Promise<void>((resolve) => setup.scheduler.after(50, resolve));
      }
    } catch {
      // Without a link nothing more can be said to the rig; its stay-alive has run out by now.
    }
  }

  private async measure(): Promise<void> {
    const plan = this.plan as Plan;
    await this.takeReference(plan);
    for (const [index, capsule] of plan.capsules.entries()) {
      await this.measureCapsule(plan, index, capsule);
    }
    await this.sweepSpeed(plan);
    this.step("return", null, null, plan.referenceRpm, null);
    await this.readAt("return", null, null, plan.referenceRpm, null);
  }

  private async takeReference(plan: Plan): Promise<void> {
    const { unit } = this.setup;
    const rig = this.rig as Rig;
    const errors = this.errors as RigErrors;
    this.step("reference", null, null, plan.referenceRpm, null);
    await goToSpeed(rig, plan.referenceRpm);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(plan, plan.referenceRpm), plan.referenceRpm);
    const { firingEdge } = unit.trigger;
    const found = findLobes(
      turns.map(({ turn }) => firingEvents(turn, firingEdge, null).anglesDeg),
      unit.lobeAnglesDeg,
    );
    if (!found.found) throw lobesUnknown(found.eventsPerTurn, unit);
    const tracker = new LobeTracker(found.anglesDeg, firingEdge);
    const rough = turns.map(({ turn }) => tracker.track(turn));
    this.reference = referenceFrom(found.anglesDeg, rough, errors);
    this.watch.trackFrom(this.reference.anglesDeg);
    // The same turns again, now against their own mean: the reference point, zero by definition.
    const again = new LobeTracker(this.reference.anglesDeg, firingEdge);
    const reading = this.reading(turns.map(({ turn }) => again.track(turn)));
    if (reading !== null) this.point("reference", null, null, plan.referenceRpm, null, reading);
  }

  private async measureCapsule(plan: Plan, index: number, capsule: CapsulePlan): Promise<void> {
    if (capsule.hold === null && capsule.vacuumsPa.length === 0) return;
    const rig = this.rig as Rig;
    await goToSpeed(rig, plan.vacuumSweepRpm);
    if (capsule.hold !== null) await this.holdTest(index, capsule.hold, plan.vacuumSweepRpm);
    await vent(rig);
    const targets = capsule.vacuumsPa;
    const rose: number[] = [];
    for (const targetPa of targets) {
      const reached = await this.readVacuum(plan, index, "rising", targetPa);
      if (!reached.reached) {
        this.notice(
          "VACUUM_NOT_REACHED",
          `The vacuum stayed at ${kPa(reached.vacuumPa)} kPa where ${kPa(targetPa)} kPa were asked for; higher ones are left out.`,
        );
        this.done += 2 * (targets.length - rose.length) - 1;
        break;
      }
      rose.push(targetPa);
    }
    for (const targetPa of rose.reverse()) {
      await this.readVacuum(plan, index, "falling", targetPa);
    }
    await vent(rig);
  }

  private async readVacuum(
    plan: Plan,
    capsule: number,
    branch: Branch,
    targetPa: number,
  ): Promise<VacuumReached> {
    const rig = this.rig as Rig;
    this.step("vacuum", capsule, branch, plan.vacuumSweepRpm, targetPa);
    const reached = await goToVacuum(rig, targetPa);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(plan, plan.vacuumSweepRpm), plan.vacuumSweepRpm);
    this.take("vacuum", capsule, branch, plan.vacuumSweepRpm, targetPa, this.reading(turns));
    return reached;
  }

  private async holdTest(capsule: number, hold: HoldPlan, speedRpm: number): Promise<void> {
    const rig = this.rig as Rig;
    const { watch } = rig;
    this.step("hold", capsule, null, speedRpm, hold.vacuumPa);
    const before = await goToVacuum(rig, hold.vacuumPa);
    await send(rig, { type: "hold", token: rig.token });
    const startedMs = this.setup.scheduler.nowMs();
    watch.forgetVacuums();
    const sinceS = () => (this.setup.scheduler.nowMs() - startedMs) / 1000;
    const trace: [number, number][] = [];
    const everyS = (hold.settleS + hold.seconds) / HOLD_TRACE_ENTRIES_MAX;
    let startPa: number | null = null;
    let endPa = before.vacuumPa;
    const totalS = hold.settleS + hold.seconds;
    await watch.until(
      () => {
        const last = watch.vacuums[watch.vacuums.length - 1];
        const atS = sinceS();
        if (last === undefined) return undefined;
        endPa = last.vacuumPa;
        const lastEntryS = trace[trace.length - 1]?.[0] ?? Number.NEGATIVE_INFINITY;
        if (atS - lastEntryS >= everyS) trace.push([atS, last.vacuumPa]);
        if (atS >= hold.settleS) startPa ??= last.vacuumPa;
        return atS >= totalS ? true : undefined;
      },
      totalS * 1000 + 1000,
    );
    this.append({
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
    this.done++;
  }

  private async sweepSpeed(plan: Plan): Promise<void> {
    const rig = this.rig as Rig;
    if (plan.speedsRpm.length === 0) return;
    // The first rising reading is to be approached from below.
    await goToSpeed(rig, plan.referenceRpm);
    for (const speedRpm of plan.speedsRpm) await this.readSpeed("rising", speedRpm);
    for (const speedRpm of [...plan.speedsRpm].reverse()) await this.readSpeed("falling", speedRpm);
  }

  private async readSpeed(branch: Branch, targetRpm: number): Promise<void> {
    this.step("speed", null, branch, targetRpm, null);
    const reading = await this.readAt("speed", null, branch, targetRpm, null);
    if (reading !== null && reading.advanceDeg < RETARD_LIMIT_DEG) {
      throw new BobweightError(
        "ROTATION_DOUBTFUL",
        `At ${targetRpm} rpm the spark comes ${(-reading.advanceDeg).toFixed(1)}° (distributor) later than at the reference speed.`,
      );
    }
  }

  private async readAt(
    sweep: PointDocument["sweep"],
    capsule: number | null,
    branch: Branch | null,
    targetRpm: number,
    targetPa: number | null,
  ): Promise<Reading | null> {
    const rig = this.rig as Rig;
    await goToSpeed(rig, targetRpm);
    await settle(rig);
    const turns = await collectTurns(rig, turnsAt(this.plan as Plan, targetRpm), targetRpm);
    const reading = this.reading(turns);
    this.take(sweep, capsule, branch, targetRpm, targetPa, reading);
    return reading;
  }

  private reading(turns: Parameters<typeof readingFrom>[0]): Reading | null {
    const { unit } = this.setup;
    const first = turns[0]?.turn;
    const last = turns[turns.length - 1]?.turn;
    if (first === undefined || last === undefined) return null;
    const toTick = (last.indexTick + last.duringTicks) % 2 ** 32;
    return readingFrom(
      turns,
      this.reference as Reference,
      unit.lobeAnglesDeg,
      vacuumsWithin(this.watch.vacuums, first.indexTick, toTick),
      this.errors as RigErrors,
      unit.trigger.kind === "contacts",
    );
  }

  private take(
    sweep: PointDocument["sweep"],
    capsule: number | null,
    branch: Branch | null,
    targetRpm: number,
    targetPa: number | null,
    reading: Reading | null,
  ): void {
    if (reading === null) {
      this.notice("NO_SPARKS", `No usable sparks at ${targetRpm} rpm; this reading is left out.`);
      this.done++;
      return;
    }
    this.point(sweep, capsule, branch, targetRpm, targetPa, reading);
  }

  private point(
    sweep: PointDocument["sweep"],
    capsule: number | null,
    branch: Branch | null,
    targetRpm: number,
    targetPa: number | null,
    reading: Reading,
  ): void {
    this.append({ type: "point", sweep, capsule, branch, targetRpm, targetPa, reading });
    this.done++;
  }

  private step(
    step: StepDocument["step"],
    capsule: number | null,
    branch: Branch | null,
    targetRpm: number,
    targetPa: number | null,
  ): void {
    const { done } = this;
    const total = this.timeline.length;
    const doneS = done === 0 ? 0 : (this.timeline[done - 1] ?? 0);
    const remainingS = Math.round((this.timeline[total - 1] ?? 0) - doneS);
    this.live?.aim(targetRpm, targetPa);
    this.append({
      type: "step",
      step,
      capsule,
      branch,
      targetRpm,
      targetPa,
      done,
      total,
      remainingS,
    });
  }

  private notice(code: string, text: string): void {
    this.append({ type: "notice", code, text });
  }

  private append(document: MiddleDocument): void {
    this.documents.push(document);
    this.recorder?.append(document);
    this.setup.emit(document);
  }

  private beatLive(): void {
    const { liveEveryMs, scheduler, emit, unit } = this.setup;
    if (liveEveryMs === null) return;
    this.liveTimer = scheduler.after(liveEveryMs, () => {
      const runS = (scheduler.nowMs() - this.startMs) / 1000;
      const live = this.live?.document(runS, unit.lobeAnglesDeg, this.reference) ?? null;
      if (live !== null) emit(live);
      this.beatLive();
    });
  }

  private endDocument(reason: BobweightError | null): EndDocument {
    const { setup } = this;
    const ending = reason === null ? "completed" : (ENDINGS[reason.code] ?? "rig fault");
    const link: LinkCounts = this.link.counts;
    return {
      type: "end",
      endedUtc: setup.utcNow(),
      ending,
      reason:
        reason === null ? null : { code: reason.code, text: `${reason.what} ${reason.remedy}` },
      link,
      result: judge(setup.unit, this.documents),
    };
  }
}

function isAtRest(watch: Watch): boolean {
  const { state } = watch;
  return state !== null && !state.armed && state.setRpm === 0;
}

function lobesUnknown(eventsPerTurn: number, unit: Unit): BobweightError {
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
