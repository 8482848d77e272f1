// Columns of numbers that grow: what is kept of thousands of events, without an object for each.

/** So many rows a column begins with. */
export const ROWS_FIRST = 4096;

/** The same numbers with room for as many more. */
export function doubledNumbers(column: Float64Array) {
  const doubled = new Float64Array(2 * column.length);
  doubled.set(column);
  return doubled;
}

/** The same for whole numbers, below zero as well. */
export function doubledWhole(column: Int32Array) {
  const doubled = new Int32Array(2 * column.length);
  doubled.set(column);
  return doubled;
}

export function doubledBytes(column: Uint8Array) {
  const doubled = new Uint8Array(2 * column.length);
  doubled.set(column);
  return doubled;
}
