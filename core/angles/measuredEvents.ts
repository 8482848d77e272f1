// The firing events of a reading's turns with a pickup known so well: advance and dwell of each, a column a quantity.
import type { TurnTimes } from "../turns.ts";
import { UNKNOWN } from "./firingEvents.ts";
import { wrap180 } from "./lobes.ts";
import { type Places, Protractor } from "./phase.ts";
import { type Ripple, rippleAt } from "./pickup.ts";
import type { TrackedTurn } from "./trackedTurn.ts";

/** In the order of time. */
export interface MeasuredEvents {
  readonly lobes: Uint8Array;
  readonly advancesDeg: Float64Array;
  /** NaN where the closing is not known. */
  readonly dwellsDeg: Float64Array;
  /** For each turn how many events there are up to its end. */
  readonly turnEnds: Uint32Array;
}

/** What is known of how the rig's angles and ticks err. */
export interface RigErrors {
  readonly places: Places;
  readonly ripple: Ripple;
  /** By which the trigger's ticks come late. */
  readonly delayTicks: number;
}

/** `referenceDeg`: the tracker's. */
export function measuredEvents(
  turns: readonly TrackedTurn[],
  referenceDeg: readonly number[],
  errors: RigErrors,
): MeasuredEvents {
  let count = 0;
  for (const { from, to } of turns) count += to - from;
  const lobes = new Uint8Array(count);
  // First the angles of openings and closings, from which advances and dwells are reckoned in place.
  const advancesDeg = new Float64Array(count);
  const dwellsDeg = new Float64Array(count);
  const turnEnds = new Uint32Array(turns.length);
  const angles = new TrueAngles(errors);
  let at = 0;
  for (let i = 0; i < turns.length; i++) {
    const tracked = turns[i] as TrackedTurn;
    const { turn, events, from, to } = tracked;
    angles.read(turn, events.ticks, from, to, advancesDeg, at);
    readClosings(angles, tracked, dwellsDeg, at);
    for (let row = from; row < to; row++, at++) {
      const lobe = events.lobes[row] as number;
      const roughDeg = events.advancesDeg[row] as number;
      const angle = advancesDeg[at] as number;
      const closing = events.closingTurns[row] as number;
      lobes[at] = lobe;
      advancesDeg[at] = roughDeg + wrap180((referenceDeg[lobe] as number) - angle - roughDeg);
      if (closing === UNKNOWN) dwellsDeg[at] = Number.NaN;
      else {
        const openedDeg = angle + (events.turns[closing] === turn ? 0 : 360);
        dwellsDeg[at] = openedDeg - (dwellsDeg[at] as number);
      }
    }
    turnEnds[i] = at;
  }
  return { lobes, advancesDeg, dwellsDeg, turnEnds };
}

/** Angle of the closing before each event, from the index of the closing's own turn; none where it is not known. */
function readClosings(
  angles: TrueAngles,
  { events, from, to }: TrackedTurn,
  anglesDeg: Float64Array,
  at: number,
): void {
  const { closingTurns, closingTicks, turns } = events;
  const shift = at - from;
  for (let row = from; row < to; ) {
    const turn = closingTurns[row] as number;
    let end = row + 1;
    while (end < to && closingTurns[end] === turn) end++;
    if (turn !== UNKNOWN) {
      angles.read(turns[turn] as TurnTimes, closingTicks, row, end, anglesDeg, row + shift);
    }
    row = end;
  }
}

/** Angles of ticks with the rig's known errors taken off. */
class TrueAngles {
  private readonly plain: Protractor;
  /** Null where no ripple is seen. */
  private readonly smooth: Protractor | null;
  private readonly ripple: Ripple;
  private smoothDeg = new Float64Array(16);

  constructor({ places, ripple, delayTicks }: RigErrors) {
    this.plain = new Protractor(places, delayTicks);
    // The cubic follows what is left once the harmonics are known; they are put back at the event itself.
    this.smooth =
      ripple.harmonics.length === 0
        ? null
        : new Protractor(
            places.map((place) => place - rippleAt(ripple, place)),
            delayTicks,
          );
    this.ripple = ripple;
  }

  /** As `Protractor` does. */
  read(
    turn: TurnTimes,
    ticks: Float64Array,
    from: number,
    to: number,
    anglesDeg: Float64Array,
    at: number,
  ): void {
    const { smooth, ripple } = this;
    this.plain.read(turn, ticks, from, to, anglesDeg, at);
    if (turn.edgeTicks === null || smooth === null) return;
    const count = to - from;
    if (count > this.smoothDeg.length) this.smoothDeg = new Float64Array(2 * count);
    smooth.read(turn, ticks, from, to, this.smoothDeg, 0);
    for (let i = 0; i < count; i++) {
      const phase = (anglesDeg[at + i] as number) / 360;
      anglesDeg[at + i] = (this.smoothDeg[i] as number) + 360 * rippleAt(ripple, phase);
    }
  }
}
