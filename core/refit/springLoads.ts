// A curve that was read, as the loads that two springs carry.
import type { Nominal } from "../findings/nominal.ts";
import type { Load } from "./geometry.ts";

/**
 * The first spring carries what rises evenly all the way, the second what is more than that: before
 * the knee nothing.
 */
export function springLoads({ knots }: Nominal): { readonly first: Load; readonly second: Load } {
  const start = knots[0] ?? { advanceDeg: 0, load: 1 };
  const slopes = knots
    .filter(({ advanceDeg }) => advanceDeg > 0)
    .map(({ advanceDeg, load }) => (load - start.load) / advanceDeg);
  const slope = slopes.length === 0 ? 0 : Math.min(...slopes);
  const first = (deg: number) => start.load + slope * deg;
  const knee = kneeOf(knots, first, slope);
  const bent = knee === null ? knots : [start, knee, ...knots.slice(1)];
  return { first, second: (deg) => Math.max(0, loadBetween(bent, deg) - first(deg)) };
}

/** Where the second stretch, gone back beyond its first row, meets the first spring's line; null where it does not. */
function kneeOf(
  knots: Nominal["knots"],
  first: Load,
  slope: number,
): Nominal["knots"][number] | null {
  const [, row, next] = knots;
  if (row === undefined || next === undefined) return null;
  const steeper = (next.load - row.load) / (next.advanceDeg - row.advanceDeg);
  if (steeper <= slope) return null;
  const backDeg = (row.load - first(row.advanceDeg)) / (steeper - slope);
  const advanceDeg = row.advanceDeg - backDeg;
  if (backDeg <= 0 || advanceDeg <= 0) return null;
  return { advanceDeg, load: first(advanceDeg) };
}

/** Straight between knots and on beyond the last as the last stretch goes. */
function loadBetween(knots: Nominal["knots"], deg: number): number {
  const found = knots.findIndex(({ advanceDeg }) => advanceDeg > deg);
  const above = found < 0 ? knots.length - 1 : Math.max(1, found);
  const [low, high] = [knots[above - 1], knots[above]];
  if (low === undefined || high === undefined) return knots[0]?.load ?? 0;
  const share = (deg - low.advanceDeg) / (high.advanceDeg - low.advanceDeg);
  return low.load + share * (high.load - low.load);
}
