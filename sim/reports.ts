// What the board says of itself: `hello`, `state` and `vac` lines (firmware-protocol.md, 3.1, 3.4 and 3.5).
import {
  type Direction,
  formatRigLine,
  PROTOCOL_VERSION,
  type StateLine,
  type ValveState,
} from "../core/codec/rigLines.ts";
import { type TickCounter, wire } from "./capture.ts";
import type { Outbox } from "./outbox.ts";
import type { RigSetup } from "./scenario.ts";

const WRAP = 2 ** 32;
const VACUUM_LINE_S = 0.04;
const STATE_LINE_S = 0.1;

/** Where the counters stand when the board starts. */
export interface BootCounters {
  readonly boot: number;
  readonly firstTick: number;
  readonly turn: number;
  readonly vacuum: number;
  readonly state: number;
}

export type Condition = Omit<StateLine, "type" | "sequence" | "tick">;

export function directionsOf(rig: RigSetup): readonly Direction[] {
  return rig.directions === "cw+ccw" ? ["cw", "ccw"] : [rig.directions];
}

export class Reports {
  private readonly outbox: Outbox;
  private readonly ticks: TickCounter;
  private readonly rig: RigSetup;
  private readonly boot: number;
  private vacuumSequence: number;
  private stateSequence: number;
  private nextVacuumS: number;
  private nextStateS: number;
  /** Of the last line; null before the first. */
  private told: Condition | null = null;

  constructor(
    outbox: Outbox,
    ticks: TickCounter,
    rig: RigSetup,
    counters: BootCounters,
    bootS: number,
  ) {
    this.outbox = outbox;
    this.ticks = ticks;
    this.rig = rig;
    this.boot = counters.boot;
    this.vacuumSequence = counters.vacuum;
    this.stateSequence = counters.state;
    this.nextVacuumS = bootS;
    this.nextStateS = bootS;
  }

  /** Body of the hello that answers `ask`, or 0 after boot. */
  hello(ask: number): string {
    const { rig } = this;
    return formatRigLine({
      type: "hello",
      ask,
      version: PROTOCOL_VERSION,
      board: rig.board,
      boot: this.boot,
      tickHz: rig.tickHz,
      tickPpm: rig.tickPpm,
      indexesPerTurn: 1,
      edgesPerTurn: rig.pickupEdges,
      directions: directionsOf(rig),
      speedMinRpm: rig.speedMinRpm,
      speedMaxRpm: rig.speedMaxRpm,
      vacuumMinPa: 0,
      vacuumMaxPa: rig.vacuumMaxPa,
      guardInput: rig.inputs.includes("guard"),
      stopInput: rig.inputs.includes("stop"),
      ambientPa: rig.ambientPa,
    });
  }

  /** Ten lines a second, and one at once when a flag or the fault changes. */
  state(nowS: number, condition: Condition): void {
    const { told } = this;
    if (nowS < this.nextStateS && told !== null && sameFlags(condition, told)) return;
    this.told = condition;
    this.nextStateS = nowS + STATE_LINE_S;
    const { stateSequence: sequence } = this;
    const tick = wire(this.ticks.at(nowS));
    this.outbox.push(formatRigLine({ type: "state", sequence, tick, ...condition }));
    this.stateSequence = (sequence + 1) % WRAP;
  }

  /** A line every 40 ms. A failed sensor (null) has no reading, and a wrong one must not be sent (7.2). */
  vacuum(
    nowS: number,
    readingPa: number | null,
    readingTick: number,
    pump: number,
    valve: ValveState,
  ): void {
    if (nowS < this.nextVacuumS) return;
    this.nextVacuumS += VACUUM_LINE_S;
    if (this.rig.vacuumMaxPa === 0 || readingPa === null) return;
    this.outbox.push(
      formatRigLine({
        type: "vac",
        sequence: this.vacuumSequence,
        tick: wire(readingTick),
        vacuumPa: Math.max(0, Math.round(readingPa)),
        pumpPermille: Math.round(pump * 1000),
        valve,
      }),
    );
    this.vacuumSequence = (this.vacuumSequence + 1) % WRAP;
  }
}

function sameFlags(one: Condition, other: Condition): boolean {
  return (
    one.armed === other.armed &&
    one.guardShut === other.guardShut &&
    one.stopPressed === other.stopPressed &&
    one.fault === other.fault
  );
}
