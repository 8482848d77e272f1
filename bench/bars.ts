// Every bar. All are timed, so each runs alone.
import type { Bar } from "../accuracy/bar.ts";
import { batch } from "./bars/batch.ts";
import { chain } from "./bars/chain.ts";
import { handOver } from "./bars/handOver.ts";
import { history } from "./bars/history.ts";
import { latency } from "./bars/latency.ts";
import { memory } from "./bars/memory.ts";
import { plan } from "./bars/plan.ts";
import { python } from "./bars/python.ts";
import { startUp } from "./bars/startUp.ts";

export const BARS: readonly Bar<unknown>[] = [
  chain,
  python,
  plan,
  startUp,
  latency,
  history,
  handOver,
  batch,
  memory,
];
