// The stand-in rig: a simulated bench with a unit on it that speaks the rig protocol as bytes.
import type { Scheduler, Timer } from "../core/scheduler.ts";
import { Board } from "./board.ts";
import { Incidents } from "./incidents.ts";
import { Plant } from "./plant.ts";
import { Random } from "./random.ts";
import type { BootCounters } from "./reports.ts";
import type { RigSetup, Scenario } from "./scenario.ts";

/** What is true on the rig at one moment, whatever it reports. */
export interface RigTruth {
  readonly timeS: number;
  /** Of the spindle, without ripple. */
  readonly speedRpm: number;
  /** Cam and breaker plate together, distributor degrees from the mechanism's rest, + earlier. */
  readonly advanceDeg: number;
  /** The breaker plate's part of it. */
  readonly plateDeg: number;
  /** Pascals below ambient in the line. */
  readonly vacuumPa: number;
}

/** The board of a rig: reads the plant's edges and sensors, drives it, and speaks the rig protocol. */
export interface RigBoard {
  readonly outbox: { take(elapsedS: number): Uint8Array | null };
  /** When it first drove the spindle, in the plant's time; null before. */
  readonly firstSpeedS: number | null;
  receive(bytes: Uint8Array): void;
  /** Sets the plant's inputs for the next `dtS`. */
  beforeStep(dtS: number): void;
  /** Reads what the plant's step brought. */
  afterStep(): void;
  /** The rig is unplugged. */
  shutdown(): void;
}

export type BoardMaker = (
  plant: Plant,
  rig: RigSetup,
  random: Random,
  counters: BootCounters,
) => RigBoard;

const SLICE_MS = 5;
const STEP_S_MAX = 0.001;
const WRAP = 2 ** 32;
const BOARD_STREAM = 3;
/** Every counter of the first boot wraps early in a run, so that no host gets by without minding it. */
const WRAP_LEAD_S = 20;
const FIRST_TURN = WRAP - 40;
const FIRST_VACUUM = WRAP - 200;
const FIRST_STATE = WRAP - 60;

export class StandInRig {
  /** Called with what the rig sends, at most once in a slice of 5 ms, never from within `receive`. */
  onBytes: (bytes: Uint8Array) => void = () => {};
  private readonly scenario: Scenario;
  private readonly scheduler: Scheduler;
  private readonly startMs: number;
  private readonly plant: Plant;
  private readonly random: Random;
  private readonly incidents: Incidents;
  private readonly makeBoard: BoardMaker;
  private board: RigBoard;
  private firstSpeedS: number | null = null;
  private silent = false;
  private sentS = 0;
  private timer: Timer;

  /** Powers the rig up at once: its first bytes are the `hello` after boot. */
  constructor(
    scenario: Scenario,
    scheduler: Scheduler,
    makeBoard: BoardMaker = (...parts) => new Board(...parts),
  ) {
    this.makeBoard = makeBoard;
    this.scenario = scenario;
    this.scheduler = scheduler;
    this.startMs = scheduler.nowMs();
    this.plant = new Plant(scenario);
    this.random = new Random(scenario.seed, BOARD_STREAM);
    const { rig } = scenario;
    this.board = this.bootBoard({
      boot: this.random.whole32(),
      firstTick: rig.firstTick ?? WRAP - ((WRAP_LEAD_S * rig.tickHz) % WRAP),
      turn: FIRST_TURN,
      vacuum: FIRST_VACUUM,
      state: FIRST_STATE,
    });
    this.incidents = new Incidents(scenario.incidents, this.plant, {
      reboot: () => this.reboot(),
      fallSilent: () => this.fallSilent(),
    });
    this.timer = scheduler.after(SLICE_MS, () => this.slice());
  }

  /** Bytes from the host. Physics first catches up with the scheduler's time. */
  receive(bytes: Uint8Array): void {
    this.advance();
    if (!this.silent) this.board.receive(bytes);
  }

  /** Puts the vacuum line's hose on another capsule of the unit, as the operator would by hand. */
  connectCapsule(index: number): void {
    this.advance();
    this.plant.connectCapsule(index);
  }

  /** What a perfect instrument would read now. */
  truth(): RigTruth {
    this.advance();
    const { timeS, speedRpm, advanceDeg, plateDeg, vacuumPa } = this.plant;
    return { timeS, speedRpm, advanceDeg, plateDeg, vacuumPa };
  }

  /** Pulls the plug: nothing is sent or simulated after this. */
  shutdown(): void {
    this.timer.cancel();
    this.silent = true;
    this.board.shutdown();
  }

  private slice(): void {
    this.timer = this.scheduler.after(SLICE_MS, () => this.slice());
    this.advance();
    if (this.silent) return;
    const elapsedS = this.plant.timeS - this.sentS;
    this.sentS = this.plant.timeS;
    const bytes = this.board.outbox.take(elapsedS);
    if (bytes !== null) this.onBytes(bytes);
  }

  private advance(): void {
    const { plant } = this;
    const goalS = (this.scheduler.nowMs() - this.startMs) / 1000;
    const spanS = goalS - plant.timeS;
    // A nanosecond more or less is the rounding of sums, not time to be simulated.
    if (spanS < 1e-9) return;
    const steps = Math.ceil(spanS / STEP_S_MAX - 1e-6);
    for (let i = 0; i < steps; i++) {
      if (!this.silent) this.board.beforeStep(spanS / steps);
      plant.step(spanS / steps);
      if (!this.silent) this.board.afterStep();
      this.firstSpeedS ??= this.board.firstSpeedS;
      this.incidents.check(this.firstSpeedS);
    }
    plant.timeS = goalS;
  }

  private bootBoard(counters: BootCounters): RigBoard {
    return this.makeBoard(this.plant, this.scenario.rig, this.random, counters);
  }

  private reboot(): void {
    this.board = this.bootBoard({
      boot: this.random.whole32(),
      firstTick: 0,
      turn: 0,
      vacuum: 0,
      state: 0,
    });
  }

  /** The board hangs; its watchdog leaves drive off and line vented (clause 6.8), but it says no more. */
  private fallSilent(): void {
    this.reboot();
    this.silent = true;
  }
}
