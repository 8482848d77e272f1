// Firing events of many turns, a column a quantity: an object for each would cost more than all reckoning with it.
import type { TurnTimes } from "../turns.ts";
import { doubledBytes, doubledNumbers, doubledWhole, ROWS_FIRST } from "./columns.ts";

/** In place of a closing's turn where the closing is not known. */
export const UNKNOWN = -1;

/** Row i of each column is event i, in the order of time; turns know which rows are theirs. */
export class FiringEvents {
  /** The turns that events and closings lie in. */
  readonly turns: readonly TurnTimes[];
  /** Ticks after the index of the event's own turn. */
  ticks = new Float64Array(ROWS_FIRST);
  /** The closing before each: its turn's place among `turns`, which may be before the event's, or UNKNOWN… */
  closingTurns = new Int32Array(ROWS_FIRST);
  /** …and its ticks after the index of that turn. */
  closingTicks = new Float64Array(ROWS_FIRST);
  /** The lobe it was given to. */
  lobes = new Uint8Array(ROWS_FIRST);
  /** Against the tracker's reference, evenly placed pickup edges assumed: right to the lobe, not to the last tenth. */
  advancesDeg = new Float64Array(ROWS_FIRST);
  private rows = 0;

  constructor(turns: readonly TurnTimes[]) {
    this.turns = turns;
  }

  get count(): number {
    return this.rows;
  }

  push(tick: number, closingTurn: number, closingTick: number): void {
    const row = this.rows;
    if (row === this.ticks.length) this.grow();
    this.ticks[row] = tick;
    this.closingTurns[row] = closingTurn;
    this.closingTicks[row] = closingTick;
    this.rows = row + 1;
  }

  /** Takes the last ones back, so that `count` are left. */
  cutTo(count: number): void {
    this.rows = count;
  }

  private grow(): void {
    this.ticks = doubledNumbers(this.ticks);
    this.closingTurns = doubledWhole(this.closingTurns);
    this.closingTicks = doubledNumbers(this.closingTicks);
    this.lobes = doubledBytes(this.lobes);
    this.advancesDeg = doubledNumbers(this.advancesDeg);
  }
}
