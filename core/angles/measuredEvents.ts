// The firing events of a reading's turns with a pickup known so well: advance and dwell of each, a column a quantity.
import type { TurnTimes } from "../turns.ts";
import { UNKNOWN } from "./firingEvents.ts";
import { type TrackedTurn, wrap180 } from "./lobes.ts";
import { type Places, Protractor } from "./phase.ts";
import { type Ripple, rippleAt } from "./pickup.ts";

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
  const count = turns.reduce((sum, { from, to }) => sum + to - from, 0);
  const lobes = new Uint8Array(count);
  const advancesDeg = new Float64Array(count);
  const dwellsDeg = new Float64Array(count);
  const turnEnds = new Uint32Array(turns.length);
  // Two, so that each goes through the turns once: a closing may lie in the turn before.
  const openings = new TrueAngles(errors);
  const closings = new TrueAngles(errors);
  let at = 0;
  for (let i = 0; i < turns.length; i++) {
    const { turn, events, from, to } = turns[i] as TrackedTurn;
    for (let row = from; row < to; row++, at++) {
      const lobe = events.lobes[row] as number;
      const roughDeg = events.advancesDeg[row] as number;
      const closing = events.closingTurns[row] as number;
      const closingTick = events.closingTicks[row] as number;
      const angle = openings.angleDeg(turn, events.ticks[row] as number);
      lobes[at] = lobe;
      advancesDeg[at] = roughDeg + wrap180((referenceDeg[lobe] as number) - angle - roughDeg);
      if (closing === UNKNOWN) dwellsDeg[at] = Number.NaN;
      else {
        const closingTurn = events.turns[closing] as TurnTimes;
        const openedDeg = angle + (closingTurn === turn ? 0 : 360);
        dwellsDeg[at] = openedDeg - closings.angleDeg(closingTurn, closingTick);
      }
    }
    turnEnds[i] = at;
  }
  return { lobes, advancesDeg, dwellsDeg, turnEnds };
}

/** Angles of ticks with the rig's known errors taken off. */
class TrueAngles {
  private readonly plain: Protractor;
  private readonly smooth: Protractor;
  private readonly ripple: Ripple;
  private readonly delayTicks: number;

  constructor({ places, ripple, delayTicks }: RigErrors) {
    this.plain = new Protractor(places);
    // The cubic follows what is left once the harmonics are known; they are put back at the event itself.
    this.smooth = new Protractor(places.map((place) => place - rippleAt(ripple, place)));
    this.ripple = ripple;
    this.delayTicks = delayTicks;
  }

  angleDeg(turn: TurnTimes, tick: number): number {
    const truly = tick - this.delayTicks;
    const plainDeg = this.plain.lay(turn).angleDeg(truly);
    if (turn.edgeTicks === null || this.ripple.harmonics.length === 0) return plainDeg;
    const smoothDeg = this.smooth.lay(turn).angleDeg(truly);
    return smoothDeg + 360 * rippleAt(this.ripple, plainDeg / 360);
  }
}
