// Keeps out `vac` and `state` lines that come again or out of their order (protocol clauses 2.2 and 4.9).
import { ticksBetween } from "./turns.ts";

/** Half of what a counter of 32 bits counts: farther on is a step back. */
const FORWARD_MAX = 2 ** 31;

/** Of the lines of one type from one boot of a rig. */
export class LineOrder {
  /** Lines that were kept out. */
  setAside = 0;
  private last: { readonly sequence: number; readonly tick: number } | null = null;

  /** Whether the line is newer than all before: with a stale one, time would seem to run backwards. */
  take({ sequence, tick }: { readonly sequence: number; readonly tick: number }): boolean {
    const { last } = this;
    if (last !== null) {
      const step = ticksBetween(last.sequence, sequence);
      const isNewer = step > 0 && step < FORWARD_MAX;
      if (!isNewer || ticksBetween(last.tick, tick) >= FORWARD_MAX) {
        this.setAside++;
        return false;
      }
    }
    this.last = { sequence, tick };
    return true;
  }
}
