// A worker thread's part: does one job after another as they are given.
import { parentPort } from "node:worker_threads";
import type { Bar } from "./bar.ts";
import { barNamed } from "./command.ts";
import type { Job, Outcome } from "./jobs.ts";

export function answerJobs(bars: readonly Bar<unknown>[]): void {
  parentPort?.on("message", async (job: Job) => {
    parentPort?.postMessage(await outcomeOf(bars, job));
  });
}

async function outcomeOf(bars: readonly Bar<unknown>[], job: Job): Promise<Outcome> {
  try {
    return { job, result: await barNamed(bars, job.bar).job(job.index) };
  } catch (error) {
    return { job, failure: error instanceof Error ? error.message : String(error) };
  }
}
