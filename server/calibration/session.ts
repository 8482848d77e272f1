// The rig for the length of a check: connected, armed when the operator has agreed, and stopped at the end whatever happened.
import { type RigKnowledge, uncorrectedRig } from "../../core/angles/knowledge.ts";
import type { Direction, Hello, TriggerEdge } from "../../core/codec/rigLines.ts";
import { BobweightError } from "../../core/errors.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { BytePort } from "../link/bytePort.ts";
import { RigLink } from "../link/rigLink.ts";
import { LiveFeed } from "../run/live.ts";
import type { Rig } from "../run/rig.ts";
import { Watch } from "../run/watch.ts";

/** Longer than any spindle coasts; common practice, no source. */
const COAST_LIMIT_MS = 30_000;
const LOOK_EVERY_MS = 50;

export class Session {
  readonly hello: Hello;
  private readonly knowledge: RigKnowledge;
  private readonly scheduler: Scheduler;
  private readonly watch: Watch;
  private readonly link: RigLink;
  private resting = false;

  private constructor(hello: Hello, scheduler: Scheduler, watch: Watch, link: RigLink) {
    this.hello = hello;
    this.knowledge = uncorrectedRig(hello);
    watch.begin(this.knowledge);
    this.scheduler = scheduler;
    this.watch = watch;
    this.link = link;
  }

  /** @throws RIG_NOT_AVAILABLE, RIG_NO_HELLO, RIG_VERSION; nothing moved */
  static async connect(
    port: BytePort,
    scheduler: Scheduler,
    firingEdge: TriggerEdge,
  ): Promise<Session> {
    const watch = new Watch(scheduler, firingEdge, () => {});
    const link = new RigLink(port, scheduler, watch);
    try {
      return new Session(await link.connect(), scheduler, watch, link);
    } catch (error) {
      await link.close();
      throw error;
    }
  }

  /** From here on the rig may move. Only after the operator has agreed. @throws RIG_REFUSED and the like */
  async arm(direction: Direction, rampRpmPerS: number): Promise<Rig> {
    const { watch, link, hello, knowledge } = this;
    if (watch.interruption !== null) throw watch.interruption;
    const token = await link.command({ type: "arm" });
    if (token === null) throw new BobweightError("RIG_REFUSED", "The rig armed without a token.");
    // This process is the operator's own: while it lives, so does the stay-alive.
    link.keepAlive(token, () => true);
    watch.minds();
    const live = new LiveFeed(watch, hello.tickHz);
    const { tickHz } = hello;
    return { link, watch, live, token, tickHz, direction, rampRpmPerS, knowledge };
  }

  /** Stops motor and pump at once, and ends whatever the check is waiting for. */
  interrupt(): void {
    // While it comes to rest a stop is under way, and a second one would give the first up.
    if (!this.resting) this.link.stop().catch(() => {});
    this.watch.interrupt(new BobweightError("STOPPED_BY_USER", "The check was stopped."));
  }

  /** What ended the check from outside; null while nothing has. */
  get interruption(): BobweightError | null {
    return this.watch.interruption;
  }

  /** Stops and disarms. Whether the rig said that it is disarmed and stands still. */
  async rest(): Promise<boolean> {
    const { link, scheduler } = this;
    this.resting = true;
    this.watch.expectsRest();
    try {
      await link.stop();
    } catch {
      // Without a link nothing more can be said to the rig; its stay-alive runs out by itself.
      return false;
    }
    const sinceMs = scheduler.nowMs();
    while (!this.isAtRest() && scheduler.nowMs() - sinceMs < COAST_LIMIT_MS) {
      await new Promise<void>((resolve) => scheduler.after(LOOK_EVERY_MS, resolve));
    }
    return this.isAtRest();
  }

  async close(): Promise<void> {
    await this.link.close();
  }

  private isAtRest(): boolean {
    const { state } = this.watch;
    return state !== null && !state.armed && state.setRpm === 0 && state.nowRpm === 0;
  }
}
