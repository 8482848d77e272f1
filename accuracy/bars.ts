// Every bar, the longest first so that no core waits at the end.
import type { Bar } from "./bar.ts";
import { choose } from "./bars/choose.ts";
import { coverage } from "./bars/coverage.ts";
import { delay } from "./bars/delay.ts";
import { edges } from "./bars/edges.ts";
import { events } from "./bars/events.ts";
import { lobes } from "./bars/lobes.ts";
import { quantisation } from "./bars/quantisation.ts";
import { ramp } from "./bars/ramp.ts";
import { reclamp } from "./bars/reclamp.ts";
import { steady } from "./bars/steady.ts";

export const BARS: readonly Bar<unknown>[] = [
  coverage,
  choose,
  reclamp,
  events,
  delay,
  edges,
  lobes,
  steady,
  ramp,
  quantisation,
];
