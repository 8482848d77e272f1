// Mutants that change nothing which a test could notice, each with its reason. They count as survivors all the same.

interface Equivalent {
  readonly file: string;
  /** The line it begins in, without the white space around it. */
  readonly line: string;
  readonly becomes: string;
  readonly reason: string;
}

export const EQUIVALENT: readonly Equivalent[] = [];
