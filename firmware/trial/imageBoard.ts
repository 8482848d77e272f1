// The board of the stand-in rig as a firmware image run cycle by cycle (harness.c), in step with the plant.
import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { closeSync, constants, mkdtempSync, openSync, readSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Plant } from "../../sim/plant.ts";
import type { Edges } from "../../sim/shaft.ts";
import type { RigBoard } from "../../sim/standInRig.ts";

export const CPU_HZ = 16_000_000;
export const CYCLES_PER_TICK = 8;
export const TICK_HZ = CPU_HZ / CYCLES_PER_TICK;
/** The image lags behind the physics, so that every edge is known before its cycle comes. */
const LAG_S = 0.001;
const PULSE_CYCLES = 200;
/** By how much the index track comes before its pickup edge. */
const TRACK_LEAD_CYCLES = 160;
/** Full drive, pump and valve, by the compare registers. */
const PWM_TOP = 32_000;
const [PICKUP, TRIGGER, TRACK] = [0, 1, 2] as const;
const [LINE_VALVE, ANTICLOCKWISE, DRIVE_ON] = [1, 2, 4] as const;
/** Of the vacuum sensor that the firmware is set to: volts for 0 and for its upper end. */
const SENSOR_MV = { zero: 500, full: 4500, fullPa: 90_000, failed: 0 } as const;
const ACTS = ["nothing", "hangs", "powerReturns"] as const;
const REQUEST_BYTES = 16;
const EDGE_BYTES = 10;
const REPLY_BYTES = 34;

interface Pulse {
  readonly cycle: number;
  readonly pin: number;
  readonly level: number;
}

/** What the pins and the simulator told after a step. */
export interface ImageReply {
  readonly cycle: number;
  /** When the drive was last switched off. */
  readonly offCycle: number;
  readonly driveOn: boolean;
  readonly resets: number;
  readonly lateEdges: number;
  readonly longestInterruptCycles: number;
  readonly ramUsedBytes: number;
  /** Bytes from the host that the program did not fetch in time. */
  readonly overruns: number;
  readonly bytes: Uint8Array;
}

/** A running image. Synchronous: a step returns when the image has run through it. */
export class Image {
  /** What befalls the processor before the next step; `hangs` lasts until its watchdog acts. */
  next: (typeof ACTS)[number] = "nothing";
  /** Up to which it has run. */
  cycle = 0;
  private readonly child: ChildProcess;
  private readonly folder: string;
  private readonly requests: number;
  private readonly replies: number;
  private ended = false;

  /** `tracePath`: a file for every change of the signals that harness.c names. */
  constructor(harnessPath: string, imagePath: string, tracePath?: string) {
    this.folder = mkdtempSync(join(tmpdir(), "bobweight-image-"));
    const [requests, replies] = [join(this.folder, "requests"), join(this.folder, "replies")];
    execFileSync("mkfifo", [requests, replies]);
    const files = [imagePath, requests, replies, ...(tracePath === undefined ? [] : [tracePath])];
    this.child = spawn(harnessPath, files, { stdio: ["ignore", "ignore", "inherit"] });
    // Both ways, so that opening does not wait; replies end when the harness does.
    this.requests = openSync(requests, constants.O_RDWR);
    this.replies = openSync(replies, constants.O_RDONLY);
  }

  step(
    untilCycle: number,
    pulses: readonly Pulse[],
    bytes: Uint8Array,
    sensorMv: number,
    inputs: number,
  ): ImageReply & { port: number; drive: number; pump: number; vent: number } {
    const request = Buffer.alloc(REQUEST_BYTES + EDGE_BYTES * pulses.length + bytes.length);
    request.writeBigUInt64LE(BigInt(untilCycle), 0);
    request.writeUInt16LE(pulses.length, 8);
    request.writeUInt16LE(bytes.length, 10);
    request.writeUInt16LE(sensorMv, 12);
    request.writeUInt8(inputs, 14);
    request.writeUInt8(ACTS.indexOf(this.next), 15);
    this.next = "nothing";
    pulses.forEach(({ cycle, pin, level }, i) => {
      const at = REQUEST_BYTES + EDGE_BYTES * i;
      request.writeBigUInt64LE(BigInt(cycle), at);
      request.writeUInt8(pin, at + 8);
      request.writeUInt8(level, at + 9);
    });
    request.set(bytes, REQUEST_BYTES + EDGE_BYTES * pulses.length);
    for (let from = 0; from < request.length; ) from += writeSync(this.requests, request, from);
    const reply = this.read(REPLY_BYTES);
    this.cycle = Number(reply.readBigUInt64LE(0));
    return {
      cycle: this.cycle,
      offCycle: Number(reply.readBigUInt64LE(8)),
      drive: reply.readUInt16LE(16),
      pump: reply.readUInt16LE(18),
      vent: reply.readUInt16LE(20),
      port: reply.readUInt8(22),
      driveOn: (reply.readUInt8(22) & DRIVE_ON) !== 0,
      resets: reply.readUInt8(23),
      lateEdges: reply.readUInt16LE(24),
      longestInterruptCycles: reply.readUInt16LE(26),
      ramUsedBytes: reply.readUInt16LE(28),
      overruns: reply.readUInt16LE(30),
      bytes: this.read(reply.readUInt16LE(32)),
    };
  }

