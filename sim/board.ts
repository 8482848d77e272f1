// The board of the stand-in rig: reads the plant's edges and sensors, drives it, and speaks the rig protocol.
import { asciiText, LineCutter } from "../core/codec/framing.ts";
import { type ParsedHostLine, parseHostLine } from "../core/codec/hostLines.ts";
import type { Direction, RefusalReason, RigFault } from "../core/codec/rigLines.ts";
import { SpindleSpeed, stallTimeS, TickCounter } from "./capture.ts";
import { CommandRecord, type NumberedLine } from "./commandRecord.ts";
import { Outbox } from "./outbox.ts";
import { fullRadS, type Plant, RPM_PER_RAD_S } from "./plant.ts";
import type { Random } from "./random.ts";
import { refusal } from "./refusals.ts";
import { type BootCounters, directionsOf, Reports } from "./reports.ts";
import type { RigSetup } from "./scenario.ts";
import { SpeedControl } from "./speedControl.ts";
import type { RigBoard } from "./standInRig.ts";
import { TurnLines } from "./turnLines.ts";
import { VacuumControl } from "./vacuumControl.ts";

/** Numbers of this firmware: clauses 6.1, 6.4 and 6.6. */
const ALIVE_S = 0.4;
const OVERSPEED_RATIO = 1.1;
const FROM_REST_S = 1;
const VACUUM_LOOP_S = 0.005;

export class Board implements RigBoard {
  readonly outbox: Outbox;
  /** When the first `speed` was accepted, in the plant's time; null before. */
  firstSpeedS: number | null = null;
  private readonly plant: Plant;
  private readonly rig: RigSetup;
  private readonly random: Random;
  private readonly ticks: TickCounter;
  /** Of the board's seconds in a true one: its control goes by the same clock as its ticks. */
  private readonly clockRatio: number;
  private readonly spindle: SpindleSpeed;
  private readonly reports: Reports;
  private readonly turnLines: TurnLines;
  private readonly speedControl: SpeedControl;
  private readonly vacuumControl: VacuumControl;
  private readonly cutter = new LineCutter((bytes, from, to) => this.take(bytes, from, to));
  private readonly commands = new CommandRecord();
  private readonly directions: readonly Direction[];
  private readonly guardWired: boolean;
  private readonly stopWired: boolean;
  private malformed = 0;
  private token: string | null = null;
  private lastToken: string | null = null;
  private aliveUntilS = 0;
  private fault: RigFault = "none";
  private setRpm = 0;
  private direction: Direction | "none" = "none";
  private driveSinceS = 0;
  private fromRest = false;
  private readingPa: number | null = 0;
  private readingTick = 0;
  private nextLoopS: number;

  /** Boots: drive off, line vented, and a `hello` that nobody asked for (clauses 3.1 and 6.3). */
  constructor(plant: Plant, rig: RigSetup, random: Random, counters: BootCounters) {
    this.plant = plant;
    this.rig = rig;
    this.random = random;
    this.directions = directionsOf(rig);
    this.guardWired = rig.inputs.includes("guard");
    this.stopWired = rig.inputs.includes("stop");
    this.outbox = new Outbox(rig.linkBytesPerS);
    this.clockRatio = 1 + rig.tickErrorPpm * 1e-6;
    const trueHz = rig.tickHz * this.clockRatio;
    this.ticks = new TickCounter(trueHz, counters.firstTick, plant.timeS);
    this.spindle = new SpindleSpeed(rig.tickHz);
    this.reports = new Reports(this.outbox, this.ticks, rig, counters, plant.timeS);
    this.turnLines = new TurnLines(this.outbox, rig, counters.turn, random);
    this.speedControl = new SpeedControl(fullRadS(rig.speedMaxRpm) * RPM_PER_RAD_S);
    this.vacuumControl = new VacuumControl(rig);
    this.nextLoopS = plant.timeS;
    this.switchOff();
    this.outbox.push(this.reports.hello(0));
  }

  /** Lines dropped and counted (clauses 1.4 and 1.6). */
  get linesDropped(): number {
    const { tooLong, badByte, badCrc } = this.cutter.counts;
    return tooLong + badByte + badCrc + this.malformed;
  }

  receive(bytes: Uint8Array): void {
    this.cutter.push(bytes);
  }

