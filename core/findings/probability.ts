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
  const log = (expected: Expected) =>
    standardUncertainty < WELL_KNOWN_SHARE * figure
      ? logDensityOfKnown(figure, standardUncertainty, expected)
      : logDensity(figure, standardUncertainty, expected);
  return shares([Math.log(1 - prior) + log(sound), Math.log(prior) + log(faulty)])[1] as number;
}

/** A standard uncertainty below this share of the figure widens its logarithm by that share. */
const WELL_KNOWN_SHARE = 0.15;

function logDensityOfKnown(figure: number, uncertainty: number, { median, spread }: Expected) {
  const wide = Math.hypot(spread, uncertainty / figure);
  return -((Math.log(figure / median) / wide) ** 2) / 2 - Math.log(wide * figure);
}

/** Of the logarithm of the true size, in standard deviations: a sum over these stands for the integral. */
const MOST_SPREADS = 8;
const STEP_SPREADS = 0.1;
/** A figure known exactly to be nothing is none of either. */
const LEAST_UNCERTAINTY_SHARE = 0.01;

/** Read with a normal error, which a figure of nothing has too; the true size is lognormal. */
function logDensity(figure: number, uncertainty: number, { median, spread }: Expected) {
  const wide = Math.max(uncertainty, LEAST_UNCERTAINTY_SHARE * median);
  let density = 0;
  for (let z = -MOST_SPREADS; z <= MOST_SPREADS; z += STEP_SPREADS) {
    const off = (figure - median * Math.exp(spread * z)) / wide;
    density += STEP_SPREADS * Math.exp(-(z ** 2 + off ** 2) / 2);
  }
  return Math.log(Math.max(density / (wide * Math.sqrt(2 * Math.PI)), Number.MIN_VALUE));
}
