// The cable between host and rig, with its faults: the rig lives on at its end whatever the host does with a port.
import { asciiText, encodeLine, LineCutter } from "../../core/codec/framing.ts";
import { BobweightError } from "../../core/errors.ts";
import { type Said, said } from "../../core/said.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { BytePort } from "../../server/link/bytePort.ts";
import { Random } from "../../sim/random.ts";
import type { Fault, FaultKind } from "./faults.ts";
import { Wire } from "./wire.ts";

const TO_RIG_STREAM = 11;
const FROM_RIG_STREAM = 12;
/** How often a frozen rig repeats itself and another device speaks. */
const STALE_EVERY_MS = 40;
/** So many of the last lines a frozen rig goes on with. */
const STALE_LINES = 6;
/** What a frozen rig still sends: answers, and all but turns where it does not repeat itself. */
const ANSWERS = /^(ok|no|hello),/;
const TURNS = /^(rev|pick),/;
const HOST_BYTES_KEPT = 400;

export class Cable {
  /** Every line of the rig as it left it, before any fault. */
  onRigLine: (body: string) => void = () => {};
  /** What the host gets, just before it does. */
  onHostBytes: (bytes: Uint8Array) => void = () => {};
  private readonly rig: BytePort;
  private readonly scheduler: Scheduler;
  private readonly faults: readonly Fault[];
  private readonly wires: { readonly toRig: Wire; readonly fromRig: Wire };
  private readonly cutter = new LineCutter((bytes, from, to) =>
    this.rigLine(asciiText(bytes, from, to)),
  );
  private readonly recentLines: string[] = [];
  private recentHost: number[] = [];
  private startMs: number | null = null;
  private host: HostEnd | null = null;
  private name = "first";
  private isOut = false;
  private otherLines = 0;

  /** `rig`: the port of the rig itself; it is opened with the first port of this cable and stays open. */
  constructor(rig: BytePort, scheduler: Scheduler, seed: number, faults: readonly Fault[]) {
    this.rig = rig;
    this.scheduler = scheduler;
    this.faults = faults;
    const around = (stream: number) => ({
      scheduler,
      random: new Random(seed, stream),
      sinceMs: () => this.sinceMs(),
    });
    this.wires = {
      toRig: new Wire("toRig", faults, around(TO_RIG_STREAM), (bytes) => rig.write(bytes)),
      fromRig: new Wire("fromRig", faults, around(FROM_RIG_STREAM), (bytes) => {
        if (this.host === null) return;
        this.onHostBytes(bytes);
        this.host.onBytes(bytes);
      }),
    };
    rig.onBytes = (bytes) => this.fromRig(bytes);
  }

  /** Bytes changed, lost, doubled, added or held back, both ways together. */
  get troubled(): number {
    return this.wires.toRig.troubled + this.wires.fromRig.troubled;
  }

  /** Whether nothing is on its way to the rig any more. */
  get quiet(): boolean {
    return this.wires.toRig.empty;
  }

  /** What the computer calls the port now; another one after a return under another name. */
  get portName(): string {
    return this.name;
  }

  /** The cable comes out at the computer; the rig keeps its power. */
  pull(): void {
    const { host } = this;
    this.host = null;
    this.isOut = true;
    host?.lost();
  }

  /** It goes in again, and the computer may give it another name. */
  plugIn(sameName: boolean): void {
    this.isOut = false;
    if (!sameName) this.name = `${this.name} again`;
  }

  /** A port as the computer has it under this name; one for each connection. */
  port(name: string): BytePort {
    return new HostEnd(this, name);
  }

  /** Milliseconds until the cable is in for good. */
  backInMs(): number {
    const ends = this.faults.filter(({ kind }) => kind === "unplugged").map(({ toMs }) => toMs);
    return Math.max(0, ...ends.map((toMs) => toMs - this.sinceMs()));
  }

  /** For `HostEnd`. @throws RIG_NOT_AVAILABLE */
  async connect(host: HostEnd, name: string): Promise<void> {
    if (this.startMs === null) {
      this.startMs = this.scheduler.nowMs();
      await this.rig.open();
      this.begin();
    }
    if (this.isOut || name !== this.name) {
      throw new BobweightError(
        "RIG_NOT_AVAILABLE",
        said("The port {} cannot be opened ({}).", name, "gone"),
      );
    }
    this.host = host;
  }

