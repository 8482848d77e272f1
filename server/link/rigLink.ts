// The link owns the port: handshake, checked lines in, one command in flight out, stay-alive, and a stop that waits for nobody.

import { encodeLine, LineCutter } from "../../core/codec/framing.ts";
import { type Command, formatHostLine } from "../../core/codec/hostLines.ts";
import { RigLineReader } from "../../core/codec/rigLineReader.ts";
import {
  type Answer,
  type Hello,
  PROTOCOL_VERSION,
  type RefusalReason,
  type StateLine,
  type VacuumLine,
} from "../../core/codec/rigLines.ts";
import type { LinkCounts } from "../../core/documents.ts";
import { BobweightError, type ErrorCode } from "../../core/errors.ts";
import { LineOrder } from "../../core/lineOrder.ts";
import { type Said, said } from "../../core/said.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import { type Turn, TurnAssembler } from "../../core/turns.ts";
import type { BytePort } from "./bytePort.ts";

/** Clause 4.7. */
const REPLY_TIMEOUT_MS = 250;
const SENDS_MAX = 3;
/** A board may boot when its port is opened; booting takes some of them a few seconds. */
const HELLO_TIMEOUT_MS = 6000;
const ALIVE_EVERY_MS = 100;
/**
 * A rig sends at least ten state lines a second; after this long without a new one it is gone, or hangs
 * though it still answers.
 */
const SILENCE_MS = 1000;
const SILENCE_CHECK_MS = 250;
const GIVEN_UP = said("The command was given up for a stop.");

/** Who wants to know what comes from the rig. */
export interface LinkListener {
  onTurn(turn: Turn): void;
  onVacuum(line: VacuumLine): void;
  onState(line: StateLine): void;
  /** The link is of no more use. Called once. */
  onLost(error: BobweightError): void;
  /** Every byte as it came, before any check. */
  onRaw(bytes: Uint8Array): void;
}

interface InFlight {
  readonly number: number;
  readonly description: Said | string;
  readonly line: Uint8Array;
  readonly resolve: (token: string | null) => void;
  readonly reject: (error: BobweightError) => void;
  sends: number;
  timer: Timer;
}

const REFUSAL_CODES: Partial<Record<RefusalReason, ErrorCode>> = {
  "guard-open": "RIG_GUARD_OPEN",
  "stop-input": "RIG_STOP_INPUT",
};

export class RigLink {
  private readonly port: BytePort;
  private readonly scheduler: Scheduler;
  private readonly listener: LinkListener;
  private readonly reader = new RigLineReader();
  private readonly cutter = new LineCutter((bytes, from, to) => this.take(bytes, from, to));
  private assembler: TurnAssembler | null = null;
  private hello: Hello | null = null;
  private helloWaiter: ((hello: Hello) => void) | null = null;
  private lastNumber = 0;
  /** Stops so far: what was asked for before one is not sent after it. */
  private stops = 0;
  private inFlight: InFlight | null = null;
  private queue: Promise<unknown> = Promise.resolve();
  private aliveTimer: Timer | null = null;
  private silenceTimer: Timer | null = null;
  private readonly vacuumOrder = new LineOrder();
  private readonly stateOrder = new LineOrder();
  private lastStateMs = 0;
  private malformed = 0;
  private repeats = 0;
  private usable = false;

  constructor(port: BytePort, scheduler: Scheduler, listener: LinkListener) {
    this.port = port;
    this.scheduler = scheduler;
    this.listener = listener;
    port.onBytes = (bytes) => {
      // What comes back after the link was lost is another link's.
      if (!this.usable) return;
      this.listener.onRaw(bytes);
      this.cutter.push(bytes);
    };
    port.onLost = (what) =>
      this.lose(new BobweightError("LINK_LOST", said("The link broke: {}.", what)));
  }

  get counts(): LinkCounts {
    const { good, tooLong, badByte, badCrc } = this.cutter.counts;
    const turns = this.assembler?.counts;
    const senseless = this.malformed + this.vacuumOrder.setAside + this.stateOrder.setAside;
    return {
      linesGood: good - senseless,
      linesBad: tooLong + badByte + badCrc + senseless,
      turnsGood: turns?.good ?? 0,
      turnsSetAside: turns?.setAside ?? 0,
      turnsMissing: turns?.missing ?? 0,
      commandRepeats: this.repeats,
    };
  }

