// Time as link, runner and stand-in rig see it: injected, so that the same code runs in real and in virtual time.

export interface Scheduler {
  /** Milliseconds since some fixed moment; never goes back. */
  nowMs(): number;
  /** Runs `action` once, `delayMs` from now. */
  after(delayMs: number, action: () => void): Timer;
}

export interface Timer {
  cancel(): void;
}
