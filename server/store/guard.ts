// What goes wrong in the store comes out as one error that says what was to be done.
import type { Said } from "../../core/said.ts";
import { storeFailed } from "./database.ts";

/** @throws STORE_FAILED; errors of our own go through as they are */
export function guard<T>(what: Said, action: () => T): T {
  try {
    return action();
  } catch (cause) {
    throw storeFailed(what, cause);
  }
}
