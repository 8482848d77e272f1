// What truly happens at the rig, step by step: whether it may move as it does, and what a perfect instrument reads.
import { asciiBytes, LineCutter } from "../../core/codec/framing.ts";
import { parseHostLine } from "../../core/codec/hostLines.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import { Board } from "../../sim/board.ts";
import type { Plant } from "../../sim/plant.ts";
import type { BootCounters } from "../../sim/reports.ts";
import type { BoardMaker, RigBoard } from "../../sim/standInRig.ts";

/** Clause 6.1: the drive is off at most this long after the last stay-alive; a step of the plant more is ours. */
const ALIVE_S_MAX = 0.5;
const STEP_S = 0.001;
/** Guard and stop input act "at once" (clause 6.2): within a few steps of the simulation. */
const AT_ONCE_S = 0.005;
const SAMPLE_S = 0.005;

/** Means of the truth over a time. */
export interface TrueMeans {
  readonly advanceDeg: number;
  readonly speedRpm: number;
  readonly vacuumPa: number;
}

/** From one boot of the board to the next. */
export interface Boot {
  readonly atS: number;
  readonly firstTick: number;
}

export class Witness {
  /** What must never be, as sentences with the time; empty is good. */
  readonly unsafe: string[] = [];
  readonly boots: Boot[] = [];
  /** Highest age in seconds of the last stay-alive while the drive was on or the line not vented. */
  worstAliveS = 0;
  private plant: Plant | null = null;
  private reboots: () => void = () => {};
  private token: string | null = null;
  private lastAliveS = Number.NEGATIVE_INFINITY;
  private openSinceS: number | null = null;
  private pressedSinceS: number | null = null;
  private readonly samples = { advance: [0], speed: [0], vacuum: [0] };

  /** The stand-in's own board, watched. */
  readonly makeBoard: BoardMaker = (plant, rig, random, counters): RigBoard => {
    this.plant = plant;
    const boot = (from: BootCounters) => {
      this.boots.push({ atS: plant.timeS, firstTick: from.firstTick });
      this.token = null;
      return new Board(plant, rig, random, from);
    };
    let board = boot(counters);
    this.reboots = () => {
      board = boot({ boot: random.whole32(), firstTick: 0, turn: 0, vacuum: 0, state: 0 });
    };
    const cutter = new LineCutter((bytes, from, to) => this.heard(bytes, from, to, plant.timeS));
    return {
      get outbox() {
        return board.outbox;
      },
      get firstSpeedS() {
        return board.firstSpeedS;
      },
      receive: (bytes) => {
        board.receive(bytes);
        cutter.push(bytes);
      },
      beforeStep: (dtS) => board.beforeStep(dtS),
      afterStep: () => {
        board.afterStep();
        this.look(plant);
      },
      shutdown: () => board.shutdown(),
    };
  };

  /** Power fails for a moment. */
  reboot(): void {
    this.reboots();
  }

  setGuard(isShut: boolean): void {
    if (this.plant !== null) this.plant.guardShut = isShut;
  }

  setStopInput(isPressed: boolean): void {
    if (this.plant !== null) this.plant.stopPressed = isPressed;
  }

  setJam(isJammed: boolean): void {
    if (this.plant !== null) this.plant.motor.jammed = isJammed;
  }

  /** A line of the rig as it left it. */
  rigLine(body: string): void {
    const line = parseRigLine(asciiBytes(body));
    if (line.type === "ok" && line.token !== null) this.token = line.token;
    if (line.type === "state" && !line.armed && this.isDriven) {
      this.tell("the drive is on though nobody is armed");
    }
  }

  /** What of drive and line is not as after a stop; null where all is. */
  get notAtRest(): string | null {
    const { plant } = this;
    if (plant === null) return null;
    const { drive, pump, valve } = plant.inputs;
    if (drive === null && pump === 0 && valve === "vent") return null;
    return `drive ${drive}, pump ${pump}, valve ${valve}`;
  }

  /** Whether the drive is switched on. */
  get isDriven(): boolean {
    return this.plant !== null && this.plant.inputs.drive !== null;
  }

  /** Time of the plant in seconds. */
  private get nowS(): number {
    return this.plant?.timeS ?? 0;
  }

  /** Means between two times since power-up; null where they were not watched. */
  between(fromS: number, toS: number): TrueMeans | null {
    const from = Math.round(fromS / SAMPLE_S);
    const to = Math.max(from + 1, Math.round(toS / SAMPLE_S));
    const mean = (sums: readonly number[]) =>
      ((sums[to] ?? Number.NaN) - (sums[from] ?? Number.NaN)) / (to - from);
    const { advance, speed, vacuum } = this.samples;
    const means = { advanceDeg: mean(advance), speedRpm: mean(speed), vacuumPa: mean(vacuum) };
    return Number.isNaN(means.advanceDeg) ? null : means;
  }

  private heard(bytes: Uint8Array, from: number, to: number, nowS: number): void {
    const line = parseHostLine(bytes, from, to);
    if (line.type === "arm") this.lastAliveS = nowS;
    if (line.type === "alive" && line.token === this.token) this.lastAliveS = nowS;
  }

  private look(plant: Plant): void {
    this.sample(plant);
    const nowS = plant.timeS;
    const driven = this.isDriven;
    const sinceAliveS = nowS - this.lastAliveS;
    const active = this.notAtRest !== null;
    if (active) this.worstAliveS = Math.max(this.worstAliveS, sinceAliveS);
    if (active && sinceAliveS > ALIVE_S_MAX + STEP_S) {
      this.tell(`${this.notAtRest} ${sinceAliveS.toFixed(3)} s after the last stay-alive`);
    }
    this.openSinceS = plant.guardShut ? null : (this.openSinceS ?? nowS);
    this.pressedSinceS = plant.stopPressed ? (this.pressedSinceS ?? nowS) : null;
    if (driven && nowS - (this.openSinceS ?? nowS) > AT_ONCE_S) this.tell("the guard is open");
    if (driven && nowS - (this.pressedSinceS ?? nowS) > AT_ONCE_S) this.tell("the stop is pressed");
  }

  private sample(plant: Plant): void {
    const { advance, speed, vacuum } = this.samples;
    while (advance.length * SAMPLE_S <= plant.timeS + STEP_S / 2) {
      advance.push((advance.at(-1) as number) + plant.advanceDeg);
      speed.push((speed.at(-1) as number) + plant.speedRpm);
      vacuum.push((vacuum.at(-1) as number) + plant.vacuumPa);
    }
  }

  /** Takes down what must never be. */
  tell(what: string): void {
    // The first few say it all.
    if (this.unsafe.length < 5) this.unsafe.push(`${this.nowS.toFixed(3)} s: ${what}`);
  }
}
