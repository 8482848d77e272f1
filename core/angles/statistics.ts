// Means, spreads and medians of plain lists.

/** Where values are reordered. One for all, since none outlives its call: new ones cost more than the search. */
let scratch = new Float64Array(1024);

/** As a column: reckoning over lists of many kinds is several times slower than over one kind. */
function columnOf(values: ArrayLike<number>): Float64Array {
  return values instanceof Float64Array ? values : new Float64Array(values);
}

/** Median; NaN of nothing. */
export function median(values: ArrayLike<number>): number {
  takeCopy(columnOf(values));
  return medianOfScratch(values.length);
}

function takeCopy(values: Float64Array): void {
  if (values.length > scratch.length) scratch = new Float64Array(2 * values.length);
  scratch.set(values);
}

/** Median of the first `count` values there. */
function medianOfScratch(count: number): number {
  const half = count >> 1;
  const upper = selected(scratch, count, half);
  if (count % 2 === 1) return upper;
  // All that stand before it now are not larger, so the largest of them is its neighbour.
  let lower = count === 0 ? Number.NaN : (scratch[0] as number);
  for (let i = 1; i < half; i++) lower = Math.max(lower, scratch[i] as number);
  return (lower + upper) / 2;
}

/**
 * The value that would stand at `place` were the first `count` sorted; NaN without any. Reorders them so
 * that none before it is larger and none after it smaller. Source: C. A. R. Hoare, Algorithm 65 (FIND), 1961.
 */
function selected(values: Float64Array, count: number, place: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1] as number;
    let i = low;
    let j = high;
    while (i <= j) {
      while ((values[i] as number) < pivot) i++;
      while ((values[j] as number) > pivot) j--;
      if (i > j) break;
      const one = values[i] as number;
      values[i++] = values[j] as number;
      values[j--] = one;
    }
    if (place <= j) high = j;
    else if (place >= i) low = i;
    else break;
  }
  return count === 0 ? Number.NaN : (values[place] as number);
}

/** Mean and the standard deviation of a single value; deviation 0 for fewer than two values. */
export function meanAndSpread(values: ArrayLike<number>): { mean: number; spread: number } {
  const column = columnOf(values);
  const n = column.length;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += column[i] as number;
  const mean = sum / n;
  if (n < 2) return { mean, spread: 0 };
  let squares = 0;
  for (let i = 0; i < n; i++) squares += ((column[i] as number) - mean) ** 2;
  return { mean, spread: Math.sqrt(squares / (n - 1)) };
}

/** Scales a median absolute deviation to the standard deviation of a normal distribution. */
const MAD_TO_SIGMA = 1.4826;
const OUTLIER_DEVIATIONS = 6;

/** Middle and half width of what belongs together: values further off are set aside. At least `leastWidth`. */
export function belonging(
  values: Float64Array,
  leastWidth: number,
): { middle: number; width: number } {
  // All of them, wherever among them their median lies: nearly always so, and found in one pass.
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    least = Math.min(least, values[i] as number);
    most = Math.max(most, values[i] as number);
  }
  if (most - least <= leastWidth) return { middle: (least + most) / 2, width: leastWidth };
  takeCopy(values);
  const middle = medianOfScratch(values.length);
  for (let i = 0; i < values.length; i++) scratch[i] = Math.abs((scratch[i] as number) - middle);
  const deviation = medianOfScratch(values.length);
  return { middle, width: Math.max(OUTLIER_DEVIATIONS * MAD_TO_SIGMA * deviation, leastWidth) };
}

/** Those that belong together, in their order; the column itself where all do. */
export function within(
  values: Float64Array,
  { middle, width }: { readonly middle: number; readonly width: number },
): Float64Array {
  let first = 0;
  while (first < values.length && Math.abs((values[first] as number) - middle) <= width) first++;
  // Nearly always all belong together, and need no copy.
  if (first === values.length) return values;
  const near = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (Math.abs(value - middle) <= width) near[count++] = value;
  }
  return near.subarray(0, count);
}

/**
 * Standard uncertainty of the mean of values in the order of time, with its degrees of freedom.
 * Neighbours that resemble each other (lag-one correlation beyond chance) count for less.
 */
export function meanUncertainty(values: ArrayLike<number>): {
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
} {
  const column = columnOf(values);
  const n = column.length;
  const { mean, spread } = meanAndSpread(column);
  if (n < 2 || spread === 0)
    return { standardUncertainty: 0, degreesOfFreedom: Math.max(1, n - 1) };
  let lagged = 0;
  for (let i = 1; i < n; i++) {
    lagged += ((column[i] as number) - mean) * ((column[i - 1] as number) - mean);
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
export function drift(values: ArrayLike<number>): {
  readonly change: number;
  readonly standardUncertainty: number;
} {
  const column = columnOf(values);
  const n = column.length;
  if (n < 3) return { change: 0, standardUncertainty: 0 };
  const { mean } = meanAndSpread(column);
  const middle = (n - 1) / 2;
  let cross = 0;
  let square = 0;
  for (let i = 0; i < n; i++) {
    cross += (i - middle) * ((column[i] as number) - mean);
    square += (i - middle) ** 2;
  }
  const slope = cross / square;
  let rest = 0;
  for (let i = 0; i < n; i++) {
    rest += ((column[i] as number) - mean - slope * (i - middle)) ** 2;
  }
  const span = n - 1;
  return {
    change: slope * span,
    standardUncertainty: span * Math.sqrt(rest / Math.max(1, n - 2) / square),
  };
}