  /** Nothing of it outlives the rig. */
  shutdown(): void {}

  beforeStep(dtS: number): void {
    this.plant.inputs.drive = this.speedControl.step(dtS * this.clockRatio);
  }

  afterStep(): void {
    const nowS = this.plant.timeS;
    this.readEdges(nowS);
    if (nowS >= this.nextLoopS) this.loop(nowS);
    this.watch(nowS);
    this.report(nowS);
  }

  private readEdges(nowS: number): void {
    const { trigger, pickup } = this.plant;
    for (let i = 0; i < trigger.count; i++) {
      const tick = this.ticks.at(trigger.timesS[i] as number);
      this.turnLines.trigger(tick, trigger.marks[i] as number);
    }
    for (let i = 0; i < pickup.count; i++) {
      const timeS = pickup.timesS[i] as number;
      const mark = pickup.marks[i] as number;
      const tick = this.ticks.at(timeS);
      this.turnLines.pickup(tick, mark);
      if (mark !== 0) continue;
      this.spindle.index(timeS, tick);
      this.speedControl.index(this.spindle.turnS, nowS - timeS);
      if (this.spindle.turnS > 0) this.fromRest = false;
    }
  }

  /** Sensor and vacuum control, every 5 ms. */
  private loop(nowS: number): void {
    this.nextLoopS += VACUUM_LOOP_S;
    if (this.rig.vacuumMaxPa === 0) return;
    this.readingPa = this.plant.readVacuumPa();
    this.readingTick = this.ticks.at(nowS);
    if (this.readingPa === null) return;
    this.vacuumControl.step(VACUUM_LOOP_S, this.readingPa);
    this.plant.inputs.pump = this.vacuumControl.pump;
    this.plant.inputs.bleed = this.vacuumControl.bleed;
  }

  /** Part 6: everything that stops the rig without the host. */
  private watch(nowS: number): void {
    if (this.token !== null && nowS >= this.aliveUntilS) {
      this.switchOff();
      this.fault = "alive";
    }
    const { lastIndexS } = this.spindle;
    if (lastIndexS !== null && nowS - lastIndexS > this.standstillS()) {
      this.spindle.stoodStill();
      this.turnLines.stoodStill();
    }
    if (this.token !== null || this.turning) {
      if (!this.guardShut) this.latch("guard");
      else if (this.stopPressed) this.latch("stop-input");
    }
    if (this.overspeed(nowS)) this.latch("overspeed");
    if (this.stalled(nowS)) this.latch("stall");
    if (this.readingPa === null) this.latch("sensor");
  }

  private get guardShut(): boolean {
    return !this.guardWired || this.plant.guardShut;
  }

  private get stopPressed(): boolean {
    return this.stopWired && this.plant.stopPressed;
  }

  /** Driven, or coasting with an index pulse not long ago. */
  private get turning(): boolean {
    return this.speedControl.turning || this.spindle.lastIndexS !== null;
  }

  private overspeed(nowS: number): boolean {
    return this.spindle.rpmAt(nowS) > OVERSPEED_RATIO * this.rig.speedMaxRpm;
  }

  private standstillS(): number {
    if (this.speedControl.turning) return stallTimeS(this.speedControl.rampedRpm);
    // Coasting has no target: the last turn says how long the next one takes.
    return stallTimeS(this.spindle.turnS > 0 ? 60 / this.spindle.turnS : Number.POSITIVE_INFINITY);
  }

  private stalled(nowS: number): boolean {
    if (!this.speedControl.turning) return false;
    const sinceS = Math.max(this.driveSinceS, this.spindle.lastIndexS ?? 0);
    const allowedS = stallTimeS(this.speedControl.rampedRpm) + (this.fromRest ? FROM_REST_S : 0);
    return nowS - sinceS > allowedS;
  }

  private latch(fault: RigFault): void {
    this.switchOff();
    // The first fault stays until it is cleared (clause 6.2).
    if (this.fault === "none" || this.fault === "alive") this.fault = fault;
  }

  /** What `stop` does (clause 4.4). */
  private switchOff(): void {
    this.token = null;
    this.setRpm = 0;
    this.speedControl.off();
    this.vacuumControl.off();
    const { inputs } = this.plant;
    inputs.drive = null;
    inputs.pump = 0;
    inputs.bleed = 0;
    inputs.valve = "vent";
  }

