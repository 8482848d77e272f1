// A worker thread: does one job after another as they are given.
import { parentPort } from "node:worker_threads";
import { barNamed } from "./bars.ts";
import type { Job, Outcome } from "./jobs.ts";

parentPort?.on("message", async (job: Job) => {
  parentPort?.postMessage(await outcomeOf(job));
});

async function outcomeOf(job: Job): Promise<Outcome> {
  try {
    return { job, result: await barNamed(job.bar).job(job.index) };
  } catch (error) {
    return { job, failure: error instanceof Error ? error.message : String(error) };
  }
}
