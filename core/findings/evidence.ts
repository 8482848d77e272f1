// How well a fault with a size not known explains readings, beside healthy units that differ among themselves.
/** Readings and their covariance, factored once for all that is to be compared. */
export interface Whitened {
  readonly values: readonly number[];
  /** Turns predictions as it turned the readings, so that their errors are independent with spread 1. */
  readonly whiten: (predicted: readonly number[]) => number[];
  /** log of the square root of the covariance's determinant. */
  readonly logSize: number;
}

/** @param covariance symmetric and positive definite */
export function whitened(
  values: readonly number[],
  covariance: readonly (readonly number[])[],
): Whitened {
  const lower = cholesky(covariance);
  const whiten = (predicted: readonly number[]) =>
    solveLower(
      lower,
      values.map((_, i) => predicted[i] ?? Number.NaN),
    );
  return {
    values: solveLower(lower, values),
    whiten,
    logSize: logDiagonal(lower),
  };
}

export interface Explained {
  /** Natural logarithm of the probability density of the readings, the sizes averaged over (Laplace's method). */
  readonly logEvidence: number;
  /** Where the sizes, as standard normal numbers, explain the readings best. */
  readonly sizes: readonly number[];
  readonly predicted: readonly number[];
}

/** Beginnings of the search for the first size, which may have several likely places. */
const STARTS = [0, -1.5, 1.5] as const;
const MOST_STEPS = 12;
const DIFFERENCE = 1e-3;
/** A step that gains less is the last. */
const GAIN_MIN = 1e-3;

/**
 * @param near where the search begins, if that is known
 * @param predict readings by `count` sizes, each a standard normal number beforehand
 */
export function explain(
  readings: Whitened,
  count: number,
  predict: (sizes: readonly number[]) => readonly number[],
  near: readonly number[] | null = null,
): Explained {
  const residuals = (sizes: readonly number[]) =>
    readings.whiten(predict(sizes)).map((one, i) => one - (readings.values[i] as number));
  const nothing = new Array<number>(count).fill(0);
  let best = stand(nothing, residuals);
  const starts =
    near === null ? (count > 1 ? STARTS : [0]).map((one) => nothing.with(0, one)) : [near];
  for (const start of starts) {
    const found = search(stand(start, residuals), residuals);
    if (found.misfit < best.misfit) best = found;
  }
  const logWidth = logDiagonal(cholesky(informationOf(slopesAt(best, residuals))));
  return {
    logEvidence: -best.misfit / 2 - logWidth - readings.logSize,
    sizes: best.sizes,
    predicted: predict(best.sizes),
  };
}

interface Stand {
  readonly sizes: readonly number[];
  readonly residuals: readonly number[];
  /** Sum of squares of residuals and sizes. */
  readonly misfit: number;
}

type Residuals = (sizes: readonly number[]) => number[];

function stand(sizes: readonly number[], residuals: Residuals): Stand {
  const here = residuals(sizes);
  return { sizes, residuals: here, misfit: dot(here, here) + dot(sizes, sizes) };
}

/**
 * Damped steps of Gauss and Newton's. Curves have corners, where no slope vanishes; the sizes' own
 * weight keeps every step finite, and a few steps are near enough to compare explanations by.
 */
function search(from: Stand, residuals: Residuals): Stand {
  let here = from;
  let damping = 0.1;
  for (let step = 0; step < MOST_STEPS; step++) {
    const slopes = slopesAt(here, residuals);
    const lower = cholesky(informationOf(slopes, 1 + damping));
    const downhill = slopes.map(
      (column, k) => -dot(column, here.residuals) - (here.sizes[k] as number),
    );
    const way = solveUpper(lower, solveLower(lower, downhill));
    const next = stand(
      here.sizes.map((size, k) => size + (way[k] as number)),
      residuals,
    );
    const gain = here.misfit - next.misfit;
    damping = gain > 0 ? damping / 5 : damping * 5;
    if (gain > 0) here = next;
    if (gain > 0 ? gain < GAIN_MIN : damping > 1e3) break;
  }
  return here;
}

/** One column for each size. */
function slopesAt({ sizes, residuals: here }: Stand, residuals: Residuals): number[][] {
  return sizes.map((size, k) =>
    residuals(sizes.with(k, size + DIFFERENCE)).map(
      (one, i) => (one - (here[i] as number)) / DIFFERENCE,
    ),
  );
}

function informationOf(slopes: readonly (readonly number[])[], stiffness = 1): number[][] {
  return slopes.map((column, i) =>
    slopes.map((other, j) =>
      i === j ? stiffness * dot(column, column) + stiffness : dot(column, other),
    ),
  );
}

function logDiagonal(lower: readonly (readonly number[])[]): number {
  return lower.reduce((sum, row, i) => sum + Math.log(row[i] as number), 0);
}

/** Shares of 1 by logarithms of weights. */
export function shares(logWeights: readonly number[]): number[] {
  const most = Math.max(...logWeights);
  const weights = logWeights.map((one) => Math.exp(one - most));
  const sum = weights.reduce((total, one) => total + one, 0);
  return weights.map((one) => one / sum);
}

/** Lower triangle whose product with its transpose is the matrix. */
function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const lower = matrix.map((row) => row.map(() => 0));
  for (let i = 0; i < matrix.length; i++) {
    const row = lower[i] as number[];
    for (let j = 0; j <= i; j++) {
      const above = lower[j] as number[];
      let sum = matrix[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (above[k] as number);
      row[j] = i === j ? Math.sqrt(Math.max(sum, Number.MIN_VALUE)) : sum / (above[j] as number);
    }
  }
  return lower;
}

function solveLower(lower: readonly (readonly number[])[], values: readonly number[]): number[] {
  const solved: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const row = lower[i] as readonly number[];
    let sum = values[i] as number;
    for (let j = 0; j < i; j++) sum -= (row[j] as number) * (solved[j] as number);
    solved.push(sum / (row[i] as number));
  }
  return solved;
}

/** With the transpose of the triangle. */
function solveUpper(lower: readonly (readonly number[])[], values: readonly number[]): number[] {
  const solved = [...values];
  for (let i = values.length - 1; i >= 0; i--) {
    let sum = solved[i] as number;
    for (let j = i + 1; j < values.length; j++) sum -= (lower[j]?.[i] ?? 0) * (solved[j] as number);
    solved[i] = sum / (lower[i]?.[i] as number);
  }
  return solved;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, one, i) => sum + one * (b[i] as number), 0);
}
