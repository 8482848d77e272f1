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

/** All jobs' outcomes in the order of the jobs. `onOutcome` hears of each as it comes. */
export async function carryOut(
  jobs: readonly Job[],
  onOutcome: (outcome: Outcome) => void,
): Promise<readonly Outcome[]> {
  const outcomes: Outcome[] = [];
  let next = 0;
  const work = (worker: Worker) =>
    new Promise<void>((resolve, reject) => {
      let at = -1;
      const give = () => {
        at = next++;
        const job = jobs[at];
        if (job === undefined) resolve();
        else worker.postMessage(job);
      };
      worker.on("message", (outcome: Outcome) => {
        outcomes[at] = outcome;
        onOutcome(outcome);
        give();
      });
      worker.on("error", reject);
      give();
    });
  const workers = Array.from(
    { length: Math.min(availableParallelism(), jobs.length) },
    () => new Worker(new URL("worker.js", import.meta.url)),
  );
  try {
    await Promise.all(workers.map(work));
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
  return outcomes;
}
