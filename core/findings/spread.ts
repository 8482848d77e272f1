// Places spread evenly by the normal distribution in many dimensions; always the same ones.
import { normalQuantile } from "../uncertainty/coverage.ts";

/** One for each dimension, so that no two of them go in step. */
const BASES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29] as const;
/** The first places of large bases lie in line. */
const LEFT_OUT = 20;

const known = new Map<string, readonly (readonly number[])[]>();

/** Halton's sequence (Halton 1960, from memory), each number turned into a standard normal one. */
export function spreadPlaces(count: number, dimensions: number): readonly (readonly number[])[] {
  if (dimensions > BASES.length) throw new RangeError(`no places in ${dimensions} dimensions`);
  const key = `${count} in ${dimensions}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const places = Array.from({ length: count }, (_, i) =>
    BASES.slice(0, dimensions).map((base) => normalQuantile(mirrored(i + LEFT_OUT, base))),
  );
  known.set(key, places);
  return places;
}

/** Digits of a whole number in this base, mirrored at the point. */
function mirrored(whole: number, base: number): number {
  let [left, share, sum] = [whole, 1, 0];
  while (left > 0) {
    share /= base;
    sum += share * (left % base);
    left = Math.floor(left / base);
  }
  return sum;
}
