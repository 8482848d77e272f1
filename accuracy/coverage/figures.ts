// How often intervals hold the truth, in all and in every stratum, and how wide they are against the ideal.
import type { Figure } from "../bar.ts";
import type { Interval } from "./intervals.ts";

const INTERIOR = { min: 0.92, max: 0.98 } as const;
const STRATUM_MIN = 0.88;
/** A stratum with fewer tells of chance rather than of the intervals. */
const STRATUM_COUNT = 150;
const WIDTH_MAX = 1.5;

export function coverageFigures(intervals: readonly Interval[]): readonly Figure[] {
  const quantities = [...new Set(intervals.map(({ quantity }) => quantity))].sort();
  return quantities.flatMap((quantity) =>
    quantityFigures(
      quantity,
      intervals.filter((interval) => interval.quantity === quantity),
    ),
  );
}

/** Share of the intervals that hold their truth. */
export function share(intervals: readonly Interval[]): number {
  return intervals.filter((interval) => ratio(interval) <= 1).length / intervals.length;
}

/** Error as a multiple of the half width. */
function ratio({ value, truth, expanded }: Interval): number {
  return Math.abs(value - truth) / expanded;
}

/**
 * How much wider the intervals are than the ideal: the same ones, all scaled by one factor so that
 * 95 % hold. Below 1 they are too narrow.
 */
export function widthAgainstIdeal(intervals: readonly Interval[]): number {
  const ratios = intervals.map(ratio).sort((a, b) => a - b);
  return 1 / (ratios[Math.ceil(0.95 * ratios.length) - 1] as number);
}

function quantityFigures(quantity: string, own: readonly Interval[]): readonly Figure[] {
  const interior = own.every((interval) => interval.interior);
  const held = share(own);
  const width = widthAgainstIdeal(own);
  const inside = held >= INTERIOR.min && (!interior || held <= INTERIOR.max);
  const worst = worstStratum(own);
  const figure = {
    what: quantity,
    measured: `${percent(held)} held, ${width.toFixed(2)} × ideal width`,
    limit: interior ? "92–98 %" : `≥ 92 %, ≤ ${WIDTH_MAX} ×`,
    count: own.length,
    met: inside && (interior || width <= WIDTH_MAX),
  };
  if (worst === null) return [figure];
  return [
    figure,
    {
      what: `… worst stratum: ${worst.stratum}`,
      measured: `${percent(worst.held)} held`,
      limit: `≥ ${percent(STRATUM_MIN)}`,
      count: worst.count,
      met: worst.held >= STRATUM_MIN,
    },
  ];
}

function worstStratum(own: readonly Interval[]) {
  const strata = [...new Set(own.flatMap(({ strata }) => strata))];
  return strata
    .map((stratum) => own.filter((interval) => interval.strata.includes(stratum)))
    .map((within, i) => ({
      stratum: strata[i] as string,
      held: share(within),
      count: within.length,
    }))
    .filter(({ count }) => count >= STRATUM_COUNT)
    .reduce<{ stratum: string; held: number; count: number } | null>(
      (worst, one) => (worst === null || one.held < worst.held ? one : worst),
      null,
    );
}

function percent(part: number): string {
  return `${(100 * part).toFixed(1)} %`;
}