  /**
   * Opens the port and asks for hello, which stops and disarms the rig whatever it was doing.
   * @throws RIG_NOT_AVAILABLE, RIG_NO_HELLO, RIG_VERSION
   */
  async connect(): Promise<Hello> {
    await this.port.open();
    this.usable = true;
    const hello = await this.askHello();
    if (hello.version !== PROTOCOL_VERSION || hello.indexesPerTurn !== 1) {
      throw new BobweightError(
        "RIG_VERSION",
        said(
          'The rig "{}" speaks protocol version {} with {} index pulses a turn; this program speaks version {} with 1.',
          hello.board,
          hello.version,
          hello.indexesPerTurn,
          PROTOCOL_VERSION,
        ),
      );
    }
    this.hello = hello;
    this.assembler = new TurnAssembler(hello, (turn) => this.listener.onTurn(turn));
    this.lastStateMs = this.scheduler.nowMs();
    this.watchSilence();
    return hello;
  }

  /**
   * Sends a command when those before it are done, and settles with the token of an `arm`, else null.
   * @throws RIG_REPLY_TIMEOUT, RIG_REFUSED, RIG_GUARD_OPEN, RIG_STOP_INPUT, LINK_LOST
   */
  command(command: Exclude<Command, { type: "ask" | "stop" }>): Promise<string | null> {
    const { stops } = this;
    const turn = this.queue.then(() => {
      if (stops !== this.stops) throw new BobweightError("RIG_REPLY_TIMEOUT", GIVEN_UP);
      return this.send(command);
    });
    this.queue = turn.catch(() => {});
    return turn;
  }

  /** Stops the motor and vents the line. Jumps the queue: what is in flight or waiting is given up. */
  stop(): Promise<void> {
    this.endAlive();
    this.stops++;
    this.inFlight?.timer.cancel();
    this.inFlight?.reject(new BobweightError("RIG_REPLY_TIMEOUT", GIVEN_UP));
    this.inFlight = null;
    const done = this.send({ type: "stop" }).then(() => {});
    this.queue = done.catch(() => {});
    return done;
  }

  /** Sends stay-alive while `isFresh` says that the controlling user is still there. */
  keepAlive(token: string, isFresh: () => boolean): void {
    this.endAlive();
    const line = encodeLine(formatHostLine({ type: "alive", token }));
    const beat = () => {
      if (isFresh()) this.port.write(line);
      this.aliveTimer = this.scheduler.after(ALIVE_EVERY_MS, beat);
    };
    beat();
  }

  endAlive(): void {
    this.aliveTimer?.cancel();
    this.aliveTimer = null;
  }

  async close(): Promise<void> {
    this.usable = false;
    this.endAlive();
    this.silenceTimer?.cancel();
    this.inFlight?.timer.cancel();
    this.inFlight = null;
    await this.port.close();
  }

  private send(command: Command): Promise<string | null> {
    if (!this.usable) {
      return Promise.reject(new BobweightError("LINK_LOST", said("The link to the rig is gone.")));
    }
    return new Promise((resolve, reject) => {
      const number = ++this.lastNumber;
      const body = formatHostLine({ ...command, number });
      const inFlight: InFlight = {
        number,
        description: describe(command),
        line: encodeLine(body),
        resolve,
        reject,
        sends: 0,
        timer: { cancel: () => {} },
      };
      this.inFlight = inFlight;
      this.transmit(inFlight);
    });
  }

  private transmit(inFlight: InFlight): void {
    if (inFlight.sends > 0) this.repeats++;
    inFlight.sends++;
    inFlight.timer = this.scheduler.after(REPLY_TIMEOUT_MS, () => {
      if (this.inFlight !== inFlight) return;
      if (inFlight.sends < SENDS_MAX) {
        this.transmit(inFlight);
        return;
      }
      this.inFlight = null;
      inFlight.reject(
        new BobweightError(
          "RIG_REPLY_TIMEOUT",
          said(
            'No reply to "{}" within {} ms, sent {} times.',
            inFlight.description,
            REPLY_TIMEOUT_MS,
            SENDS_MAX,
          ),
        ),
      );
    });
    this.port.write(inFlight.line);
  }

