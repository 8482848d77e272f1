// The board's free-running tick counter and what it knows of the spindle from its index pulses.

const WRAP = 2 ** 32;

/** Ticks counted on without wrap; `wire` takes them modulo 2³² (clause 2.1). */
export class TickCounter {
  private readonly tickHz: number;
  private readonly firstTick: number;
  private readonly bootS: number;

  /** `tickHz` as the counter truly runs. */
  constructor(tickHz: number, firstTick: number, bootS: number) {
    this.tickHz = tickHz;
    this.firstTick = firstTick;
    this.bootS = bootS;
  }

  at(timeS: number): number {
    return this.firstTick + Math.floor((timeS - this.bootS) * this.tickHz);
  }
}

export function wire(tick: number): number {
  return tick % WRAP;
}

const STALL_S_MIN = 0.5;
const STALL_TURNS = 1.5;

/** Clause 6.6 without its second from rest: how long to wait for an index at a speed. */
export function stallTimeS(rpm: number): number {
  return Math.max(STALL_S_MIN, (STALL_TURNS * 60) / rpm);
}

/** Speed from the index pulses. */
export class SpindleSpeed {
  /** Null where there was none since the spindle last stood still. */
  lastIndexS: number | null = null;
  /** Of the last whole turn, 0 where there was none. */
  turnS = 0;
  private lastTick = 0;
  private readonly tickHz: number;

  constructor(tickHz: number) {
    this.tickHz = tickHz;
  }

  index(timeS: number, tick: number): void {
    this.turnS = this.lastIndexS === null ? 0 : (tick - this.lastTick) / this.tickHz;
    this.lastIndexS = timeS;
    this.lastTick = tick;
  }

  stoodStill(): void {
    this.lastIndexS = null;
    this.turnS = 0;
  }

  /** 0 at rest, until two indexes have come, and where the counter saw no time between two. */
  rpmAt(timeS: number): number {
    if (this.lastIndexS === null || this.turnS === 0) return 0;
    return 60 / Math.max(this.turnS, timeS - this.lastIndexS);
  }
}
