// The stand-in rig in this process: the one place where server and sim meet.
import type { Said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Scenario } from "../../sim/scenario.ts";
import { type BoardMaker, StandInRig } from "../../sim/standInRig.ts";
import type { BytePort } from "./bytePort.ts";

export class StandInBytePort implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: (what: Said | string) => void = () => {};
  private readonly scenario: Scenario;
  private readonly scheduler: Scheduler;
  private readonly capsule: number;
  private readonly makeBoard: BoardMaker | undefined;
  private rig: StandInRig | null = null;

  /**
   * `capsule`: which of the unit's capsules the hose is on, counted from 0. `makeBoard`: another board
   * than the stand-in's own, such as a firmware image.
   */
  constructor(scenario: Scenario, scheduler: Scheduler, capsule: number, makeBoard?: BoardMaker) {
    this.makeBoard = makeBoard;
    this.scenario = scenario;
    this.scheduler = scheduler;
    this.capsule = capsule;
  }

  open(): Promise<void> {
    this.rig = new StandInRig(this.scenario, this.scheduler, this.makeBoard);
    this.rig.onBytes = (bytes) => this.onBytes(bytes);
    if (this.capsule > 0) this.rig.connectCapsule(this.capsule);
    return Promise.resolve();
  }

  write(bytes: Uint8Array): void {
    this.rig?.receive(bytes);
  }

  close(): Promise<void> {
    this.rig?.shutdown();
    this.rig = null;
    return Promise.resolve();
  }
}
