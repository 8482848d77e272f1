// A bar: a promise on accuracy, how it is measured in independent jobs, and what its figures must meet.

/** One line of the table. */
export interface Figure {
  /** What was measured. */
  readonly what: string;
  readonly measured: string;
  readonly limit: string;
  /** Readings, units or runs that the figure rests on. */
  readonly count: number;
  /** Null for a figure that is told beside the bar and not judged. */
  readonly met: boolean | null;
}

/**
 * `Result` goes from a worker to the main thread, so it is plain data. `figures` is pure: that it can
 * miss is tested with made-up results.
 */
export interface Bar<Result> {
  readonly name: string;
  /** Of jobs. Fixed: no count is chosen by what comes out. */
  readonly counts: { readonly short: number; readonly long: number };
  /** Bars whose results count for this one too, ahead of its own. */
  readonly also?: readonly Bar<Result>[];
  /** Played in real time: its jobs run after all others, one at a time, with nothing beside them. */
  readonly alone?: true;
  /** The job's number is its seed, together with the base seed and the bar's name. */
  job(index: number): Promise<Result>;
  figures(results: readonly Result[]): readonly Figure[];
}

/** A figure that must not exceed its limit. Missing figures miss. */
export function atMost(
  what: string,
  measured: number,
  limit: number,
  count: number,
  unit: string,
  digits = 4,
): Figure {
  return {
    what,
    measured: `${measured.toFixed(digits)}${unit}`,
    limit: `≤ ${limit}${unit}`,
    count,
    met: count > 0 && measured <= limit,
  };
}

/** A figure told for comparison. */
export function beside(what: string, measured: string, count: number): Figure {
  return { what, measured, limit: "", count, met: null };
}
