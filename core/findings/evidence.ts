// How well a fault with a size not known explains readings, beside healthy units that differ among themselves.
import { spreadPlaces } from "./spread.ts";

/** Readings and their covariance, factored once for all that is to be compared. */
export interface Whitened {
  readonly values: Float64Array;
  /** Turns predictions as it turned the readings, so that their errors are independent with spread 1. */
  readonly whiten: (predicted: ArrayLike<number>) => Float64Array;
  /** log of the square root of the covariance's determinant. */
  readonly logSize: number;
}

/** @param covariance symmetric and positive definite */
export function whitened(
  values: readonly number[],
  covariance: readonly (readonly number[])[],
): Whitened {
  const lower = cholesky(covariance);
  return {
    values: solveLower(lower, values),
    whiten: (predicted) => solveLower(lower, predicted),
    logSize: logDiagonal(lower),
  };
}

export interface Explained {
  /** Natural logarithm of the probability density of the readings, the sizes averaged over (Laplace's method). */
  readonly logEvidence: number;
  /** Where the sizes, as standard normal numbers, explain the readings best. */
  readonly sizes: readonly number[];
  readonly predicted: Float64Array;
}

/** From every start some steps, from the better half of them some more, from the best of those on until nothing is gained. */
const FIRST_STEPS = 2;
const SECOND_STEPS = 3;
const FOLLOWED = { glance: 1, near: 3, wide: 2 } as const;
const WORTH_FOLLOWING = 100;
const MOST_STEPS = { glance: 4, near: 25, wide: 25 } as const;
const MOST_DAMPING = 100;
/** Farther than this no slope can be trusted. */
const MOST_STRIDE = 1.5;
/** Curves have corners: slopes are taken so far apart that a search sees beyond them. */
const DIFFERENCE = 0.15;
/** A step that gains less is the last. */
const GAIN_MIN = 0.02;
/**
 * A wide search sees where it may begin among so many places spread as sizes are beforehand, and
 * goes on from the best few; and from its end it looks round corners, so many times and so far off.
 */
const PLACES = 100;
const PLACES_SPREAD = 0.8;
const BEGUN = 6;
const ROUND_CORNERS = 6;
const ROUND_CORNERS_SPREAD = 0.25;
const ROUND_CORNERS_STEPS = 4;

/** How a search goes: a glance only ranks, near knows about where the sizes are, wide nothing of it. */
export type Reach = keyof typeof FOLLOWED;

/**
 * @param starts where to search from: sizes, each a standard normal number beforehand
 * @param predict readings by sizes
 */
export function explain(
  readings: Whitened,
  starts: readonly (readonly number[])[],
  predict: (sizes: readonly number[]) => ArrayLike<number>,
  reach: Reach = "near",
): Explained {
  const model = { readings, predict };
  const from = (sizes: readonly number[]) => stand(sizes, model);
  const begun = reach === "wide" ? leastOf(widened(starts).map(from), BEGUN) : starts.map(from);
  const looked = leastOf(
    leastOf(
      begun.map((one) => search(one, model, FIRST_STEPS, DIFFERENCE)),
      Math.max(FOLLOWED[reach], Math.ceil(begun.length / 2)),
    ).map((one) => search(one, model, SECOND_STEPS, DIFFERENCE)),
    FOLLOWED[reach],
  );
  const least = looked[0]?.misfit ?? 0;
  const followed = looked
    .filter(({ misfit }) => misfit < least + WORTH_FOLLOWING)
    .map((one) => search(one, model, MOST_STEPS[reach], DIFFERENCE))
    .reduce(better);
  const coarse = reach === "wide" ? roundCorners(followed, model) : followed;
  // Curves have corners, where no slope vanishes: slopes close by may lead on where those far apart do not.
  const best =
    reach === "glance" ? coarse : search(coarse, model, MOST_STEPS[reach], DIFFERENCE / 100);
  const logWidth = logDiagonal(cholesky(informationOf(gentlerSlopes(best, model))));
  return {
    logEvidence: -best.misfit / 2 - logWidth - readings.logSize,
    sizes: best.sizes,
    predicted: Float64Array.from(predict(best.sizes)),
  };
}

interface Stand {
  readonly sizes: readonly number[];
  readonly residuals: Float64Array;
  /** Sum of squares of residuals and sizes. */
  readonly misfit: number;
}

/** What is read, and what sizes would read. */
interface Model {
  readonly readings: Whitened;
  readonly predict: (sizes: readonly number[]) => ArrayLike<number>;
}

function stand(sizes: readonly number[], { readings, predict }: Model): Stand {
  const residuals = readings.whiten(predict(sizes));
  for (let i = 0; i < residuals.length; i++)
    (residuals[i] as number) -= readings.values[i] as number;
  return { sizes, residuals, misfit: dot(residuals, residuals) + dot(sizes, sizes) };
}

function better(one: Stand, other: Stand): Stand {
  return other.misfit < one.misfit ? other : one;
}

