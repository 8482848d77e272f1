// Dwell and scatter at both ends of a sweep, and whether they changed by more than their uncertainty.
import type { Reading } from "../documents.ts";
import type { FigureAt, ScatterResult, Trend } from "../triggerResult.ts";
import { coverageFactor, normalQuantile } from "../uncertainty/coverage.ts";

const COVERAGE = 0.95;
const TWO_SIDED = coverageFactor(COVERAGE, Number.POSITIVE_INFINITY);
/** An amplitude of two equal normal errors is Rayleigh's: 95 in 100 stay below √(−2 ln 0.05) of one. From memory. */
const AMPLITUDE = Math.sqrt(-2 * Math.log(1 - COVERAGE));

interface Figure {
  readonly valueDeg: number;
  readonly standardUncertaintyDeg: number;
  /** Times the standard uncertainty is the expanded one of the figure by itself. */
  readonly factor: number;
}

type XOf = (reading: Reading) => number;

/** Readings in rising order of x; null where none tells the dwell. */
export function dwellTrend(readings: readonly Reading[], x: XOf): Trend | null {
  return trendOf(readings, x, ({ dwellDeg, dwellStandardUncertaintyDeg }) =>
    dwellDeg === null
      ? null
      : {
          valueDeg: dwellDeg,
          standardUncertaintyDeg: dwellStandardUncertaintyDeg,
          factor: TWO_SIDED,
        },
  );
}

/** Readings in rising order of speed; null without one in which every lobe fired. `tickHz`: the rig's clock. */
export function scatterTrends(readings: readonly Reading[], tickHz: number): ScatterResult | null {
  const whole = readings.filter(
    ({ lobes }) => lobes.length > 0 && lobes.every(({ events }) => events > 1),
  );
  const x = ({ speedRpm }: Reading) => speedRpm;
  const random = trendOf(whole, x, (reading) => randomPart(reading, tickHz));
  if (random === null) return null;
  return {
    fixed: trendOf(whole, x, fixedPart),
    oncePerTurn: trendOf(whole, x, oncePerTurnPart),
    random,
  };
}

/** Largest of as many deviations as there are lobes, of which chance alone makes one large. */
function fixedPart({ lobes, scatter }: Reading): Figure | null {
  if (lobes.length < 2) return null;
  return {
    valueDeg: scatter.fixedDeg,
    standardUncertaintyDeg: lobeUncertainty(lobes),
    factor: normalQuantile((1 + COVERAGE ** (1 / lobes.length)) / 2),
  };
}

/** Amplitude of a wave fitted to n places, each uncertain by u: u · √(2/n) in cosine and sine alike. */
function oncePerTurnPart({ lobes, scatter }: Reading): Figure | null {
  if (scatter.oncePerTurnDeg === null) return null;
  return {
    valueDeg: scatter.oncePerTurnDeg,
    standardUncertaintyDeg: lobeUncertainty(lobes) * Math.sqrt(2 / lobes.length),
    factor: AMPLITUDE,
  };
}

/** √(1 + 0.79): an event's tick and those of the pulses around it, as in core/angles/reading.ts. */
const TICK_FACTOR = 1.34;

/**
 * A standard deviation of ν degrees of freedom is uncertain by about 1/√(2ν) of itself (JCGM 100
 * § E.4.3, from memory); what the rounding to ticks scatters by itself is not the unit's.
 */
function randomPart({ lobes, scatter, speedRpm }: Reading, tickHz: number): Figure {
  const degreesOfFreedom = lobes.reduce((sum, { events }) => sum + events - 1, 0);
  const roundingDeg = (TICK_FACTOR * 6 * speedRpm) / tickHz / Math.sqrt(12);
  return {
    valueDeg: scatter.randomDeg,
    standardUncertaintyDeg: Math.hypot(
      scatter.randomDeg / Math.sqrt(2 * degreesOfFreedom),
      roundingDeg,
    ),
    factor: TWO_SIDED,
  };
}

function lobeUncertainty(lobes: Reading["lobes"]): number {
  return Math.max(0, ...lobes.map(({ standardUncertaintyDeg }) => standardUncertaintyDeg));
}

/** From the first reading that tells the figure to the last. What stands in both alike counts twice: never too small. */
function trendOf(
  readings: readonly Reading[],
  x: XOf,
  figureOf: (reading: Reading) => Figure | null,
): Trend | null {
  const told = readings.flatMap((reading) => {
    const figure = figureOf(reading);
    return figure === null ? [] : [{ x: x(reading), ...figure }];
  });
  const [low] = told;
  const high = told.at(-1);
  if (low === undefined || high === undefined) return null;
  if (high === low) return { low: figureAt(low), change: null };
  const changeDeg = high.valueDeg - low.valueDeg;
  const expandedUncertaintyDeg = Math.hypot(
    low.factor * low.standardUncertaintyDeg,
    high.factor * high.standardUncertaintyDeg,
  );
  return {
    low: figureAt(low),
    change: {
      high: figureAt(high),
      changeDeg,
      expandedUncertaintyDeg,
      isClear: Math.abs(changeDeg) > expandedUncertaintyDeg,
    },
  };
}

function figureAt({
  x,
  valueDeg,
  standardUncertaintyDeg,
  factor,
}: Figure & { x: number }): FigureAt {
  return { x, valueDeg, expandedUncertaintyDeg: factor * standardUncertaintyDeg };
}
