// Seeded draws. One base seed for all bars, written down here and never tried out.
import { Random } from "../sim/random.ts";

/** The day the bars were written down, as a number. */
const BASE_SEED = 20_261_125;
const TWO_32 = 2 ** 32;

export class Draw {
  private readonly random: Random;

  /** Draws of one job of one bar. */
  constructor(bar: string, index: number) {
    this.random = new Random(BASE_SEED * 100_000 + index, streamOf(bar));
  }

  /** A seed for a scenario. */
  seed(): number {
    return this.random.whole32();
  }

  /** `from` inclusive to `to` exclusive. */
  uniform(from: number, to: number): number {
    return from + (to - from) * (this.random.whole32() / TWO_32);
  }

  /** Evenly in the logarithm; both positive. */
  logUniform(from: number, to: number): number {
    return Math.exp(this.uniform(Math.log(from), Math.log(to)));
  }

  /** Whole number, both ends included. */
  whole(from: number, to: number): number {
    return Math.floor(this.uniform(from, to + 1));
  }

  normal(standardDeviation: number): number {
    return standardDeviation * this.random.normal();
  }

  chance(probability: number): boolean {
    return this.uniform(0, 1) < probability;
  }

  /** Repeat an entry to make it likelier. */
  oneOf<T>(choices: readonly T[]): T {
    return choices[this.whole(0, choices.length - 1)] as T;
  }

  /** That many different ones, in the order drawn. */
  some<T>(choices: readonly T[], count: number): T[] {
    const left = [...choices];
    return Array.from(
      { length: Math.min(count, left.length) },
      () => left.splice(this.whole(0, left.length - 1), 1)[0] as T,
    );
  }
}

/** FNV-1a of the name (public domain), so that bars draw independently of each other. */
function streamOf(name: string): number {
  let hash = 0x811c9dc5;
  for (const letter of name) hash = Math.imul(hash ^ (letter.codePointAt(0) as number), 0x01000193);
  return hash >>> 0;
}
