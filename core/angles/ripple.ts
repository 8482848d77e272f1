// What may be assumed of ripple that no pickup sees: by the pickup's edges, and by the lobes that it moves.
import type { Ripple } from "./pickup.ts";
import { meanAndSpread } from "./statistics.ts";
import type { LobeEvents, WindowFigures } from "./window.ts";
import type { Assumed } from "./zero.ts";

/** (1000 rpm / speed)²: how the angle of a ripple from a fixed torque goes with speed. */
export function rippleScale(speedRpm: number): number {
  return (1000 / speedRpm) ** 2;
}

/**
 * What ripple of the drive shifts a spark by at 1000 rpm where a pickup of one index sees nothing of
 * it: an assumption, no source. From a fixed torque the angle falls with the square of speed, and with
 * the square of how often it goes round in a turn.
 */
export const ASSUMED_DEG = 0.005;
/** Fewer edges than this show no ripple between them. */
export const EDGES_THAT_SHOW = 6;

/**
 * Only as often round a turn as there are lobes, or a multiple, does ripple shift all sparks alike.
 * Where the pickup shows ripple, what it does not show is taken to be of a torque as large.
 */
export function assumedRippleDeg(
  edgesPerTurn: number,
  lobes: number,
  { harmonics }: Ripple,
  speedRpm: number,
): number {
  const shown = edgesPerTurn < EDGES_THAT_SHOW ? 0 : edgesPerTurn / 2;
  const order = lobes * Math.max(1, Math.ceil(shown / lobes));
  const torques = harmonics.map((one) => Math.hypot(one.cosine, one.sine) * one.order ** 2);
  const seen = (360 * Math.max(0, ...torques)) / Math.SQRT2 / rippleScale(speedRpm);
  return Math.max(ASSUMED_DEG * lobes ** 2, seen) / order ** 2;
}

interface Seen {
  readonly speedRpm: number;
  readonly figures: WindowFigures;
}

/** In degrees at 1000 rpm. */
export interface ShownRipple {
  /** By the openings, which are what counts. */
  readonly byOpenings: number;
  /** By the closings too: where openings happen to stand at its zeros, they do not. */
  readonly byAll: number;
}

/**
 * Ripple of other orders than the number of lobes shows in the lobes' places, which it moves at low
 * speed and not at high speed: what cannot be seen is taken to be at least as large as that. Null
 * where the lobes tell nothing.
 */
export function rippleBetweenLobes(slow: Seen, fast: Seen): ShownRipple | null {
  const scale = rippleScale(slow.speedRpm) - rippleScale(fast.speedRpm);
  const spreadOf = (placeDeg: (lobe: LobeEvents) => number) =>
    meanAndSpread(
      slow.figures.lobes.map((lobe, j) => {
        const other = fast.figures.lobes[j];
        return other === undefined ? Number.NaN : placeDeg(lobe) - placeDeg(other);
      }),
    ).spread;
  const openings = spreadOf(({ advanceDeg }) => advanceDeg);
  const closings = spreadOf(({ advanceDeg, dwellDeg }) => advanceDeg + (dwellDeg ?? Number.NaN));
  if (!(scale > 0) || !Number.isFinite(openings)) return null;
  const all = Number.isFinite(closings) ? Math.hypot(openings, closings) / Math.SQRT2 : openings;
  return { byOpenings: openings / scale, byAll: all / scale };
}

/** Up to so many times as much as the lobes show, ripple at the index is no surprise. An assumption, no source. */
const USUAL_OF_SHOWN = 2;

/** What is assumed of ripple by what a pickup leaves open and what the lobes show of it; null: nothing. */
export function rippleShownByLobes(
  assumedDeg: number,
  shown: ShownRipple | null,
): Pick<Assumed, "rippleSizeDegAt1000Rpm" | "usualRippleDegAt1000Rpm"> {
  return {
    rippleSizeDegAt1000Rpm: Math.max(assumedDeg, shown?.byOpenings ?? 0),
    usualRippleDegAt1000Rpm: Math.max(
      assumedDeg,
      shown?.byOpenings ?? 0,
      USUAL_OF_SHOWN * (shown?.byAll ?? 0),
    ),
  };
}
