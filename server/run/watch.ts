// What a run sees of the rig at this moment, and the one place where it waits for something to happen.

import type { RigKnowledge } from "../../core/angles/knowledge.ts";
import { RunLog } from "../../core/angles/runLog.ts";
import type { TrackedTurn } from "../../core/angles/trackedTurn.ts";
import type { StateLine, TriggerEdge, VacuumLine } from "../../core/codec/rigLines.ts";
import { BobweightError, type ErrorCode } from "../../core/errors.ts";
import { type Said, said } from "../../core/said.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import type { Turn } from "../../core/turns.ts";
import type { LinkListener } from "../link/rigLink.ts";

const FAULT_CODES = {
  alive: ["RIG_ALIVE_LOST", said("The rig stopped for want of a stay-alive.")],
  guard: ["RIG_GUARD_OPEN", said("The guard was opened.")],
  "stop-input": ["RIG_STOP_INPUT", said("The stop at the rig was pressed.")],
  overspeed: ["RIG_OVERSPEED", said("The rig reports overspeed.")],
  stall: ["RIG_STALL", said("The rig reports that the spindle does not turn.")],
  sensor: ["RIG_SENSOR", said("The rig reports a fault of its vacuum sensor.")],
} as const satisfies Record<string, readonly [ErrorCode, Said]>;

interface Waiter {
  check(): boolean;
  fail(error: BobweightError): void;
}

export class Watch implements LinkListener {
  /** Turns since the last `forgetTurns`. Without events until the reference is known. */
  turns: TrackedTurn[] = [];
  /** Vacuum lines since the last `forgetVacuums`. */
  vacuums: VacuumLine[] = [];
  state: StateLine | null = null;
  private readonly scheduler: Scheduler;
  private readonly firingEdge: TriggerEdge;
  private readonly raw: (bytes: Uint8Array) => void;
  private logged: RunLog | null = null;
  private armed = false;
  /** The rig has said itself that it is: a state line from before may come after its answer to `arm`. */
  private saidArmed = false;
  private waiter: Waiter | null = null;
  private onNextTurn: ((turn: TrackedTurn) => void) | null = null;
  private failure: BobweightError | null = null;

  constructor(scheduler: Scheduler, firingEdge: TriggerEdge, raw: (bytes: Uint8Array) => void) {
    this.scheduler = scheduler;
    this.firingEdge = firingEdge;
    this.raw = raw;
  }

  onRaw(bytes: Uint8Array): void {
    try {
      this.raw(bytes);
    } catch (error) {
      this.interrupt(asBobweightError(error));
    }
  }

  onTurn(turn: Turn): void {
    const tracked = this.log.pushTurn(turn);
    this.turns.push(tracked);
    this.poke();
    const { onNextTurn } = this;
    this.onNextTurn = null;
    onNextTurn?.(tracked);
  }

  /** Calls back once, as soon as another turn has come; null: not at all. */
  onceTurned(callback: ((turn: TrackedTurn) => void) | null): void {
    this.onNextTurn = callback;
  }

  onVacuum(line: VacuumLine): void {
    this.vacuums.push(this.log.pushVacuum(line));
    this.poke();
  }

  /** Begins the log, once the rig has said what it is. */
  begin(rig: RigKnowledge): void {
    this.logged = new RunLog(rig, this.firingEdge);
  }

  /** Of the whole run. */
  get log(): RunLog {
    if (this.logged === null) throw new Error("turns before the rig's hello");
    return this.logged;
  }

  onState(line: StateLine): void {
    this.state = line;
    // Before arming, an old fault is the rig's business: it refuses to arm.
    if (this.armed && line.fault !== "none") {
      const [code, what] = FAULT_CODES[line.fault];
      this.interrupt(new BobweightError(code, what));
    } else if (this.armed && this.saidArmed && !line.armed) {
      // Drive and pump are off, and turns that still come are of a spindle that coasts.
      this.interrupt(
        new BobweightError(
          "RIG_DISARMED",
          said("The rig is no longer armed, and did not say why."),
        ),
      );
    } else {
      this.saidArmed = this.armed && line.armed;
      this.poke();
    }
  }

  onLost(error: BobweightError): void {
    this.interrupt(error);
  }

  /** From now on a fault in a state line ends the run, and a rig that is no longer armed. */
  minds(): void {
    this.armed = true;
  }

  /** From now on the rig is told to stop, and may do so. */
  expectsRest(): void {
    this.armed = false;
  }

  forgetTurns(): void {
    this.turns = [];
  }

  forgetVacuums(): void {
    this.vacuums = [];
  }

  /** Ends whatever is being waited for, and every later wait, with this error. The first one counts. */
  interrupt(error: BobweightError): void {
    if (this.failure !== null) return;
    this.failure = error;
    const { waiter } = this;
    this.waiter = null;
    waiter?.fail(error);
  }

  get interruption(): BobweightError | null {
    return this.failure;
  }

  /** Waits until `check` gives something, or gives `null` after the limit. @throws what interrupted */
  until<T>(check: () => T | undefined, limitMs: number): Promise<T | null> {
    return new Promise((resolve, reject) => {
      if (this.failure !== null) {
        reject(this.failure);
        return;
      }
      let timer: Timer;
      const settle = (value: T | null) => {
        timer.cancel();
        this.waiter = null;
        resolve(value);
      };
      timer = this.scheduler.after(limitMs, () => settle(check() ?? null));
      this.waiter = {
        check: () => {
          const value = check();
          if (value !== undefined) settle(value);
          return value !== undefined;
        },
        fail: (error) => {
          timer.cancel();
          reject(error);
        },
      };
      this.waiter.check();
    });
  }

  /** @throws what interrupted */
  async pause(ms: number): Promise<void> {
    await this.until(() => undefined, ms);
  }

  private poke(): void {
    this.waiter?.check();
  }
}

export function asBobweightError(error: unknown): BobweightError {
  if (error instanceof BobweightError) return error;
  const text = error instanceof Error ? error.message : String(error);
  return new BobweightError("BUG", `${text}.`, { cause: error });
}
