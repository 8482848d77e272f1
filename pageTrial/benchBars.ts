// The bars of the page that need a machine with nothing else to do.
import type { Bar } from "../accuracy/bar.ts";
import { frames } from "./bars/frames.ts";

export const BENCH_BARS: readonly Bar<unknown>[] = [frames];
