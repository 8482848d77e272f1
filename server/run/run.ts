// One run from opening the link to rest. Whatever happens, it ends with the motor off, the line vented,
// and one end document.

import { rigKnowledge } from "../../core/angles/knowledge.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import type { Hello } from "../../core/codec/rigLines.ts";
import type {
  BenchName,
  EndDocument,
  Ending,
  PresentRig,
  RunDocument,
  StartDocument,
} from "../../core/documents.ts";
import { BobweightError, type ErrorCode } from "../../core/errors.ts";
import { explained } from "../../core/findings/explained.ts";
import { judge } from "../../core/judge/result.ts";
import { mechanismOf } from "../../core/mechanism/mechanism.ts";
import type { Plan } from "../../core/plan.ts";
import { said } from "../../core/said.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import type { Unit } from "../../core/unit.ts";
import type { BytePort } from "../link/bytePort.ts";
import { RigLink } from "../link/rigLink.ts";
import { Course } from "./course.ts";
import { LiveFeed } from "./live.ts";
import { expectedSeconds, Narrator, type Recorder } from "./narrator.ts";
import type { Rig } from "./rig.ts";
import { asBobweightError, Watch } from "./watch.ts";

export interface RunSetup {
  readonly port: BytePort;
  readonly scheduler: Scheduler;
  readonly recordId: string;
  readonly engineVersion: string;
  readonly unit: Unit;
  readonly unitFile: unknown;
  readonly afterRecordId: string | null;
  /** Left out where no record is kept. */
  readonly bench?: BenchName;
  /** Makes the plan for this rig and walks its limits; nothing has moved yet. @throws PLAN_BEYOND_LIMITS */
  readonly planFor: (hello: Hello) => Plan;
  readonly describeRig: (hello: Hello) => PresentRig;
  /** Opens the place where the record is kept, once the rig is known. */
  readonly record: (start: StartDocument) => Recorder;
  readonly emit: (document: RunDocument) => void;
  /** Milliseconds of rig time between live documents; null: none. */
  readonly liveEveryMs: number | null;
  /** Whether the controlling user's own sign of life is fresh. */
  readonly isFresh: () => boolean;
  readonly utcNow: () => string;
  /** False: the end has neither findings nor a fitted mechanism. */
  readonly explains: boolean;
}

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

/** What `prepare` made ready. */
interface Prepared {
  readonly start: StartDocument;
  readonly rig: PresentRig;
  readonly narrator: Narrator;
}

export class Run {
  private readonly setup: RunSetup;
  private readonly watch: Watch;
  private readonly link: RigLink;
  private prepared: Prepared | null = null;
  private course: Course | null = null;
  private startMs = 0;
  private liveTimer: Timer | null = null;

  constructor(setup: RunSetup) {
    this.setup = setup;
    this.watch = new Watch(setup.scheduler, setup.unit.trigger.firingEdge, (bytes) =>
      this.prepared?.narrator.raw(bytes),
    );
    this.link = new RigLink(setup.port, setup.scheduler, this.watch);
  }

  /** Ends the run as soon as can be. May be called at any time and more than once. */
  stop(code: "STOPPED_BY_USER" | "STOPPED_PAGE_GONE"): void {
    const what =
      code === "STOPPED_BY_USER"
        ? said("The run was stopped by the user.")
        : said("The controlling page is gone.");
    // The stop goes out before anything else is told or tidied.
    this.link.stop().catch(() => {});
    this.watch.interrupt(new BobweightError(code, what));
  }

  /**
   * Opens the link and checks the plan. After this, `carryOut` settles with an end document.
   * @throws RIG_NOT_AVAILABLE, RIG_NO_HELLO, RIG_VERSION, PLAN_BEYOND_LIMITS, STORE_FAILED; nothing moved
   */
  async prepare(): Promise<void> {
    const { setup } = this;
    try {
      const hello = await this.link.connect();
      const description = setup.describeRig(hello);
      this.watch.begin(rigKnowledge(description, setup.unit.rotation));
      const plan = setup.planFor(hello);
      this.startMs = setup.scheduler.nowMs();
      const start: StartDocument = {
        type: "start",
        recordId: setup.recordId,
        startedUtc: setup.utcNow(),
        unit: setup.unit,
        unitFile: setup.unitFile,
        plan,
        rig: description,
        engineVersion: setup.engineVersion,
        expectedS: expectedSeconds(plan),
        afterRecordId: setup.afterRecordId,
        ...(setup.bench === undefined ? {} : { bench: setup.bench }),
      };
      const narrator = new Narrator(start, setup.record(start), setup.emit);
      this.prepared = { start, rig: description, narrator };
    } catch (error) {
      await this.link.close();
      throw error;
    }
  }

