// When a figure is worth telling.
import type { Figure, ToldFigure } from "./fitted.ts";

/** Of a slope: half its 95 % interval over the value. */
export const MOST_SHARE = 0.3;

/** Told where half the 95 % interval is at most so much. */
export function within(figure: ToldFigure, mostExpanded: number): Figure {
  const expanded = figure.coverageFactor * figure.standardUncertainty;
  return Number.isFinite(figure.value) && expanded <= mostExpanded
    ? figure
    : { why: "too uncertain" };
}
