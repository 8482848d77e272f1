// One direction of a line with its troubles: bytes in at one end, other bytes or the same out at the other, later.
import { asciiBytes, encodeLine } from "../../core/codec/framing.ts";
import type { Scheduler } from "../../core/scheduler.ts";
import type { Random } from "../../sim/random.ts";
import type { Fault, FaultKind, Way } from "./faults.ts";

/** Bytes of a flood come this often. */
const FLOOD_EVERY_MS = 5;
const UNKNOWN_LINES = [encodeLine("gauge,17,4.2,ok"), asciiBytes("\r\n")];

export class Wire {
  /** Bytes that were changed, lost, doubled or held back. */
  troubled = 0;
  private readonly faults: readonly Fault[];
  private readonly scheduler: Scheduler;
  private readonly random: Random;
  private readonly deliver: (bytes: Uint8Array) => void;
  private readonly sinceMs: () => number;
  private readonly waiting: { readonly dueMs: number; readonly bytes: Uint8Array }[] = [];
  private lastDueMs = 0;

  /** `sinceMs`: the time by which faults go. */
  constructor(
    way: Way,
    faults: readonly Fault[],
    around: {
      readonly scheduler: Scheduler;
      readonly random: Random;
      readonly sinceMs: () => number;
    },
    deliver: (bytes: Uint8Array) => void,
  ) {
    this.faults = faults.filter(({ ways }) => ways.includes(way));
    this.scheduler = around.scheduler;
    this.random = around.random;
    this.sinceMs = around.sinceMs;
    this.deliver = deliver;
  }

  /** Lets floods begin; called once the line is in use. */
  begin(): void {
    for (const flood of this.all("flood")) {
      const pour = () => {
        this.carry(this.floodBytes(flood));
        if (this.sinceMs() < flood.toMs) this.scheduler.after(FLOOD_EVERY_MS, pour);
      };
      this.scheduler.after(Math.max(0, flood.fromMs - this.sinceMs()), pour);
    }
  }

  push(bytes: Uint8Array): void {
    this.carry(this.changed(bytes));
  }

  /** Whether nothing is on its way any more. */
  get empty(): boolean {
    return this.waiting.length === 0;
  }

  private *all<K extends FaultKind>(kind: K): Generator<Extract<Fault, { kind: K }>> {
    for (const fault of this.faults) {
      if (fault.kind === kind) yield fault as Extract<Fault, { kind: K }>;
    }
  }

  private *now<K extends FaultKind>(kind: K): Generator<Extract<Fault, { kind: K }>> {
    const nowMs = this.sinceMs();
    for (const fault of this.all(kind)) {
      if (nowMs >= fault.fromMs && nowMs < fault.toMs) yield fault;
    }
  }

  private chance(share: number): boolean {
    return this.random.uniform() < share;
  }

  private below(count: number): number {
    return Math.floor(this.random.uniform() * count);
  }

  private changed(bytes: Uint8Array): Uint8Array {
    let now: number[] = Array.from(bytes);
    for (const { share, bytesMax } of this.now("lost"))
      now = this.runs(now, share, bytesMax, "lost");
    for (const { share, bytesMax } of this.now("doubled")) {
      now = this.runs(now, share, bytesMax, "doubled");
    }
    for (const { share, bytesMax } of this.now("burst"))
      now = this.runs(now, share, bytesMax, "burst");
    for (const { share } of this.now("flipped")) {
      now = now.map((byte) => {
        if (!this.chance(share)) return byte;
        this.troubled++;
        return byte ^ (1 << this.below(8));
      });
    }
    for (const _ of this.now("wrong baud")) {
      this.troubled += now.length;
      const length = Math.ceil(now.length * (0.3 + 1.5 * this.random.uniform()));
      now = Array.from({ length }, () => this.below(256));
    }
    return Uint8Array.from(now);
  }

  private runs(
    bytes: readonly number[],
    share: number,
    bytesMax: number,
    how: "lost" | "doubled" | "burst",
  ): number[] {
    const out: number[] = [];
    for (let at = 0; at < bytes.length; ) {
      if (!this.chance(share)) {
        out.push(bytes[at++] as number);
        continue;
      }
      const run = bytes.slice(at, at + 1 + this.below(bytesMax));
      at += run.length;
      this.troubled += run.length;
      if (how === "doubled") out.push(...run, ...run);
      if (how === "burst") out.push(...run.map(() => this.below(256)));
    }
    return out;
  }

  private floodBytes(flood: Extract<Fault, { kind: "flood" }>): Uint8Array {
    const count = Math.round((flood.bytesPerS * FLOOD_EVERY_MS) / 1000);
    this.troubled += count;
    if (flood.of === "noise") return Uint8Array.from({ length: count }, () => this.below(256));
    const lines: number[] = [];
    while (lines.length < count) lines.push(...(UNKNOWN_LINES[this.below(2)] as Uint8Array));
    return Uint8Array.from(lines);
  }

  /** In order, and not before its time. */
  private carry(bytes: Uint8Array): void {
    if (bytes.length === 0) return;
    const nowMs = this.scheduler.nowMs();
    let dueMs = nowMs;
    for (const { kept, toMs } of this.now("stalled")) {
      this.troubled += bytes.length;
      if (!kept) return;
      dueMs = Math.max(dueMs, nowMs + toMs - this.sinceMs());
    }
    for (const { byMs } of this.now("delayed")) dueMs = Math.max(dueMs, nowMs + byMs);
    for (const { everyMs } of this.now("merged")) {
      dueMs = Math.max(dueMs, Math.ceil(nowMs / everyMs) * everyMs);
    }
    this.lastDueMs = Math.max(this.lastDueMs, dueMs);
    if (this.lastDueMs <= nowMs && this.waiting.length === 0) {
      this.deliver(bytes);
      return;
    }
    this.waiting.push({ dueMs: this.lastDueMs, bytes });
    this.scheduler.after(this.lastDueMs - nowMs, () => this.deliverDue());
  }

  /** What is due comes as one lump, cut anywhere. */
  private deliverDue(): void {
    const due: number[] = [];
    while ((this.waiting[0]?.dueMs ?? Number.POSITIVE_INFINITY) <= this.scheduler.nowMs()) {
      due.push(...((this.waiting.shift() as { bytes: Uint8Array }).bytes as Uint8Array));
    }
    for (let from = 0; from < due.length; ) {
      const to = from + 1 + this.below(2 * due.length);
      this.deliver(Uint8Array.from(due.slice(from, to)));
      from = to;
    }
  }
}
