// How far a batch has come, told every few seconds with the time that is left.
import { performance } from "node:perf_hooks";

const EVERY_MS = 5000;

export class Progress {
  private readonly total: number;
  private readonly say: (text: string) => void;
  private readonly nowMs: () => number;
  private readonly startMs: number;
  private toldMs: number;
  private done = 0;

  /** @param nowMs a clock of milliseconds from anywhere */
  constructor(total: number, say: (text: string) => void, nowMs = () => performance.now()) {
    this.total = total;
    this.say = say;
    this.nowMs = nowMs;
    this.startMs = nowMs();
    this.toldMs = this.startMs;
  }

  /** One more is done. */
  step(): void {
    this.done++;
    const nowMs = this.nowMs();
    if (nowMs - this.toldMs < EVERY_MS || this.done === this.total) return;
    this.toldMs = nowMs;
    const leftS = (((nowMs - this.startMs) / this.done) * (this.total - this.done)) / 1000;
    this.say(`${this.done} of ${this.total} done, ${timeText(leftS)} left`);
  }
}

function timeText(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.ceil(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}