/** The best few, the best first. */
function leastOf(stands: readonly Stand[], count: number): Stand[] {
  return [...stands].sort((one, other) => one.misfit - other.misfit).slice(0, count);
}

function widened(starts: readonly (readonly number[])[]): (readonly number[])[] {
  const places = spreadPlaces(PLACES, starts[0]?.length ?? 0);
  return [...starts, ...places.map((place) => place.map((one) => PLACES_SPREAD * one))];
}

/** A search may end in a corner that is not the least of them: whether one next to it leads farther down. */
function roundCorners(from: Stand, model: Model): Stand {
  return spreadPlaces(ROUND_CORNERS, from.sizes.length)
    .map((place) => from.sizes.map((size, k) => size + ROUND_CORNERS_SPREAD * (place[k] as number)))
    .map((sizes) => search(stand(sizes, model), model, ROUND_CORNERS_STEPS, DIFFERENCE))
    .reduce(better, from);
}

/** Damped steps of Gauss and Newton's, until nothing is gained. The sizes' own weight keeps every step finite. */
function search(from: Stand, model: Model, mostSteps: number, apart: number): Stand {
  let here = from;
  let damping = 0.1;
  let slopes: Float64Array[] | null = null;
  for (let step = 0; step < mostSteps; step++) {
    slopes ??= slopesAt(here.sizes, model, apart);
    const lower = cholesky(informationOf(slopes, 1 + damping));
    const downhill = slopes.map(
      (column, k) => -dot(column, here.residuals) - (here.sizes[k] as number),
    );
    const way = solveUpper(lower, solveLower(lower, downhill));
    const stride = Math.min(1, MOST_STRIDE / Math.max(...way.map(Math.abs)));
    const next = stand(
      here.sizes.map((size, k) => size + stride * (way[k] as number)),
      model,
    );
    const gain = here.misfit - next.misfit;
    const isEnd = gain > 0 ? gain < GAIN_MIN : damping > MOST_DAMPING;
    if (gain > 0) {
      here = next;
      slopes = null;
    }
    if (isEnd) break;
    damping = gain > 0 ? damping / 5 : damping * 5;
  }
  return here;
}

/** One column for each size, turned as the readings are. */
function slopesAt(
  sizes: readonly number[],
  { readings, predict }: Model,
  apart: number,
): Float64Array[] {
  return sizes.map((size, k) =>
    readings.whiten(
      slope(predict(sizes.with(k, size - apart)), predict(sizes.with(k, size + apart)), 2 * apart),
    ),
  );
}

/**
 * Of either side the one where less happens: beside a cliff, which nothing but its edge is told of,
 * the sizes this side of it are as likely as ever.
 */
function gentlerSlopes({ sizes }: Stand, { readings, predict }: Model): Float64Array[] {
  const here = predict(sizes);
  return sizes.map((size, k) => {
    const [below, above] = [-DIFFERENCE, DIFFERENCE].map((apart) =>
      readings.whiten(slope(here, predict(sizes.with(k, size + apart)), apart)),
    ) as [Float64Array, Float64Array];
    return dot(below, below) < dot(above, above) ? below : above;
  });
}

function slope(from: ArrayLike<number>, to: ArrayLike<number>, apart: number): Float64Array {
  const column = new Float64Array(to.length);
  for (let i = 0; i < column.length; i++)
    column[i] = ((to[i] as number) - (from[i] as number)) / apart;
  return column;
}

function informationOf(slopes: readonly Float64Array[], stiffness = 1): number[][] {
  const information = slopes.map(() => new Array<number>(slopes.length).fill(0));
  for (let i = 0; i < slopes.length; i++) {
    for (let j = 0; j <= i; j++) {
      const both = dot(slopes[i] as Float64Array, slopes[j] as Float64Array);
      const value = i === j ? stiffness * both + stiffness : both;
      (information[i] as number[])[j] = value;
      (information[j] as number[])[i] = value;
    }
  }
  return information;
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

function solveLower(
  lower: readonly (readonly number[])[],
  values: ArrayLike<number>,
): Float64Array {
  const solved = new Float64Array(lower.length);
  for (let i = 0; i < solved.length; i++) {
    const row = lower[i] as readonly number[];
    let sum = values[i] as number;
    for (let j = 0; j < i; j++) sum -= (row[j] as number) * (solved[j] as number);
    solved[i] = sum / (row[i] as number);
  }
  return solved;
}

/** With the transpose of the triangle. */
function solveUpper(lower: readonly (readonly number[])[], values: ArrayLike<number>): number[] {
  const solved = Array.from(values);
  for (let i = values.length - 1; i >= 0; i--) {
    let sum = solved[i] as number;
    for (let j = i + 1; j < values.length; j++) sum -= (lower[j]?.[i] ?? 0) * (solved[j] as number);
    solved[i] = sum / (lower[i]?.[i] as number);
  }
  return solved;
}

/** A plain loop: nearly all of a diagnosis is spent here. */
function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}
