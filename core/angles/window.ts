// The turns of one reading: which events count, where each lobe stands, what the trigger tells beside.
import type { Turn } from "../turns.ts";
import type { FiringEvent, Moment } from "./events.ts";
import { type LobeEvent, type TrackedTurn, wrap180 } from "./lobes.ts";
import { angleDeg, cornerIn, interpolationLimitDeg, type Places } from "./phase.ts";
import {
  type EdgePattern,
  edgePattern,
  type Pickup,
  type Ripple,
  rippleAt,
  rippleIn,
} from "./pickup.ts";
import { belonging, drift, meanAndSpread, median } from "./statistics.ts";

/** Turns of a reading as they came, and what does not depend on how well the pickup is known. */
export interface Window {
  /** All of them; what the rig calls lost is left out below. */
  readonly turns: readonly TrackedTurn[];
  readonly whole: readonly TrackedTurn[];
  readonly speedRpm: number;
  readonly pattern: EdgePattern | null;
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
  return { turns, whole, speedRpm, pattern: edgePattern(plain, edgesPerTurn, speedRpm) };
}

/** Shaft speed over the turns, in rpm, from their own periods. */
export function meanSpeedRpm(turns: readonly Turn[], tickHz: number): number {
  const ticks = turns.reduce((sum, turn) => sum + turn.duringTicks, 0);
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
  readonly turnMeansDeg: readonly number[];
  readonly kept: number;
  readonly extra: number;
  readonly bounces: number;
  readonly noise: number;
  /** Mean bound of what the interpolation may miss, all turns together. */
  readonly interpolationDeg: number;
  /** Change along the reading beyond what chance makes. */
  readonly driftDeg: number;
  readonly ripple: Ripple;
}

/** Events of a lobe closer than this to its middle always count: so far scatters a sound unit on a coarse clock. */
const LEAST_WIDTH_DEG = 0.3;
const LEAST_DWELL_WIDTH_DEG = 0.6;
/** A firing edge that belongs to no lobe and comes so soon after a closing, as a share of the usual dwell, is bounce. */
const BOUNCE_SHARE = 0.5;

/** Angles of moments as a pickup known so well gives them. */
class Protractor {
  private readonly places: Places;
  private readonly smooth: Places;
  private readonly ripple: Ripple;
  private readonly delayTicks: number;

  constructor(places: Places, ripple: Ripple, delayTicks: number) {
    this.places = places;
    this.ripple = ripple;
    // The cubic follows what is left once the harmonics are known; they are put back at the event itself.
    this.smooth = places.map((place) => place - rippleAt(ripple, place));
    this.delayTicks = delayTicks;
  }

  angleDeg({ turn, tick }: Moment): number {
    const truly = tick - this.delayTicks;
    if (turn.edgeTicks === null || this.ripple.harmonics.length === 0) {
      return angleDeg(turn, truly, this.places);
    }
    const near = angleDeg(turn, truly, this.places) / 360;
    return angleDeg(turn, truly, this.smooth) + 360 * rippleAt(this.ripple, near);
  }

  dwellDeg({ closing, ...opening }: FiringEvent, angle: number): number {
    if (closing === null) return Number.NaN;
    const turnBefore = closing.turn === opening.turn ? 0 : 360;
    return angle + turnBefore - this.angleDeg(closing);
  }
}

interface Measured {
  readonly event: LobeEvent;
  readonly advanceDeg: number;
  dwellDeg: number;
}

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
  const protractor = new Protractor(pickup.places, ripple, delayTicks);
  const turns = whole.map(({ events }) =>
    events.map((event): Measured => {
      const angle = protractor.angleDeg(event);
      const off = wrap180((referenceDeg[event.lobe] as number) - angle - event.advanceDeg);
      const advanceDeg = event.advanceDeg + off;
      return { event, advanceDeg, dwellDeg: protractor.dwellDeg(event, angle) };
    }),
  );
  const sifted = sift(turns, referenceDeg.length);
  const lobes = referenceDeg.map((_, lobe) => lobeEvents(sifted.kept, lobe));
  const turnMeansDeg = sifted.kept
    .filter((events) => events.length > 0)
    .map(
      (events) =>
        meanAndSpread(
          events.map(
            ({ event, advanceDeg }) => advanceDeg - (lobes[event.lobe] as LobeEvents).advanceDeg,
          ),
        ).mean,
    );
  const { change, standardUncertainty } = drift(turnMeansDeg);
  return {
    lobes,
    turnMeansDeg,
    kept: sifted.count,
    extra: sifted.extra,
    bounces: sifted.bounces + whole.reduce((sum, { bounces }) => sum + bounces, 0),
    noise: whole.reduce((sum, { noise }) => sum + noise, 0),
    interpolationDeg: interpolationBound(whole),
    driftDeg: Math.sqrt(Math.max(0, change ** 2 - 4 * standardUncertainty ** 2)),
    ripple,
  };
}

interface Sifted {
  readonly kept: readonly (readonly Measured[])[];
  readonly count: number;
  readonly extra: number;
  readonly bounces: number;
}

/** Sets aside what stands far from its lobe's median. */
function sift(turns: readonly (readonly Measured[])[], lobes: number): Sifted {
  const byLobe = Array.from({ length: lobes }, (): number[] => []);
  const dwells: number[] = [];
  for (const { event, advanceDeg, dwellDeg } of turns.flat()) {
    byLobe[event.lobe]?.push(advanceDeg);
    if (!Number.isNaN(dwellDeg)) dwells.push(dwellDeg);
  }
  const limits = byLobe.map((advances) => belonging(advances, LEAST_WIDTH_DEG));
  const usualDwellDeg = median(dwells);
  let count = 0;
  let extra = 0;
  let bounces = 0;
  let openedEarlyDeg = 0;
  const kept = turns.map((events) =>
    events.filter((one) => {
      const { middle, width } = limits[one.event.lobe] as { middle: number; width: number };
      if (Math.abs(one.advanceDeg - middle) <= width) {
        count++;
        one.dwellDeg += openedEarlyDeg;
        openedEarlyDeg = 0;
        return true;
      }
      if (one.dwellDeg < BOUNCE_SHARE * usualDwellDeg) {
        bounces++;
        // The contacts had closed when they first did; the opening after this one counts from there.
        openedEarlyDeg = Number.NaN;
      } else extra++;
      return false;
    }),
  );
  return { kept, count, extra, bounces };
}

function lobeEvents(kept: readonly (readonly Measured[])[], lobe: number): LobeEvents {
  const own = kept.flatMap((events) => events.filter(({ event }) => event.lobe === lobe));
  const advance = meanAndSpread(own.map(({ advanceDeg }) => advanceDeg));
  const known = own.map(({ dwellDeg }) => dwellDeg).filter(Number.isFinite);
  const { middle, width } = belonging(known, LEAST_DWELL_WIDTH_DEG);
  const dwell = meanAndSpread(known.filter((one) => Math.abs(one - middle) <= width));
  return {
    advanceDeg: advance.mean,
    spreadDeg: advance.spread,
    count: own.length,
    dwellDeg: known.length === 0 ? null : dwell.mean,
    dwellSpreadDeg: dwell.spread,
  };
}

/**
 * Bends of opposite sign along the reading cancel in its mean, as those of clock ticks and of a
 * regulated speed do; what is left is a bend of the whole reading.
 */
function interpolationBound(turns: readonly TrackedTurn[]): number {
  if (turns.length === 0) return 0;
  const bends = turns.map(({ turn }) => Math.sign(cornerIn(turn)) * interpolationLimitDeg(turn));
  return Math.abs(meanAndSpread(bends).mean);
}
