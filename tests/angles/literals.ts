// Figures of a reading given as literals, for tests of what is made of them. All that a test does not name is nothing.
import { type RigKnowledge, uncorrectedRig } from "../../core/angles/knowledge.ts";
import type { Pickup } from "../../core/angles/pickup.ts";
import type { ReadingContext, ReadingInput } from "../../core/angles/readingContext.ts";
import { type TrackedTurn, untracked } from "../../core/angles/trackedTurn.ts";
import type { LobeEvents, Window, WindowFigures } from "../../core/angles/window.ts";
import { type Assumed, assumedZero, type Zero } from "../../core/angles/zero.ts";
import type { TurnTimes } from "../../core/turns.ts";
import { HELLO } from "./turns.ts";

/** Turns at an even 1,000 rpm on a clock of 6 MHz: one tick is a thousandth of a degree. */
export const EVEN_TICKS = 360_000;
export const EVEN_TICK_HZ = 6_000_000;

export function evenTurn(k: number, more: Partial<TurnTimes> = {}): TurnTimes {
  return {
    sequence: k,
    indexTick: k * EVEN_TICKS,
    beforeTicks: EVEN_TICKS,
    duringTicks: EVEN_TICKS,
    afterTicks: EVEN_TICKS,
    lost: false,
    every: 1,
    edgeTicks: null,
    followsOn: true,
    ...more,
  };
}

export function lobe(more: Partial<LobeEvents> = {}): LobeEvents {
  return { advanceDeg: 0, spreadDeg: 0, count: 1, dwellDeg: null, dwellSpreadDeg: 0, ...more };
}

export function figuresWith(
  lobes: readonly LobeEvents[],
  more: Partial<WindowFigures> = {},
): WindowFigures {
  return {
    lobes,
    turnMeansDeg: new Float64Array(0),
    kept: lobes.reduce((sum, { count }) => sum + count, 0),
    extra: 0,
    bounces: 0,
    noise: 0,
    driftDeg: 0,
    ripple: { constant: 0, harmonics: [], doubtful: 0 },
    ...more,
  };
}

/** Of these turns; `speedRpm` as given, whatever their times say. */
export function windowWith(
  speedRpm: number,
  turns: readonly TurnTimes[],
  interpolationDeg = 0,
): Window {
  const tracked: TrackedTurn[] = turns.map(untracked);
  const whole = tracked.filter(({ turn }) => !turn.lost);
  return { turns: tracked, whole, speedRpm, pattern: null, interpolationDeg };
}

export function rigWith(more: Partial<RigKnowledge> = {}): RigKnowledge {
  return { ...uncorrectedRig(HELLO), ...more };
}

export function pickupWith(standardUncertainty: number): Pickup {
  return { places: [0, 1], learnt: false, standardUncertainty };
}

export function zeroWith(more: Partial<Assumed> = {}): Zero {
  return assumedZero({
    rippleSizeDegAt1000Rpm: 0,
    usualRippleDegAt1000Rpm: 0,
    rippleBetweenLobesDegAt1000Rpm: 0,
    delayUs: 0,
    delayDegreesOfFreedom: null,
    referenceDeg: 0,
    referenceDegreesOfFreedom: null,
    ...more,
  });
}

/** Four lobes on an even turn at 1,000 rpm, without vacuum, unless told otherwise. */
export function inputWith(more: Partial<ReadingInput> = {}): ReadingInput {
  return {
    window: windowWith(1000, [evenTurn(0)]),
    figures: figuresWith([lobe(), lobe(), lobe(), lobe()]),
    vacuums: [],
    way: null,
    bySpeedAlone: false,
    ...more,
  };
}

/** Four lobes that stood at their nominal places at 500 rpm, nothing else to take off, unless told otherwise. */
export function contextWith(more: Partial<ReadingContext> = {}): ReadingContext {
  const lobes = [lobe(), lobe(), lobe(), lobe()];
  return {
    reference: { window: windowWith(500, []), figures: figuresWith(lobes) },
    referenceDeg: [0, 90, 180, 270],
    lobeAnglesDeg: [0, 90, 180, 270],
    rig: rigWith({ tickHz: EVEN_TICK_HZ }),
    pickup: pickupWith(0),
    zero: zeroWith(),
    hasDwell: true,
    ...more,
  };
}
