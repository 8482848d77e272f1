// Firing events of many turns, a column a quantity: an object for each would cost more than all reckoning with it.
import type { Turn } from "../turns.ts";

const CAPACITY_FIRST = 1024;

/** Row i of each column is event i, in the order of time; turns know which rows are theirs. */
export class FiringEvents {
  /** Ticks after the index of the event's own turn. */
  ticks = new Float64Array(CAPACITY_FIRST);
  /** The closing before each, in ticks after the index of its turn, which may be an earlier one; null where unknown. */
  closingTicks = new Float64Array(CAPACITY_FIRST);
  readonly closingTurns: (Turn | null)[] = [];
  /** The lobe it was given to. */
  lobes = new Uint8Array(CAPACITY_FIRST);
  /** Against the tracker's reference, evenly placed pickup edges assumed: right to the lobe, not to the last tenth. */
  advancesDeg = new Float64Array(CAPACITY_FIRST);
  private rows = 0;

  get count(): number {
    return this.rows;
  }

  push(tick: number, closingTurn: Turn | null, closingTick: number): void {
    const row = this.rows;
    if (row === this.ticks.length) this.grow();
    this.ticks[row] = tick;
    this.closingTicks[row] = closingTick;
    this.closingTurns[row] = closingTurn;
    this.rows = row + 1;
  }

  /** Takes the last ones back, so that `count` are left. */
  cutTo(count: number): void {
    this.rows = count;
    this.closingTurns.length = count;
  }

  private grow(): void {
    const capacity = 2 * this.ticks.length;
    const widened = (column: Float64Array) => {
      const wide = new Float64Array(capacity);
      wide.set(column);
      return wide;
    };
    this.ticks = widened(this.ticks);
    this.closingTicks = widened(this.closingTicks);
    this.advancesDeg = widened(this.advancesDeg);
    const lobes = new Uint8Array(capacity);
    lobes.set(this.lobes);
    this.lobes = lobes;
  }
}
