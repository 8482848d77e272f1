/** The least of the values that so large a share of all do not exceed (nearest rank); NaN without any. */
export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.ceil(share * sorted.length) - 1] ?? Number.NaN;
}
