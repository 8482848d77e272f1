// Orthogonal factoring of a matrix with a right-hand side: the linear algebra under the fits.

/** Product of two columns, from an element on. */
function dot(a: readonly number[], b: readonly number[], from = 0): number {
  let sum = 0;
  for (let i = from; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** Adds `factor` times one column to another, from an element on. */
function add(to: number[], factor: number, column: readonly number[], from: number): void {
  for (let i = from; i < to.length; i++) to[i] = (to[i] ?? 0) + factor * (column[i] ?? 0);
}

export function norm(column: readonly number[]): number {
  return Math.sqrt(dot(column, column));
}

/** Upper triangle R and Qᵀ b of a matrix whose columns were brought to length one and put in order. */
export interface Factored {
  /** Column k of R in its first k + 1 elements. */
  readonly triangle: readonly (readonly number[])[];
  /** Qᵀ b: the first elements lie in the space of the columns, the others are what no fit removes. */
  readonly turned: readonly number[];
  /** Which column of the matrix stands at k, and its length. */
  readonly order: readonly number[];
  readonly lengths: readonly number[];
  readonly fullRank: boolean;
}

/**
 * Householder's QR of the matrix given by its columns, largest remaining column first. Rank is lost
 * where what remains of a column of length one is below `rankTolerance`.
 */
export function factor(
  matrix: readonly (readonly number[])[],
  rightHand: readonly number[],
  rankTolerance: number,
): Factored {
  const lengths = matrix.map((column) => norm(column) || 1);
  const columns = matrix.map((column, k) => column.map((one) => one / (lengths[k] ?? 1)));
  const order = columns.map((_, k) => k);
  const turned = [...rightHand];
  let fullRank = columns.every((column) => column.length >= columns.length);
  for (let k = 0; k < columns.length && fullRank; k++) {
    bringLargest(columns, order, k);
    const column = columns[k] ?? [];
    const size = Math.sqrt(dot(column, column, k));
    if (!(size > rankTolerance)) {
      fullRank = false;
      break;
    }
    const head = (column[k] ?? 0) > 0 ? -size : size;
    const mirror = column.map((one, i) => (i < k ? 0 : i === k ? one - head : one));
    const share = -2 / dot(mirror, mirror, k);
    for (const other of [...columns.slice(k + 1), turned]) {
      add(other, share * dot(mirror, other, k), mirror, k);
    }
    column[k] = head;
  }
  return { triangle: columns, turned, order, lengths, fullRank };
}

/** Exchanges columns so that the one with most left below row k stands at k. */
function bringLargest(columns: number[][], order: number[], k: number): void {
  const left = columns.map((column, j) => (j < k ? -1 : dot(column, column, k)));
  const largest = left.indexOf(Math.max(...left));
  for (const list of [columns, order] as unknown[][]) {
    [list[k], list[largest]] = [list[largest], list[k]];
  }
}

/** x with R x = b, b shorter than R counting as zeros below; in the matrix's own order and lengths. */
function backSubstitute(factored: Factored, rightHand: readonly number[]): number[] {
  const { triangle, order, lengths } = factored;
  const rest = triangle.map((_, k) => rightHand[k] ?? 0);
  const solution = triangle.map(() => 0);
  for (let k = triangle.length - 1; k >= 0; k--) {
    const column = triangle[k] ?? [];
    const value = (rest[k] ?? 0) / (column[k] ?? 0);
    for (let i = 0; i < k; i++) rest[i] = (rest[i] ?? 0) - value * (column[i] ?? 0);
    const at = order[k] ?? 0;
    solution[at] = value / (lengths[at] ?? 1);
  }
  return solution;
}

/** The least-squares solution; only for full rank. */
export function solve(factored: Factored): number[] {
  return backSubstitute(factored, factored.turned);
}

/** (Aᵀ A)⁻¹ = R⁻¹ R⁻ᵀ; only for full rank. */
export function normalInverse(factored: Factored): number[][] {
  const size = factored.triangle.length;
  const columns = Array.from({ length: size }, (_, k) =>
    backSubstitute(
      factored,
      Array.from({ length: size }, (_, i) => (i === k ? 1 : 0)),
    ),
  );
  const row = (at: number): number[] => columns.map((column) => column[at] ?? 0);
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_, j) => dot(row(i), row(j))),
  );
}