  /** A `stop` or `ask` clears the fault if its cause is gone (clause 6.2). */
  private clearFault(): void {
    const nowS = this.plant.timeS;
    const remains =
      (this.fault === "guard" && !this.guardShut) ||
      (this.fault === "stop-input" && this.stopPressed) ||
      (this.fault === "overspeed" && this.overspeed(nowS)) ||
      (this.fault === "sensor" && this.plant.readVacuumPa() === null);
    if (!remains) this.fault = "none";
  }

  private take(bytes: Uint8Array, from: number, to: number): void {
    const line: ParsedHostLine = parseHostLine(bytes, from, to);
    if (line.type === "unknown") return;
    if (line.type === "malformed") {
      this.malformed++;
      return;
    }
    if (line.type === "alive") {
      if (line.token === this.token) this.aliveUntilS = this.plant.timeS + ALIVE_S;
      return;
    }
    const text = asciiText(bytes, from, to);
    const settled = this.commands.settled(line, text);
    const answer = settled ?? this.answer(line);
    if (settled === null) this.commands.remember(line.number, text, answer);
    this.outbox.push(answer);
  }

  /** Carries a new command out or refuses it; gives the answer's body. */
  private answer(line: NumberedLine): string {
    const reason = this.refusal(line);
    if (reason !== null) return `no,${line.number},${reason}`;
    this.carryOut(line);
    if (line.type === "ask") return this.reports.hello(line.number);
    return line.type === "arm" ? `ok,${line.number},${this.token}` : `ok,${line.number}`;
  }

  private refusal(line: NumberedLine): RefusalReason | null {
    const { rig } = this;
    return refusal(line, {
      guardShut: this.guardShut,
      stopPressed: this.stopPressed,
      latched: this.fault !== "none" && this.fault !== "alive",
      token: this.token,
      directions: this.directions,
      turning: this.turning ? this.plant.inputs.direction : null,
      speedMinRpm: rig.speedMinRpm,
      speedMaxRpm: rig.speedMaxRpm,
      vacuumMaxPa: rig.vacuumMaxPa,
    });
  }

  private carryOut(line: NumberedLine): void {
    const { inputs, timeS } = this.plant;
    switch (line.type) {
      case "ask":
      case "stop":
        this.switchOff();
        this.clearFault();
        break;
      case "arm":
        this.switchOff();
        this.fault = "none";
        this.token = this.newToken();
        this.aliveUntilS = timeS + ALIVE_S;
        break;
      case "speed":
        this.goToSpeed(line.direction, line.speedRpm, line.rampRpmPerS);
        break;
      case "vacuum":
        this.vacuumControl.goTo(line.vacuumPa, this.readingPa ?? 0);
        inputs.valve = "control";
        break;
      case "hold":
      case "vent":
        this.vacuumControl.off();
        inputs.pump = 0;
        inputs.bleed = 0;
        inputs.valve = line.type;
        break;
    }
  }

  private goToSpeed(direction: Direction, goalRpm: number, rampRpmPerS: number): void {
    const { timeS, inputs } = this.plant;
    if (!this.speedControl.turning) {
      this.driveSinceS = timeS;
      this.fromRest = this.spindle.lastIndexS === null;
    }
    this.speedControl.goTo(goalRpm, rampRpmPerS, this.spindle.rpmAt(timeS));
    this.setRpm = goalRpm;
    inputs.direction = direction;
    if (goalRpm === 0 && !this.speedControl.turning) return;
    this.direction = direction;
    this.firstSpeedS ??= timeS;
  }

  private newToken(): string {
    let token: string;
    do token = this.random.whole32().toString(16).toUpperCase().padStart(8, "0");
    while (token === this.lastToken);
    this.lastToken = token;
    return token;
  }

  private report(nowS: number): void {
    this.reports.state(nowS, {
      setRpm: this.setRpm,
      nowRpm: this.spindle.rpmAt(nowS),
      direction: this.direction,
      armed: this.token !== null,
      guardShut: this.guardShut,
      stopPressed: this.stopPressed,
      fault: this.fault,
    });
    const { pump, valve } = this.plant.inputs;
    this.reports.vacuum(nowS, this.readingPa, this.readingTick, pump, valve);
  }
}
