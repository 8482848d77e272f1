// Probabilities of one figure by what is to be expected of sound units and of faulty ones.
import { shares } from "./evidence.ts";

/** A figure that is small in sound units: what is expected of either, as lognormal. */
export interface Expected {
  readonly median: number;
  readonly spread: number;
}

/**
 * Probability of the fault by a figure above zero.
 * @param prior of the fault, before the figure is known
 * @param standardUncertainty of the figure
 */
export function probabilityBySize(
  figure: number,
  standardUncertainty: number,
  { sound, faulty, prior }: { sound: Expected; faulty: Expected; prior: number },
): number {
  const log = ({ median, spread }: Expected) => {
    const seen = Math.max(figure, standardUncertainty, 1e-9);
    const wide = Math.hypot(spread, standardUncertainty / seen);
    return -((Math.log(seen / median) / wide) ** 2) / 2 - Math.log(wide);
  };
  return shares([Math.log(1 - prior) + log(sound), Math.log(prior) + log(faulty)])[1] as number;
}