  get closed(): boolean {
    return this.ended;
  }

  close(): void {
    if (this.ended) return;
    this.ended = true;
    closeSync(this.requests);
    closeSync(this.replies);
    this.child.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }

  private read(count: number): Buffer {
    const bytes = Buffer.alloc(count);
    for (let from = 0; from < count; ) {
      const read = readSync(this.replies, bytes, from, count - from, null);
      if (read === 0) throw new Error("the firmware's simulator ended; what it said stands above");
      from += read;
    }
    return bytes;
  }
}

export class ImageBoard implements RigBoard {
  readonly outbox: { take(): Uint8Array | null };
  firstSpeedS: number | null = null;
  /** After the last step; null before the first. */
  last: ImageReply | null = null;
  /** When the safety inputs last changed at the pins. */
  inputsCycle = 0;
  /** Of the last index pulses given to the pins. */
  readonly indexCycles: number[] = [];
  private inputs = 0;
  private readonly plant: Plant;
  private readonly image: Image;
  private readonly bootS: number;
  /** Of the image when it booted. */
  private readonly bootCycle: number;
  private readonly cyclesPerS: number;
  private readonly manyEdges: boolean;
  private pulses: Pulse[] = [];
  private incoming: Uint8Array[] = [];
  private outgoing: Uint8Array[] = [];

  constructor(plant: Plant, rig: { tickErrorPpm: number; pickupEdges: number }, image: Image) {
    this.plant = plant;
    this.image = image;
    this.bootS = plant.timeS;
    this.bootCycle = image.cycle;
    this.cyclesPerS = CPU_HZ * (1 + rig.tickErrorPpm * 1e-6);
    this.manyEdges = rig.pickupEdges > 1;
    this.outbox = { take: () => this.takeOutgoing() };
  }

  receive(bytes: Uint8Array): void {
    this.incoming.push(bytes);
  }

  beforeStep(): void {}

  afterStep(): void {
    this.take(this.plant.pickup, (mark, cycle) => this.pickup(mark, cycle));
    this.take(this.plant.trigger, (mark, cycle) => this.set(cycle, TRIGGER, mark === 0 ? 1 : 0));
    const untilS = this.plant.timeS - this.bootS - LAG_S;
    if (untilS <= 0) return;
    const inputs = (this.plant.guardShut ? 0 : 1) + (this.plant.stopPressed ? 2 : 0);
    if (inputs !== this.inputs) this.inputsCycle = this.last?.cycle ?? 0;
    this.inputs = inputs;
    const reply = this.image.step(
      this.bootCycle + Math.round(untilS * this.cyclesPerS),
      this.pulses,
      Buffer.concat(this.incoming),
      this.sensorMv(),
      inputs,
    );
    this.pulses = [];
    this.incoming = [];
    this.last = reply;
    if (reply.bytes.length > 0) this.outgoing.push(reply.bytes);
    const wires = this.plant.inputs;
    wires.drive = reply.driveOn ? reply.drive / PWM_TOP : null;
    wires.direction = reply.port & ANTICLOCKWISE ? "ccw" : "cw";
    wires.pump = reply.pump / PWM_TOP;
    wires.bleed = 1 - reply.vent / PWM_TOP;
    if (reply.port & LINE_VALVE) wires.valve = "control";
    else wires.valve = reply.vent > 0 ? "hold" : "vent";
    if (reply.driveOn) this.firstSpeedS ??= this.plant.timeS;
  }

  shutdown(): void {
    this.image.close();
  }

  private take(edges: Edges, each: (mark: number, cycle: number) => void): void {
    for (let i = 0; i < edges.count; i++) {
      const timeS = edges.timesS[i] as number;
      const cycle = Math.round((timeS - this.bootS) * this.cyclesPerS);
      each(edges.marks[i] as number, this.bootCycle + cycle);
    }
  }

  private pickup(mark: number, cycle: number): void {
    if (mark === 0) this.indexCycles.push(cycle);
    if (mark === 0 && this.manyEdges) this.pulse(cycle - TRACK_LEAD_CYCLES, TRACK);
    this.pulse(cycle, PICKUP);
  }

  private pulse(cycle: number, pin: number): void {
    this.set(cycle, pin, 1);
    this.set(cycle + PULSE_CYCLES, pin, 0);
  }

  private set(cycle: number, pin: number, level: number): void {
    this.pulses.push({ cycle: Math.max(0, cycle), pin, level });
  }

  private sensorMv(): number {
    const pa = this.plant.readVacuumPa();
    if (pa === null) return SENSOR_MV.failed;
    const { zero, full, fullPa } = SENSOR_MV;
    return Math.round(Math.min(Math.max(zero + (pa / fullPa) * (full - zero), 0), 5000));
  }

  private takeOutgoing(): Uint8Array | null {
    if (this.outgoing.length === 0) return null;
    const bytes = Buffer.concat(this.outgoing);
    this.outgoing = [];
    return bytes;
  }
}
