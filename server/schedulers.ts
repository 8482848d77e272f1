// The three clocks behind core/scheduler.ts: life, a clock that runs faster than life, and a virtual one.
import { performance } from "node:perf_hooks";
import { setImmediate as immediate } from "node:timers/promises";
import type { Scheduler, Timer } from "../core/scheduler.ts";

/** Real time. */
export class RealScheduler implements Scheduler {
  nowMs(): number {
    return performance.now();
  }

  after(delayMs: number, action: () => void): Timer {
    const handle = setTimeout(action, Math.max(0, delayMs));
    return { cancel: () => clearTimeout(handle) };
  }
}

interface Entry {
  readonly atMs: number;
  readonly order: number;
  action: (() => void) | null;
}

/** Timers in the order of their time, and of their setting where times are equal. */
class TimerQueue {
  private readonly heap: Entry[] = [];
  private ordered = 0;

  add(atMs: number, action: () => void): Timer {
    const entry: Entry = { atMs, order: this.ordered++, action };
    const { heap } = this;
    let at = heap.push(entry) - 1;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.swapIfEarlier(at, parent)) break;
      at = parent;
    }
    return {
      cancel: () => {
        entry.action = null;
      },
    };
  }

  /** Time of the next timer that was not cancelled, or null. */
  nextMs(): number | null {
    while (this.heap[0] !== undefined && this.heap[0].action === null) this.pop();
    return this.heap[0]?.atMs ?? null;
  }

  pop(): Entry | undefined {
    const { heap } = this;
    const first = heap[0];
    const last = heap.pop();
    if (heap.length > 0 && last !== undefined) {
      heap[0] = last;
      let at = 0;
      for (;;) {
        const left = 2 * at + 1;
        const right = left + 1;
        let child = left;
        if (right < heap.length && isEarlier(heap[right], heap[left])) child = right;
        if (child >= heap.length || !this.swapIfEarlier(child, at)) break;
        at = child;
      }
    }
    return first;
  }

  private swapIfEarlier(child: number, parent: number): boolean {
    const { heap } = this;
    const below = heap[child] as Entry;
    const above = heap[parent] as Entry;
    if (!isEarlier(below, above)) return false;
    heap[child] = above;
    heap[parent] = below;
    return true;
  }
}

function isEarlier(a: Entry | undefined, b: Entry | undefined): boolean {
  if (a === undefined || b === undefined) return a !== undefined;
  return a.atMs < b.atMs || (a.atMs === b.atMs && a.order < b.order);
}

/** Virtual time: jumps to the next timer as soon as everything that is due has been handled. */
export class VirtualScheduler implements Scheduler {
  private readonly timers = new TimerQueue();
  private timeMs = 0;

  nowMs(): number {
    return this.timeMs;
  }

  after(delayMs: number, action: () => void): Timer {
    return this.timers.add(this.timeMs + Math.max(0, delayMs), action);
  }

  /** Lets time run until `goal` settles, and returns or throws what it settled to. */
  async run<T>(goal: Promise<T>): Promise<T> {
    let settled = false;
    const mark = () => {
      settled = true;
    };
    goal.then(mark, mark);
    await immediate();
    while (!settled) {
      const nextMs = this.timers.nextMs();
      if (nextMs === null) throw new Error("virtual time stands still: nothing is left to happen");
      this.timeMs = nextMs;
      this.timers.pop()?.action?.();
      // Lets every promise that this timer settled run to its next wait before time goes on.
      await immediate();
    }
    return goal;
  }
}

/** How far paced time may fall behind before it is let slip rather than caught up in a rush. */
const PACED_LAG_MS_MAX = 250;
const PACED_TURN_MS = 4;

/** Virtual time tied to life: `pace` times as fast. For the stand-in rig on the page. */
export class PacedScheduler implements Scheduler {
  private readonly timers = new TimerQueue();
  private readonly pace: number;
  private timeMs = 0;
  private lastRealMs = performance.now();
  private running = true;

  constructor(pace: number) {
    this.pace = pace;
    this.turn();
  }

  nowMs(): number {
    return this.timeMs;
  }

  after(delayMs: number, action: () => void): Timer {
    return this.timers.add(this.timeMs + Math.max(0, delayMs), action);
  }

  /** Stops the clock for good; timers still set never fire. */
  close(): void {
    this.running = false;
  }

  private turn(): void {
    const tick = async () => {
      while (this.running) {
        const realMs = performance.now();
        const lagMs = Math.min(realMs - this.lastRealMs, PACED_LAG_MS_MAX);
        this.lastRealMs = realMs;
        await this.advance(this.timeMs + lagMs * this.pace);
        await new Promise((resolve) => setTimeout(resolve, PACED_TURN_MS));
      }
    };
    void tick();
  }

  private async advance(untilMs: number): Promise<void> {
    for (;;) {
      const nextMs = this.timers.nextMs();
      if (nextMs === null || nextMs > untilMs || !this.running) break;
      this.timeMs = nextMs;
      this.timers.pop()?.action?.();
      await immediate();
    }
    this.timeMs = Math.max(this.timeMs, untilMs);
  }
}