  disconnect(host: HostEnd): void {
    if (this.host === host) this.host = null;
  }

  fromHost(bytes: Uint8Array): void {
    this.recentHost = [...this.recentHost, ...bytes].slice(-HOST_BYTES_KEPT);
    if (this.isCut()) return;
    this.wires.toRig.push(bytes);
  }

  /** Pulls the plug of the rig itself, at the very end. */
  close(): Promise<void> {
    return this.rig.close();
  }

  private sinceMs(): number {
    return this.startMs === null ? 0 : this.scheduler.nowMs() - this.startMs;
  }

  private is(kind: FaultKind): boolean {
    return this.faults.some((fault) => fault.kind === kind && this.isNow(fault));
  }

  private isNow({ fromMs, toMs }: Fault): boolean {
    const nowMs = this.sinceMs();
    return nowMs >= fromMs && nowMs < toMs;
  }

  private begin(): void {
    this.wires.toRig.begin();
    this.wires.fromRig.begin();
    for (const fault of this.faults) this.schedule(fault);
  }

  private schedule(fault: Fault): void {
    const { scheduler } = this;
    if (fault.kind === "unplugged") {
      scheduler.after(fault.fromMs, () => this.pull());
      if (Number.isFinite(fault.toMs)) {
        scheduler.after(fault.toMs, () => this.plugIn(fault.sameName));
      }
    }
    if (fault.kind === "replayed") {
      scheduler.after(fault.fromMs, () =>
        this.wires.toRig.push(Uint8Array.from(this.recentHost.slice(-fault.bytes))),
      );
    }
    if (fault.kind === "frozen" || fault.kind === "other device") {
      const speak = () => {
        if (fault.kind === "other device") this.speak(fault.speaks);
        else if (fault.repeats) this.repeat();
        if (this.sinceMs() < fault.toMs) scheduler.after(STALE_EVERY_MS, speak);
      };
      scheduler.after(fault.fromMs, speak);
    }
  }

  private fromRig(bytes: Uint8Array): void {
    const isFrozen = this.is("frozen");
    this.cutter.push(bytes);
    if (isFrozen || this.isCut()) return;
    this.wires.fromRig.push(bytes);
  }

  private rigLine(body: string): void {
    this.onRigLine(body);
    const frozen = this.faults.filter((fault) => fault.kind === "frozen" && this.isNow(fault));
    if (frozen.length === 0) {
      if (ANSWERS.test(body)) return;
      this.recentLines.push(body);
      if (this.recentLines.length > STALE_LINES) this.recentLines.shift();
      return;
    }
    const repeats = frozen.some((fault) => fault.kind === "frozen" && fault.repeats);
    const passes = repeats ? ANSWERS.test(body) : !TURNS.test(body);
    if (passes && !this.isCut()) this.wires.fromRig.push(encodeLine(body));
  }

  private isCut(): boolean {
    return this.isOut || this.is("other device");
  }

  private repeat(): void {
    if (this.isCut()) return;
    for (const body of this.recentLines) this.wires.fromRig.push(encodeLine(body));
  }

  private speak(what: "text" | "protocol"): void {
    if (this.isOut) return;
    const at = this.otherLines++;
    if (what === "text") {
      this.wires.fromRig.push(encodeLine(`GPGGA,${at},4807.038,N,01131.000,E,1,08,0.9`));
      return;
    }
    this.wires.fromRig.push(encodeLine(`state,${at},${1000 * at},0,0,none,0,1,0,none`));
    this.wires.fromRig.push(encodeLine(`vac,${at},${1000 * at},0,0,vent`));
  }
}

class HostEnd implements BytePort {
  onBytes: (bytes: Uint8Array) => void = () => {};
  onLost: (what: Said | string) => void = () => {};
  private readonly cable: Cable;
  private readonly name: string;
  private isOpen = false;

  constructor(cable: Cable, name: string) {
    this.cable = cable;
    this.name = name;
  }

  async open(): Promise<void> {
    await this.cable.connect(this, this.name);
    this.isOpen = true;
  }

  write(bytes: Uint8Array): void {
    if (this.isOpen) this.cable.fromHost(bytes);
  }

  async close(): Promise<void> {
    this.isOpen = false;
    this.cable.disconnect(this);
  }

  lost(): void {
    this.isOpen = false;
    this.onLost("unplugged");
  }
}
