// Which error came of it, by its code.
import { BobweightError } from "../../core/errors.ts";

const NONE = "nothing thrown";

export function codeOf(action: () => unknown): string {
  try {
    action();
  } catch (error) {
    return codeFrom(error);
  }
  return NONE;
}

export function codeOfPromise(action: Promise<unknown>): Promise<string> {
  return action.then(() => NONE, codeFrom);
}

/** Errors that are none of ours go on. */
function codeFrom(error: unknown): string {
  if (error instanceof BobweightError) return error.code;
  throw error;
}
