// The stand-in rig in this process: the one place where server and sim meet.
import type { Scheduler } from "../../core/scheduler.ts";
import type { Scenario } from "../../sim/scenario.ts";
import { StandInRig } from "../../sim/standInRig.ts";
import type { BytePort } from "./bytePort.ts";

export class StandInBytePort implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: (what: string) => void = () => {};
  private readonly scenario: Scenario;
  private readonly scheduler: Scheduler;
  private rig: StandInRig | null = null;

  constructor(scenario: Scenario, scheduler: Scheduler) {
    this.scenario = scenario;
    this.scheduler = scheduler;
  }

  open(): Promise<void> {
    this.rig = new StandInRig(this.scenario, this.scheduler);
    this.rig.onBytes = (bytes) => this.onBytes(bytes);
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
