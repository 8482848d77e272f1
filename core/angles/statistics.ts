// Means, spreads and medians of plain lists.

/** Median; NaN of nothing. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
}

/** Mean and the standard deviation of a single value; deviation 0 for fewer than two values. */
export function meanAndSpread(values: readonly number[]): { mean: number; spread: number } {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  if (n < 2) return { mean, spread: 0 };
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, spread: Math.sqrt(squares / (n - 1)) };
}

/** Scales a median absolute deviation to the standard deviation of a normal distribution. */
const MAD_TO_SIGMA = 1.4826;
const OUTLIER_DEVIATIONS = 6;

/** Middle and half width of what belongs together: values further off are set aside. */
export function belonging(
  values: readonly number[],
  leastWidth: number,
): { middle: number; width: number } {
  const middle = median(values);
  const deviation = median(values.map((value) => Math.abs(value - middle)));
  return { middle, width: Math.max(OUTLIER_DEVIATIONS * MAD_TO_SIGMA * deviation, leastWidth) };
}

/**
 * Standard uncertainty of the mean of values in the order of time, with its degrees of freedom.
 * Neighbours that resemble each other (lag-one correlation beyond chance) count for less.
 */
export function meanUncertainty(values: readonly number[]): {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
} {
  const n = values.length;
  const { mean, spread } = meanAndSpread(values);
  if (n < 2 || spread === 0)
    return { standardUncertainty: 0, degreesOfFreedom: Math.max(1, n - 1) };
  let lagged = 0;
  for (let i = 1; i < n; i++) {
    lagged += ((values[i] as number) - mean) * ((values[i - 1] as number) - mean);
  }
  // The estimate itself scatters by 1/√n and falls short by 1/n.
  const correlation = lagged / ((n - 1) * spread ** 2) + 1 / n;
  const sure = Math.min(0.9, Math.max(0, correlation - 1 / Math.sqrt(n)));
  // Of a first-order process: variance of the mean grows by (1 + r)/(1 − r).
  const factor = (1 + sure) / (1 - sure);
  return {
    standardUncertainty: spread * Math.sqrt(factor / n),
    degreesOfFreedom: Math.max(1, n / factor - 1),
  };
}

/** Change of the values from first to last along their least-squares line, and its standard uncertainty. */
export function drift(values: readonly number[]): {
  readonly change: number;
  readonly standardUncertainty: number;
} {
  const n = values.length;
  if (n < 3) return { change: 0, standardUncertainty: 0 };
  const { mean } = meanAndSpread(values);
  const middle = (n - 1) / 2;
  let cross = 0;
  let square = 0;
  values.forEach((value, i) => {
    cross += (i - middle) * (value - mean);
    square += (i - middle) ** 2;
  });
  const slope = cross / square;
  const rest = values.reduce(
    (sum, value, i) => sum + (value - mean - slope * (i - middle)) ** 2,
    0,
  );
  const span = n - 1;
  return {
    change: slope * span,
    standardUncertainty: span * Math.sqrt(rest / Math.max(1, n - 2) / square),
  };
}
