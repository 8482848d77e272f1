// What a session whose writes are noted, and whoever plays them, agree on.

/** Of a session whose writes are noted: the data folder in its own. */
export const DATA_FOLDER = "data";
/** Not of the store: what the session says stands among the noted writes where it was said. */
export const SAID_FILE = "said";

/** What a session finds in its folder: nothing, or the tables of an older version. */
export type Beginning = "new" | "older";

export function beginningOf(job: number): Beginning {
  return job % 2 === 0 ? "new" : "older";
}
