// A clock and a host by hand for the tests of the stand-in rig.
import { encodeLine, LineCutter } from "../../core/codec/framing.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import type { RigLine } from "../../core/codec/rigLines.ts";
import type { Scheduler, Timer } from "../../core/scheduler.ts";
import { parseScenario } from "../../sim/scenario.ts";
import { StandInRig } from "../../sim/standInRig.ts";

/** Virtual time in one loop. */
export class HandClock implements Scheduler {
  private timeMs = 0;
  private timers: { atMs: number; action: () => void }[] = [];

  nowMs(): number {
    return this.timeMs;
  }

  after(delayMs: number, action: () => void): Timer {
    const entry = { atMs: this.timeMs + delayMs, action };
    this.timers.push(entry);
    return {
      cancel: () => {
        this.timers = this.timers.filter((timer) => timer !== entry);
      },
    };
  }

  runUntil(endMs: number): void {
    for (;;) {
      const next = this.timers.reduce<(typeof this.timers)[number] | null>(
        (first, timer) => (first === null || timer.atMs < first.atMs ? timer : first),
        null,
      );
      if (next === null || next.atMs > endMs) break;
      this.timers = this.timers.filter((timer) => timer !== next);
      this.timeMs = next.atMs;
      next.action();
    }
    this.timeMs = endMs;
  }
}

type LineOf<T extends RigLine["type"]> = Extract<RigLine, { readonly type: T }>;

/** A stand-in rig with everything it has said. */
export class Bench {
  readonly clock = new HandClock();
  readonly rig: StandInRig;
  readonly bytes: number[] = [];
  readonly lines: RigLine[] = [];
  malformed = 0;
  token = "";
  private number = 0;
  private readonly cutter = new LineCutter((bytes, from, to) => {
    const line = parseRigLine(bytes.subarray(from, to));
    if (line.type === "malformed" || line.type === "unknown") this.malformed++;
    else this.lines.push(line);
  });

  constructor(scenario: unknown) {
    this.rig = new StandInRig(parseScenario(scenario, "test.scenario.json"), this.clock);
    this.rig.onBytes = (bytes) => {
      this.bytes.push(...bytes);
      this.cutter.push(bytes);
    };
  }

  get framingCounts() {
    return this.cutter.counts;
  }

  /** Sends a line's body as it is. */
  send(body: string): void {
    this.rig.receive(encodeLine(body));
  }

  /** Lets time pass without a sign of life. */
  wait(seconds: number): void {
    this.clock.runUntil(this.clock.nowMs() + seconds * 1000);
  }

  /** Lets time pass with a sign of life every 100 ms. */
  keepAlive(seconds: number): void {
    const endMs = this.clock.nowMs() + seconds * 1000;
    while (this.clock.nowMs() < endMs) {
      this.send(`alive,${this.token}`);
      this.clock.runUntil(Math.min(endMs, this.clock.nowMs() + 100));
    }
  }

  /** Sends a numbered command given as `TYPE` and its fields after the number; gives the answer. */
  command(type: string, ...fields: (string | number)[]): string {
    this.number++;
    return this.ask([type, this.number, ...fields].join(","));
  }

  /** Sends a body and gives the next answer as text without its number; "" if none comes in 100 ms. */
  ask(body: string): string {
    let from = this.lines.length;
    this.send(body);
    for (let i = 0; i < 20; i++) {
      this.wait(0.005);
      for (; from < this.lines.length; from++) {
        const line = this.lines[from];
        if (line?.type === "no") return line.reason;
        if (line?.type === "hello" && line.ask > 0) return "hello";
        if (line?.type !== "ok") continue;
        if (line.token !== null) this.token = line.token;
        return line.token === null ? "ok" : "ok,TOKEN";
      }
    }
    return "";
  }

  /** Asks and arms. */
  arm(): void {
    if (this.command("ask") !== "hello" || this.command("arm") !== "ok,TOKEN") {
      throw new Error("the rig did not arm");
    }
  }

  speed(rpm: number, ramp = 500, direction = "cw"): string {
    return this.command("speed", this.token, direction, rpm, ramp);
  }

  vacuum(pascals: number): string {
    return this.command("vacuum", this.token, pascals);
  }

  all<T extends RigLine["type"]>(type: T): LineOf<T>[] {
    return this.lines.filter((line): line is LineOf<T> => line.type === type);
  }

  last<T extends RigLine["type"]>(type: T): LineOf<T> {
    const line = this.all(type).at(-1);
    if (line === undefined) throw new Error(`no ${type} line came`);
    return line;
  }

  /** Forgets the lines so far. */
  clear(): void {
    this.lines.length = 0;
  }
}
