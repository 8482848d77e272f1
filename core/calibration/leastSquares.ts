// Weighted linear least squares with its covariance, and whether what is left over is noise. Pure.

/** `coefficients` and `covariance` in the order of the columns; `residuals` are measured minus fitted. */
export interface Fit {
  readonly coefficients: readonly number[];
  /** By the given standard uncertainties alone: not scaled by what is left over. */
  readonly covariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
}

/** A column that the others explain but for this share of it cannot be told from them. */
const SINGULAR = 1e-9;

/**
 * Fits values[i] = Σ rows[i][k] · coefficient[k], weighted by 1/standardUncertainties[i]². Null where
 * the rows do not determine every coefficient.
 */
export function fitLinear(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  standardUncertainties: readonly number[],
): Fit | null {
  const columns = rows[0]?.length ?? 0;
  if (rows.length < columns || columns === 0) return null;
  const weighted = rows.map((row, i) => row.map((x) => x / (standardUncertainties[i] as number)));
  const targets = values.map((y, i) => y / (standardUncertainties[i] as number));
  // Columns of one length: degrees per microsecond beside degrees · rpm² would spoil the elimination.
  const lengths = Array.from({ length: columns }, (_, k) =>
    Math.hypot(...weighted.map((row) => row[k] as number)),
  );
  if (lengths.some((length) => !(length > 0))) return null;
  const scaled = weighted.map((row) => row.map((x, k) => x / (lengths[k] as number)));
  const inverse = inverted(products(scaled));
  if (inverse === null) return null;
  const moments = lengths.map((_, k) =>
    scaled.reduce((sum, row, i) => sum + (row[k] as number) * (targets[i] as number), 0),
  );
  const coefficients = inverse.map(
    (row, k) =>
      row.reduce((sum, x, l) => sum + x * (moments[l] as number), 0) / (lengths[k] as number),
  );
  const covariance = inverse.map((row, k) =>
    row.map((x, l) => x / ((lengths[k] as number) * (lengths[l] as number))),
  );
  const residuals = rows.map(
    (row, i) =>
      (values[i] as number) - row.reduce((sum, x, k) => sum + x * (coefficients[k] as number), 0),
  );
  const chiSquare = residuals.reduce(
    (sum, residual, i) => sum + (residual / (standardUncertainties[i] as number)) ** 2,
    0,
  );
  return {
    coefficients,
    covariance,
    residuals,
    chiSquare,
    degreesOfFreedom: rows.length - columns,
  };
}

function products(rows: readonly (readonly number[])[]): number[][] {
  const columns = rows[0]?.length ?? 0;
  return Array.from({ length: columns }, (_, k) =>
    Array.from({ length: columns }, (_, l) =>
      rows.reduce((sum, row) => sum + (row[k] as number) * (row[l] as number), 0),
    ),
  );
}

/** Gauss–Jordan elimination with pivoting; null where it is singular. Diagonal of about 1 expected. */
function inverted(matrix: readonly (readonly number[])[]): number[][] | null {
  const n = matrix.length;
  const work = matrix.map((row, k) => [...row, ...row.map((_, l) => (k === l ? 1 : 0))]);
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let k = column + 1; k < n; k++) {
      if (Math.abs(work[k]?.[column] ?? 0) > Math.abs(work[pivot]?.[column] ?? 0)) pivot = k;
    }
    const pivotRow = work[pivot] as number[];
    const value = pivotRow[column] as number;
    if (!(Math.abs(value) > SINGULAR)) return null;
    work[pivot] = work[column] as number[];
    const unit = pivotRow.map((x) => x / value);
    work[column] = unit;
    for (let k = 0; k < n; k++) {
      const row = work[k] as number[];
      const factor = row[column] as number;
      if (k === column || factor === 0) continue;
      work[k] = row.map((x, l) => x - factor * (unit[l] as number));
    }
  }
  return work.map((row) => row.slice(n));
}

/**
 * By how much the readings scatter more about the fit than their uncertainties say, at least 1 (the
 * Birge ratio, R. T. Birge, Phys. Rev. 40 (1932) 207; from memory). It widens what the fit says.
 */
export function inflation({ chiSquare, degreesOfFreedom }: Fit): number {
  return degreesOfFreedom === 0 ? 1 : Math.max(1, Math.sqrt(chiSquare / degreesOfFreedom));
}

/** Standard normal quantile at 0.999. */
const Z_999 = 3.0902;

/**
 * What chi-square exceeds once in a thousand by noise alone: the approximation of E. B. Wilson and
 * M. M. Hilferty (1931; from memory), within 4 % of the tables even at one degree of freedom.
 */
export function chiSquareLimit(degreesOfFreedom: number): number {
  const ninth = 2 / (9 * degreesOfFreedom);
  return degreesOfFreedom * (1 - ninth + Z_999 * Math.sqrt(ninth)) ** 3;
}

/** One contribution to a combined standard uncertainty. */
export interface Part {
  readonly standardUncertainty: number;
  /** Null: without limit. */
  readonly degreesOfFreedom: number | null;
}

/**
 * Combined standard uncertainty of uncorrelated parts and its effective degrees of freedom by the
 * Welch–Satterthwaite formula (JCGM 100, G.4.1).
 */
export function combined(parts: readonly Part[]): Part {
  const standardUncertainty = Math.hypot(...parts.map((part) => part.standardUncertainty));
  const limiting = parts.reduce(
    (sum, part) =>
      part.degreesOfFreedom === null
        ? sum
        : sum + part.standardUncertainty ** 4 / part.degreesOfFreedom,
    0,
  );
  return {
    standardUncertainty,
    degreesOfFreedom: limiting === 0 ? null : standardUncertainty ** 4 / limiting,
  };
}
