// Turns as they came: times of each, and the trigger edges of all in columns, from which events are read.
import type { Turn, TurnTimes } from "../turns.ts";
import { doubledBytes, doubledNumbers, ROWS_FIRST } from "./columns.ts";

/** Trigger edges as the column of kinds has them. */
export const EDGE_KINDS = { a: 0, b: 1 } as const;
export type EdgeKind = (typeof EDGE_KINDS)[keyof typeof EDGE_KINDS];

export class TurnLog {
  readonly turns: TurnTimes[] = [];
  /** Of each trigger edge, in ticks after its turn's index. */
  edgeTicks = new Float64Array(ROWS_FIRST);
  edgeKinds = new Uint8Array(ROWS_FIRST);
  /** For each turn how many trigger edges there are up to its end. */
  private readonly ends: number[] = [];

  push(turn: Turn): void {
    const { eventEdges, eventTicks } = turn;
    const from = this.edgesBefore(this.turns.length);
    const to = from + eventTicks.length;
    while (to > this.edgeTicks.length) this.grow();
    const { edgeTicks, edgeKinds } = this;
    for (let i = 0; i < eventTicks.length; i++) {
      edgeTicks[from + i] = eventTicks[i] as number;
      edgeKinds[from + i] = eventEdges[i] === "a" ? EDGE_KINDS.a : EDGE_KINDS.b;
    }
    this.turns.push(turn);
    this.ends.push(to);
  }

  /** Row of the first edge of turn number `turn`, from 0. */
  edgesBefore(turn: number): number {
    return turn === 0 ? 0 : (this.ends[turn - 1] as number);
  }

  private grow(): void {
    this.edgeTicks = doubledNumbers(this.edgeTicks);
    this.edgeKinds = doubledBytes(this.edgeKinds);
  }
}
