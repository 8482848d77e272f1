// A whole record as JSON, for other programs. Pure.
import type { RunDocument } from "../documents.ts";

/** Grows when a reader would have to change. */
const RECORD_FORMAT = 1;

export function recordJson(documents: readonly RunDocument[]): string {
  return `${JSON.stringify({ bobweightRecord: RECORD_FORMAT, documents }, null, 1)}\n`;
}
