// Jobs spread over the machine's cores, each in a worker thread; one job's failure is kept as its result.
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";

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
  let next = 0;
  const work = (thread: Worker) =>
    new Promise<void>((resolve, reject) => {
      let at = -1;
      const give = () => {
        at = next++;
        const job = jobs[at];
        if (job === undefined) resolve();
        else thread.postMessage(job);
      };
      thread.on("message", (outcome: Outcome) => {
        outcomes[at] = outcome;
        onOutcome(outcome);
        give();
      });
      thread.on("error", reject);
      give();
    });
  const threads = Array.from({ length: Math.min(atOnce, jobs.length) }, () => new Worker(worker));
  try {
    await Promise.all(threads.map(work));
  } finally {
    await Promise.all(threads.map((thread) => thread.terminate()));
  }
  return outcomes;
}
