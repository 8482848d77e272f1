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
  const wide = Math.max(
    Math.hypot(standardUncertainty, SHARE_DOUBTED * figure),
    LEAST_SHARE * sound.median,
  );
  const log = (expected: Expected) => logDensity(figure, wide, expected);
  return shares([Math.log(1 - prior) + log(sound), Math.log(prior) + log(faulty)])[1] as number;
}

/** No figure tells more than to a tenth, nor than to a hundredth of what is usual. */
const SHARE_DOUBTED = 0.1;
const LEAST_SHARE = 0.01;
/** Of the logarithm of the true size, in standard deviations: a sum over these stands for the integral. */
const MOST_SPREADS = 8;
const STEP_SPREADS = 0.1;

/** Of a figure read with a normal error, where its true size is lognormal. A figure of nothing has one too. */
function logDensity(figure: number, standardDeviation: number, { median, spread }: Expected) {
  let density = 0;
  for (let z = -MOST_SPREADS; z <= MOST_SPREADS; z += STEP_SPREADS) {
    const off = (figure - median * Math.exp(spread * z)) / standardDeviation;
    density += Math.exp(-(z ** 2 + off ** 2) / 2);
  }
  return Math.log(Math.max(density, Number.MIN_VALUE));
}
