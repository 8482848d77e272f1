// A stand-in rig for tests of the test: sound, or with one thing broken on purpose, in its bytes or in its board.
import { asciiText, encodeLine, LineCutter } from "../../core/codec/framing.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { HandTask, Person } from "../../server/conformance/person.ts";
import { RigTest, type RigTestOutcome } from "../../server/conformance/rigTest.ts";
import type { BytePort } from "../../server/link/bytePort.ts";
import { VirtualScheduler } from "../../server/schedulers.ts";
import type { Board } from "../../sim/board.ts";
import type { Plant } from "../../sim/plant.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { StandInRig } from "../../sim/standInRig.ts";

/** What a rig keeps to itself, for tests that break it or lay hands on it. */
export const insidesOf = (rig: StandInRig) =>
  rig as unknown as { readonly board: Board; readonly plant: Plant; reboot(): void };

type TakeBytes = (bytes: Uint8Array) => void;

export interface Rig {
  readonly scheduler: Scheduler;
  readonly plant: Plant;
  /** Of the moment: a boot brings a new one. */
  readonly board: () => Board;
  /** To the board, past what is broken. */
  readonly receive: TakeBytes;
}

/** What is broken. */
export interface Flaw {
  /** Settings of the rig and the unit, as in a scenario. */
  readonly rig?: Record<string, unknown>;
  readonly unit?: Record<string, unknown>;
  /** Changes what the board does. */
  readonly board?: (board: Board, plant: Plant) => void;
  /** Changes a line's body on its way to the host; several, or none, may come of it. */
  readonly out?: (rig: Rig) => (body: string) => readonly string[];
  /** Changes bytes on their way to the host. */
  readonly outBytes?: (rig: Rig, pass: TakeBytes) => TakeBytes;
  /** Changes bytes on their way to the board; `say` sends a body to the host. */
  readonly in?: (rig: Rig, say: (body: string) => void) => TakeBytes;
}

export class BrokenPort implements BytePort {
  onBytes: TakeBytes = () => {};
  onLost: BytePort["onLost"] = () => {};
  /** Every line that the host sent. */
  readonly sent: string[] = [];
  readonly inner: StandInRig;
  private readonly receive: TakeBytes;

  constructor(flaw: Flaw, scheduler: Scheduler) {
    const scenario = parseScenario(
      { mechanism: {}, rig: flaw.rig ?? {}, unit: flaw.unit ?? {} },
      "test",
    );
    const inner = new StandInRig(scenario, scheduler);
    this.inner = inner;
    const receive: TakeBytes = (bytes) => inner.receive(bytes);
    const rig = {
      scheduler,
      plant: insidesOf(inner).plant,
      board: () => insidesOf(inner).board,
      receive,
    };
    flaw.board?.(insidesOf(inner).board, insidesOf(inner).plant);
    const pass: TakeBytes = (bytes) => this.onBytes(bytes);
    const toHost = flaw.outBytes?.(rig, pass) ?? pass;
    const change = flaw.out?.(rig);
    if (change === undefined) inner.onBytes = toHost;
    else {
      const cutter = new LineCutter((bytes, from, to) => {
        for (const body of change(asciiText(bytes, from, to))) toHost(encodeLine(body));
      });
      inner.onBytes = (bytes) => cutter.push(bytes);
    }
    this.receive = flaw.in?.(rig, (body) => toHost(encodeLine(body))) ?? receive;
  }

  open(): Promise<void> {
    return Promise.resolve();
  }

  write(bytes: Uint8Array): void {
    this.sent.push(asciiText(bytes));
    this.receive(bytes);
  }

  close(): Promise<void> {
    this.inner.shutdown();
    return Promise.resolve();
  }
}

const HAND_MS = 200;

/** Does at once what is asked for; a pulled index lead is played by a spindle that jams. */
export class WillingPerson implements Person {
  readonly asked: HandTask[] = [];
  private readonly port: BrokenPort;
  private readonly scheduler: Scheduler;

  constructor(port: BrokenPort, scheduler: Scheduler) {
    this.port = port;
    this.scheduler = scheduler;
  }

  agrees(): Promise<boolean> {
    return Promise.resolve(true);
  }

  please(task: HandTask): void {
    this.asked.push(task);
    this.scheduler.after(HAND_MS, () => this.doIt(task));
  }

  did(): Promise<boolean> {
    return new Promise((resolve) => this.scheduler.after(2 * HAND_MS, () => resolve(true)));
  }

  private doIt(task: HandTask): void {
    const { inner } = this.port;
    const plant = insidesOf(inner).plant;
    const acts: Record<HandTask, () => void> = {
      "open guard": () => {
        plant.guardShut = false;
      },
      "shut guard": () => {
        plant.guardShut = true;
      },
      "press stop": () => {
        plant.stopPressed = true;
      },
      "release stop": () => {
        plant.stopPressed = false;
      },
      "pull index": () => {
        plant.motor.jammed = true;
      },
      "put index back": () => {
        plant.motor.jammed = false;
      },
      "pull sensor": () => {
        plant.sensorFailed = true;
      },
      "put sensor back": () => {
        plant.sensorFailed = false;
      },
      "reset board": () => insidesOf(inner).reboot(),
    };
    acts[task]();
  }
}

export interface Tried extends RigTestOutcome {
  readonly port: BrokenPort;
  /** Clauses of which something is broken. */
  readonly broken: readonly string[];
  readonly said: string;
}

export interface Trial {
  readonly speedMaxRpm?: number;
  readonly agrees?: boolean;
  readonly agree?: (rpm: number, port: BrokenPort) => boolean;
  /** Nobody is there. */
  readonly alone?: boolean;
  /** Somebody is, and does nothing. */
  readonly idle?: boolean;
  /** Told when the test begins. */
  readonly begin?: (test: RigTest, port: BrokenPort, scheduler: Scheduler) => void;
}

function personFor({ alone, idle }: Trial, port: BrokenPort, scheduler: Scheduler): Person | null {
  if (idle) {
    const no = () => Promise.resolve(false);
    return { agrees: () => Promise.resolve(true), please: () => {}, did: no };
  }
  return alone ? null : new WillingPerson(port, scheduler);
}

/** Goes through the whole test in virtual time. */
export async function tryRig(flaw: Flaw, trial: Trial = {}): Promise<Tried> {
  const scheduler = new VirtualScheduler();
  const port = new BrokenPort(flaw, scheduler);
  const said: string[] = [];
  const test = new RigTest(port, scheduler, {
    speedMaxRpm: trial.speedMaxRpm ?? 1000,
    baud: null,
    person: personFor(trial, port, scheduler),
    agree: (rpm) => Promise.resolve(trial.agree?.(rpm, port) ?? trial.agrees ?? true),
    say: (text) => said.push(text),
  });
  trial.begin?.(test, port, scheduler);
  const outcome = await scheduler.run(test.run());
  const broken = outcome.findings.filter(({ verdict }) => verdict === "broken");
  const clauses = [...new Set(broken.map(({ clause }) => clause))];
  return { ...outcome, port, broken: clauses, said: said.join("\n") };
}
