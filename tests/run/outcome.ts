import type { BobweightError } from "../../core/errors.ts";

/** What becomes of a promise, without waiting for it. */
export function outcome(promise: Promise<unknown>): { is: string } {
  const seen = { is: "open" };
  promise.then(
    (value) => {
      seen.is = `done ${value}`;
    },
    (error: BobweightError) => {
      seen.is = `${error.code} ${error.what}`;
    },
  );
  return seen;
}
