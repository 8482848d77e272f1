// How far a curve may rise above the line between two readings where it grows steeper towards a stop.
import type { Knot } from "./knot.ts";
import type { Bend } from "./shown.ts";

/** Steepening counts where it exceeds so many standard uncertainties. */
const STEEPER_NOISE = 2;
/** The curve is level, as far as this goes, where its slope is less than this share of the gap's. */
const LEVEL_SHARE = 0.5;
const NONE: Bend = { bendDeg: 0, share: 0.5 };

/**
 * Needed speed over advance is what stays smooth where a mechanism comes near to snapping: a parabola of
 * u over the degrees through the last three readings (`lower`: nearest first) tells where the curve
 * reaches the upper one's degrees. From there to it the curve is taken to be level, unless it rises on
 * to the reading after it (`upper`).
 */
export function steepeningBend(
  from: Knot,
  to: Knot,
  lower: readonly Knot[],
  upper: Knot | undefined,
): Bend {
  const [near, far] = lower;
  if (near === undefined || far === undefined) return NONE;
  const [last, before] = [perDegOf(near, from), perDegOf(far, near)];
  const steeper = before.value - last.value;
  const rise = to.deg - from.deg;
  if (upper !== undefined && !(slope(to, upper) < LEVEL_SHARE * slope(from, to))) return NONE;
  if (!(rise > 0 && last.value > 0)) return NONE;
  if (!(steeper > STEEPER_NOISE * Math.hypot(last.sigma, before.sigma))) return NONE;
  const turning = steeper / ((from.deg - far.deg) / 2);
  const start = last.value - (turning * (from.deg - near.deg)) / 2;
  if (start <= 0) return { bendDeg: rise, share: 0.5 };
  // Where no more speed is needed it snaps.
  const reachU =
    start > turning * rise ? rise * (start - (turning * rise) / 2) : start ** 2 / (2 * turning);
  const share = reachU / (to.u - from.u);
  return share < 1 ? { bendDeg: rise * (1 - share), share } : NONE;
}

function slope(below: Knot, above: Knot): number {
  return (above.deg - below.deg) / (above.u - below.u);
}

interface PerDeg {
  /** Reduced units for a degree; NaN where nothing rises. */
  readonly value: number;
  readonly sigma: number;
}

function perDegOf(below: Knot, above: Knot): PerDeg {
  const rise = above.deg - below.deg;
  if (rise <= 0) return { value: Number.NaN, sigma: Number.NaN };
  const value = (above.u - below.u) / rise;
  return { value, sigma: (value * Math.hypot(below.sigma, above.sigma)) / rise };
}
