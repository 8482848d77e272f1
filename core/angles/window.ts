// The turns of one reading: which events count, where each lobe stands, what the trigger tells beside.
import type { TurnTimes } from "../turns.ts";
import { type MeasuredEvents, measuredEvents } from "./measuredEvents.ts";
import { cornerDeg } from "./phase.ts";
import { type EdgePattern, edgePattern, type Pickup, type Ripple, rippleIn } from "./pickup.ts";
import { byLobe, finite, sift } from "./sifting.ts";
import { belonging, drift, meanAndSpread, within } from "./statistics.ts";
import type { TrackedTurn } from "./trackedTurn.ts";

/** Turns of a reading as they came, and what does not depend on how well the pickup is known. */
export interface Window {
  /** All of them; what the rig calls lost is left out below. */
  readonly turns: readonly TrackedTurn[];
  readonly whole: readonly TrackedTurn[];
  readonly speedRpm: number;
  readonly pattern: EdgePattern | null;
  /** Mean bound of what the interpolation may miss, all turns together. */
  readonly interpolationDeg: number;
}

export function windowOf(
  turns: readonly TrackedTurn[],
  edgesPerTurn: number,
  tickHz: number,
): Window {
  const whole = turns.filter(({ turn }) => !turn.lost);
  const plain = whole.map(({ turn }) => turn);
  const speedRpm = meanSpeedRpm(
    turns.map(({ turn }) => turn),
    tickHz,
  );
  const pattern = edgePattern(plain, edgesPerTurn, speedRpm);
  return { turns, whole, speedRpm, pattern, interpolationDeg: interpolationBound(plain) };
}

/** Shaft speed over the turns, in rpm, from their own periods. */
export function meanSpeedRpm(turns: readonly TurnTimes[], tickHz: number): number {
  let ticks = 0;
  for (const { duringTicks } of turns) ticks += duringTicks;
  return (60 * tickHz * turns.length) / ticks;
}

/** One lobe's events. Angles in degrees. */
export interface LobeEvents {
  /** Advance against the tracker's reference angle of the lobe; NaN without events. */
  readonly advanceDeg: number;
  readonly spreadDeg: number;
  readonly count: number;
  readonly dwellDeg: number | null;
  readonly dwellSpreadDeg: number;
}

export interface WindowFigures {
  readonly lobes: readonly LobeEvents[];
  /** Mean of each turn's events, their lobes' own means taken off, in the order of time. */
  readonly turnMeansDeg: Float64Array;
  readonly kept: number;
  readonly extra: number;
  readonly bounces: number;
  readonly noise: number;
  /** Change along the reading beyond what chance makes. */
  readonly driftDeg: number;
  readonly ripple: Ripple;
}

/** Dwells of a lobe closer than this to their middle always count. */
const LEAST_DWELL_WIDTH_DEG = 0.6;

/** `referenceDeg`: the tracker's. `delayTicks`: by which the trigger's ticks come late. */
export function figuresOf(
  window: Window,
  referenceDeg: readonly number[],
  pickup: Pickup,
  delayTicks: number,
): WindowFigures {
  const { whole, pattern } = window;
  const ripple: Ripple =
    pattern === null ? { constant: 0, harmonics: [], doubtful: 0 } : rippleIn(pattern, pickup);
  const errors = { places: pickup.places, ripple, delayTicks };
  const { kept, advancesDeg, extra, bounces } = sift(
    measuredEvents(whole, referenceDeg, errors),
    referenceDeg.length,
  );
  const lobes = lobeEvents(kept, advancesDeg);
  const turnMeansDeg = turnMeans(kept, lobes);
  const { change, standardUncertainty } = drift(turnMeansDeg);
  return {
    lobes,
    turnMeansDeg,
    kept: kept.lobes.length,
    extra,
    bounces: bounces + whole.reduce((sum, one) => sum + one.bounces, 0),
    noise: whole.reduce((sum, one) => sum + one.noise, 0),
    driftDeg: Math.sqrt(Math.max(0, change ** 2 - 4 * standardUncertainty ** 2)),
    ripple,
  };
}

/** `advances`: of each lobe, in the order of time. */
function lobeEvents(kept: MeasuredEvents, advances: readonly Float64Array[]): LobeEvents[] {
  const dwells = byLobe(kept, kept.dwellsDeg, advances.length);
  return advances.map((advancesDeg, lobe) => {
    const advance = meanAndSpread(advancesDeg);
    const known = finite(dwells[lobe] as Float64Array);
    const dwell = meanAndSpread(within(known, belonging(known, LEAST_DWELL_WIDTH_DEG)));
    return {
      advanceDeg: advance.mean,
      spreadDeg: advance.spread,
      count: advancesDeg.length,
      dwellDeg: known.length === 0 ? null : dwell.mean,
      dwellSpreadDeg: dwell.spread,
    };
  });
}

/** Of turns with events; the lobes' own means are taken off. */
function turnMeans(kept: MeasuredEvents, lobes: readonly LobeEvents[]): Float64Array {
  const meansDeg = new Float64Array(kept.turnEnds.length);
  let count = 0;
  let at = 0;
  for (const end of kept.turnEnds) {
    const from = at;
    let sum = 0;
    for (; at < end; at++) {
      const lobe = lobes[kept.lobes[at] as number] as LobeEvents;
      sum += (kept.advancesDeg[at] as number) - lobe.advanceDeg;
    }
    if (at > from) meansDeg[count++] = sum / (at - from);
  }
  return meansDeg.subarray(0, count);
}

/**
 * Bends of opposite sign along the reading cancel in its mean, as those of clock ticks and of a
 * regulated speed do; what is left is a bend of the whole reading.
 */
function interpolationBound(turns: readonly TurnTimes[]): number {
  if (turns.length === 0) return 0;
  let sum = 0;
  for (const turn of turns) sum += cornerDeg(turn);
  return Math.abs(sum / turns.length);
}