  /**
   * Arms, measures, and ends. Never rejects for what happens on the rig.
   * @throws STORE_FAILED where the end could not be kept; the rig is at rest by then
   */
  async carryOut(): Promise<EndDocument> {
    const { prepared, setup } = this;
    if (prepared === null) throw new Error("carryOut before prepare");
    let reason: BobweightError | null = null;
    try {
      await this.armAndMeasure(prepared);
    } catch (error) {
      // What interrupted the run is why it ended, even if a command failed because of it.
      reason = this.watch.interruption ?? asBobweightError(error);
    }
    this.liveTimer?.cancel();
    this.watch.onceTurned(null);
    const restConfirmed = await this.bringToRest();
    reason = this.tellFinal(prepared) ?? reason;
    const { documents } = prepared.narrator;
    const { result, findings } = setup.explains
      ? explained(setup.unit, documents)
      : { result: judge(setup.unit, documents), findings: null };
    const end: EndDocument = {
      type: "end",
      endedUtc: setup.utcNow(),
      ending: reason === null ? "completed" : (ENDINGS[reason.code] ?? "rig fault"),
      reason: reason?.told ?? null,
      restConfirmed,
      link: this.link.counts,
      result,
      findings,
      mechanism: findings === null ? null : mechanismOf(prepared.start.plan, result),
    };
    await this.link.close();
    prepared.narrator.end(end);
    return end;
  }

  /** Readings once more, with what the whole run told; gives what went wrong in keeping them. */
  private tellFinal({ narrator }: Prepared): BobweightError | null {
    try {
      const final = this.course?.final() ?? null;
      if (final !== null) narrator.append(final);
      return null;
    } catch (error) {
      return asBobweightError(error);
    }
  }

  private async armAndMeasure({ start, rig: known, narrator }: Prepared): Promise<void> {
    const { setup, link, watch } = this;
    if (watch.interruption !== null) throw watch.interruption;
    const token = await link.command({ type: "arm" });
    if (token === null)
      throw new BobweightError("RIG_REFUSED", said("The rig armed without a token."));
    // It may have been stopped or lost between the rig's answer and now.
    if (watch.interruption !== null) throw watch.interruption;
    link.keepAlive(token, setup.isFresh);
    watch.minds();
    const { tickHz } = known.hello;
    const rig: Rig = {
      link,
      watch,
      live: new LiveFeed(watch, tickHz),
      token,
      tickHz,
      direction: setup.unit.rotation,
      rampRpmPerS: start.plan.rampRpmPerS,
      knowledge: rigKnowledge(known, start.unit.rotation),
    };
    const course = new Course(rig, start.plan, setup.unit, narrator, setup.scheduler);
    this.course = course;
    this.beatLive(rig, course);
    await course.measure();
  }

  /** Whether the rig said that it is at rest. */
  private async bringToRest(): Promise<boolean> {
    const { watch, link, setup } = this;
    watch.expectsRest();
    try {
      await link.stop();
      const sinceMs = setup.scheduler.nowMs();
      // The watch may be interrupted for good, so this looks at the state by itself.
      while (!isAtRest(watch) && setup.scheduler.nowMs() - sinceMs < AT_REST_LIMIT_MS) {
        await new Promise<void>((resolve) => setup.scheduler.after(50, resolve));
      }
      return isAtRest(watch);
    } catch {
      // Without a link nothing more can be said to the rig; its stay-alive runs out by itself.
      return false;
    }
  }

  private beatLive(rig: Rig, course: Course): void {
    const { liveEveryMs, scheduler, emit } = this.setup;
    if (liveEveryMs === null) return;
    // Told with the turn that comes next, not between turns: what is shown is as fresh as it can be.
    const tell = (turn: TrackedTurn) => {
      const runS = (scheduler.nowMs() - this.startMs) / 1000;
      emit(rig.live.document(turn, runS, course.measurements));
      this.beatLive(rig, course);
    };
    this.liveTimer = scheduler.after(liveEveryMs, () => this.watch.onceTurned(tell));
  }
}

function isAtRest(watch: Watch): boolean {
  const { state } = watch;
  return state !== null && !state.armed && state.setRpm === 0;
}
