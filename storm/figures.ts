// Figures of what must never be.
import type { Figure } from "../accuracy/bar.ts";

/** None of the results may have any of what `found` finds; the first is told with its number. */
export function none<T>(
  what: string,
  results: readonly T[],
  found: (result: T) => readonly string[],
  count = results.length,
): Figure {
  const places = results.flatMap((result, i) => found(result).map((text) => `${i}: ${text}`));
  const first = places[0] === undefined ? "" : ` (first ${places[0]})`;
  return {
    what,
    measured: `${places.length}${first}`,
    limit: "0",
    count,
    met: count > 0 && places.length === 0,
  };
}
