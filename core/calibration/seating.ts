// Where the lobes of a seated unit fire, and which lobe is which when it sits half a turn round. Pure.
import { wrap180 } from "../angles/lobes.ts";
import { meanAndSpread } from "../angles/statistics.ts";
import { BobweightError } from "../errors.ts";

/** One reading in one seating, lobe by lobe in the order they pass. */
export interface LobePlaces {
  readonly targetRpm: number;
  /** Of each lobe's place, beside scatter: what repeating the reading does not show. */
  readonly hiddenStandardUncertaintyDeg: number;
  /** Where each lobe fires, in degrees after the index. */
  readonly anglesDeg: readonly number[];
  /** Each lobe's deviation from its nominal place, later positive, the mean of all removed. */
  readonly deviationsDeg: readonly number[];
}

/** A seating's readings at one speed, with their means. */
export interface AtSpeed extends LobePlaces {
  readonly readings: readonly LobePlaces[];
}

/** In rising order of speed. */
export function bySpeed(readings: readonly LobePlaces[]): AtSpeed[] {
  const speeds = [...new Set(readings.map(({ targetRpm }) => targetRpm))].sort((a, b) => a - b);
  return speeds.map((speed) => averaged(readings.filter(({ targetRpm }) => targetRpm === speed)));
}

/** The angles of one lobe lie close together, so their mean is taken about the first. */
function averaged(readings: readonly LobePlaces[]): AtSpeed {
  const first = readings[0] as LobePlaces;
  const mean = (of: (reading: LobePlaces) => number) => meanAndSpread(readings.map(of)).mean;
  return {
    targetRpm: first.targetRpm,
    hiddenStandardUncertaintyDeg: first.hiddenStandardUncertaintyDeg,
    anglesDeg: first.anglesDeg.map(
      (angle, lobe) => angle + mean((one) => wrap180((one.anglesDeg[lobe] as number) - angle)),
    ),
    deviationsDeg: first.deviationsDeg.map((_, lobe) =>
      mean((one) => one.deviationsDeg[lobe] as number),
    ),
    readings,
  };
}

/** Share of the lobe spacing by which the second seating may be off half a turn before lobes are mixed up. */
const SEAT_SHARE = 0.35;

/**
 * The second seating with its lobes in the order of the first. Which lobe is called the first depends
 * on the index, so lobes are known again by their place: half a turn on.
 *
 * @throws CHECK_DOUBTFUL where they cannot be known again
 */
export function matched(
  first: readonly AtSpeed[],
  second: readonly AtSpeed[],
): { readonly seating: AtSpeed[]; readonly offHalfTurnDeg: number } {
  const [from, to] = [first[0] as AtSpeed, second[0] as AtSpeed];
  const lobes = from.anglesDeg.length;
  const offsAt = (shift: number) =>
    from.anglesDeg.map((angle, lobe) =>
      wrap180((to.anglesDeg[(lobe + shift) % lobes] as number) - angle - 180),
    );
  const shifts = from.anglesDeg.map((_, shift) => ({
    shift,
    worstDeg: Math.max(...offsAt(shift).map(Math.abs)),
  }));
  const { shift, worstDeg } = shifts.reduce((a, b) => (b.worstDeg < a.worstDeg ? b : a));
  const limitDeg = (SEAT_SHARE * 360) / lobes;
  if (worstDeg > limitDeg) {
    throw new BobweightError(
      "CHECK_DOUBTFUL",
      `The second seating stands ${worstDeg.toFixed(0)}° from half a turn; with ${lobes} lobes it must be within ${limitDeg.toFixed(0)}°.`,
    );
  }
  const moved = (values: readonly number[]) =>
    values.map((_, lobe) => values[(lobe + shift) % lobes] as number);
  const seating = second.map((at) => ({
    ...at,
    anglesDeg: moved(at.anglesDeg),
    deviationsDeg: moved(at.deviationsDeg),
  }));
  return { seating, offHalfTurnDeg: meanAndSpread(offsAt(shift)).mean };
}

export function centred(values: readonly number[]): number[] {
  const { mean } = meanAndSpread(values);
  return values.map((value) => value - mean);
}
