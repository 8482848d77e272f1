// Ripple of the drive that the pickup cannot see: how large it may be, and what slow readings tell of it.
import { rippleScale, type UnseenRipple } from "./reading.ts";
import { meanAndSpread } from "./statistics.ts";
import type { Window, WindowFigures } from "./window.ts";

/**
 * What ripple of the drive may hide on a rig with one index a turn, at 1000 rpm, and the less the more
 * edges there are: an assumption, no source. From a fixed torque its angle falls with the square of speed.
 */
const ASSUMED_DEG = 0.005;

interface Seen {
  readonly window: Window;
  readonly figures: WindowFigures;
}

/**
 * Standard uncertainty at 1000 rpm. Ripple of other orders than the number of lobes shows in the
 * lobes' places, which it moves at low speed and not at high speed: what cannot be seen is taken to
 * be at least as large as that.
 */
export function sizeOfUnseenRipple(
  edgesPerTurn: number,
  seen: { readonly slow: Seen; readonly fast: Seen } | null = null,
): number {
  const assumed = ASSUMED_DEG / edgesPerTurn;
  if (seen === null || edgesPerTurn > 1) return assumed;
  const { slow, fast } = seen;
  const scale = rippleScale(slow.window.speedRpm) - rippleScale(fast.window.speedRpm);
  const shifts = slow.figures.lobes.map(
    ({ advanceDeg }, j) => advanceDeg - (fast.figures.lobes[j]?.advanceDeg ?? Number.NaN),
  );
  const { spread } = meanAndSpread(shifts);
  if (!(scale > 0) || !Number.isFinite(spread)) return assumed;
  return Math.max(assumed, spread / scale);
}

/** A reading relative to the reference; `scale`: (1000 rpm / speed)² here less that at the reference. */
export interface SlowReading {
  readonly speedRpm: number;
  readonly advanceDeg: number;
  readonly scale: number;
  readonly standardUncertaintyDeg: number;
}

/** Speeds besides the reference's at which the law must hold before it is believed. */
const SPEEDS_MIN = 2;
const AGREES = 2.5;
/** Speeds closer than this share are one. */
const SAME_SPEED = 0.02;

/**
 * Before the weights move, any change of angle with speed is ripple. From the slowest readings upward
 * as many are taken as agree with b · scale; where the weights begin to move they no longer do. With
 * what was assumed beforehand as one more observation of b, which is 0 with the assumed uncertainty.
 */
export function fitUnseenRipple(readings: readonly SlowReading[], sizeDeg: number): UnseenRipple {
  const ordered = [...readings].sort((a, b) => a.speedRpm - b.speedRpm);
  let best = { degAt1000Rpm: 0, standardUncertaintyDegAt1000Rpm: sizeDeg };
  for (let count = 1; count <= ordered.length; count++) {
    const group = ordered.slice(0, count);
    const next = ordered[count];
    const last = group[count - 1] as SlowReading;
    if (next !== undefined && isSame(next.speedRpm, last.speedRpm)) continue;
    const fitted = estimate(group, sizeDeg);
    const agrees = group.every(
      ({ advanceDeg, scale, standardUncertaintyDeg }) =>
        Math.abs(advanceDeg - fitted.degAt1000Rpm * scale) <= AGREES * standardUncertaintyDeg,
    );
    if (!agrees) break;
    if (distinctSpeeds(group) >= SPEEDS_MIN) best = fitted;
  }
  return { ...best, sizeDegAt1000Rpm: Math.max(sizeDeg, Math.abs(best.degAt1000Rpm)) };
}

function estimate(group: readonly SlowReading[], sizeDeg: number) {
  let information = 1 / sizeDeg ** 2;
  let pull = 0;
  for (const { advanceDeg, scale, standardUncertaintyDeg } of group) {
    const weight = 1 / Math.max(standardUncertaintyDeg, 1e-6) ** 2;
    information += weight * scale ** 2;
    pull += weight * scale * advanceDeg;
  }
  // The reference's own error stands in all of them alike, so more readings do not average it out.
  const shared = Math.min(
    ...group.map((one) => one.standardUncertaintyDeg / Math.abs(one.scale || 1)),
  );
  const averaged = 1 / Math.sqrt(information);
  return {
    degAt1000Rpm: pull / information,
    standardUncertaintyDegAt1000Rpm: Math.min(sizeDeg, Math.hypot(averaged, shared)),
  };
}

function distinctSpeeds(group: readonly SlowReading[]): number {
  return group.filter(
    ({ speedRpm }, i) => i === 0 || !isSame(speedRpm, (group[i - 1] as SlowReading).speedRpm),
  ).length;
}

function isSame(oneRpm: number, otherRpm: number): boolean {
  return Math.abs(oneRpm / otherRpm - 1) < SAME_SPEED;
}