  private askHello(): Promise<Hello> {
    return new Promise((resolve, reject) => {
      const startMs = this.scheduler.nowMs();
      let timer: Timer;
      const ask = () => {
        if (!this.usable || this.scheduler.nowMs() - startMs > HELLO_TIMEOUT_MS) {
          this.helloWaiter = null;
          reject(this.noHello());
          return;
        }
        const number = ++this.lastNumber;
        this.port.write(encodeLine(formatHostLine({ type: "ask", number })));
        timer = this.scheduler.after(REPLY_TIMEOUT_MS, ask);
      };
      this.helloWaiter = (hello) => {
        // A hello with another number was sent before our question, or by a rig that booted on opening.
        if (hello.ask !== this.lastNumber) return;
        timer.cancel();
        this.helloWaiter = null;
        resolve(hello);
      };
      ask();
    });
  }

  private noHello(): BobweightError {
    const { linesGood, linesBad } = this.counts;
    const heard = said("{} good and {} bad lines came", linesGood, linesBad);
    return new BobweightError(
      "RIG_NO_HELLO",
      said("No hello from the rig within {} s ({}).", HELLO_TIMEOUT_MS / 1000, heard),
    );
  }

  private take(bytes: Uint8Array, from: number, to: number): void {
    const line = this.reader.read(bytes, from, to);
    switch (line.type) {
      case "rev":
        this.assembler?.pushRev(line);
        return;
      case "pick":
        this.assembler?.pushPick(line);
        return;
      case "vac":
        if (this.hello !== null && this.vacuumOrder.take(line)) this.listener.onVacuum(line);
        return;
      case "state":
        if (this.hello === null || !this.stateOrder.take(line)) return;
        this.lastStateMs = this.scheduler.nowMs();
        this.listener.onState(line);
        return;
      case "ok":
      case "no":
        this.takeAnswer(line);
        return;
      case "hello":
        this.takeHello(line);
        return;
      case "malformed":
        this.malformed++;
        return;
      case "unknown":
        return;
    }
  }

  private takeAnswer(answer: Answer): void {
    const { inFlight } = this;
    if (inFlight === null || inFlight.number !== answer.number) return;
    inFlight.timer.cancel();
    this.inFlight = null;
    if (answer.type === "ok") {
      inFlight.resolve(answer.token);
      return;
    }
    const code = REFUSAL_CODES[answer.reason] ?? "RIG_REFUSED";
    inFlight.reject(
      new BobweightError(
        code,
        said('The rig refused "{}": {}.', inFlight.description, said(answer.reason)),
      ),
    );
  }

  private takeHello(hello: Hello): void {
    if (this.helloWaiter !== null) {
      this.helloWaiter(hello);
      return;
    }
    if (this.hello !== null && hello.boot !== this.hello.boot) {
      this.lose(new BobweightError("RIG_REBOOTED", said("The rig started anew in mid-run.")));
    }
  }

  private watchSilence(): void {
    this.silenceTimer = this.scheduler.after(SILENCE_CHECK_MS, () => {
      const silentMs = this.scheduler.nowMs() - this.lastStateMs;
      if (silentMs > SILENCE_MS) {
        this.lose(
          new BobweightError(
            "LINK_LOST",
            said("No news of its state came from the rig for one second."),
          ),
        );
        return;
      }
      this.watchSilence();
    });
  }

  private lose(error: BobweightError): void {
    if (!this.usable) return;
    // What can still be said is said: the rig may hear us though we do not hear it.
    const number = ++this.lastNumber;
    this.port.write(encodeLine(formatHostLine({ type: "stop", number })));
    this.usable = false;
    this.endAlive();
    this.silenceTimer?.cancel();
    this.inFlight?.timer.cancel();
    this.inFlight?.reject(error);
    this.inFlight = null;
    this.listener.onLost(error);
  }
}

function describe(command: Command): Said | string {
  switch (command.type) {
    case "speed":
      return said("set speed {} rpm", command.speedRpm);
    case "vacuum":
      return said("set vacuum {} Pa", command.vacuumPa);
    default:
      return command.type;
  }
}
