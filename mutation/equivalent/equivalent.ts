/** A mutant that changes nothing which a test could notice. It counts as a survivor all the same. */
export interface Equivalent {
  readonly file: string;
  /** The line it begins in, without the white space around it. */
  readonly line: string;
  readonly becomes: string;
  readonly reason: string;
}
