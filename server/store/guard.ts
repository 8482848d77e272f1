// What goes wrong in the store comes out as one error that says what was to be done.
import type { Said } from "../../core/said.ts";
import { storeFailed } from "./database.ts";

/** @throws STORE_FAILED; errors of our own go through as they are */
export async function guard<T>(what: Said, action: () => T | Promise<T>): Promise<T> {
  try {
    return await action();
  } catch (cause) {
    throw storeFailed(what, cause);
  }
}
