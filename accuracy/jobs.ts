// Jobs spread over the machine's cores; one job's failure is kept as its result.
import { availableParallelism } from "node:os";
import { answersInOrder } from "../server/threads.ts";

export interface Job {
  readonly bar: string;
  readonly index: number;
}

export type Outcome =
  | { readonly job: Job; readonly result: unknown }
  | { readonly job: Job; readonly failure: string };

/**
 * All jobs' outcomes in the order of the jobs. `worker` is the module that answers each job it is sent with
 * an outcome; `onOutcome` hears of each as it comes. `atOnce`: how many at most run side by side.
 */
export async function carryOut(
  jobs: readonly Job[],
  worker: URL,
  onOutcome: (outcome: Outcome) => void,
  atOnce = availableParallelism(),
): Promise<readonly Outcome[]> {
  const outcomes: Outcome[] = [];
  const threads = {
    worker,
    atOnce,
    ahead: Number.POSITIVE_INFINITY,
    died: (job: Job, failure: string): Outcome => ({ job, failure }),
    onAnswer: onOutcome,
  };
  for await (const outcome of answersInOrder(jobs, threads)) outcomes.push(outcome);
  return outcomes;
}
