// The results of many cases, measured by worker threads over all cores, in the order of the cases.
import { answersInOrder } from "../threads.ts";
import type { CaseText } from "./caseFile.ts";
import { diedOf } from "./result.ts";

/** So many cases a thread, so that a slow one does not keep the others waiting. */
const AHEAD = 32;
/** Beside this module, under the ending that this one has, too. */
const WORKER = new URL(
  import.meta.url.endsWith(".ts") ? "worker.ts" : "worker.js",
  import.meta.url,
);

/** A line of JSON for each case, without a line feed. */
export function measuredLines(
  texts: AsyncIterable<CaseText> | Iterable<CaseText>,
  workers: number,
  onLine: (line: string) => void = () => {},
): AsyncGenerator<string, void, void> {
  return answersInOrder(texts, {
    worker: WORKER,
    atOnce: workers,
    ahead: AHEAD * workers,
    died: (text: CaseText, why) => JSON.stringify(diedOf(text, why)),
    onAnswer: onLine,
  });
}
