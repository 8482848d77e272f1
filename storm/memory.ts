// What this process holds: memory after everything that can be freed was, and open files.
import { readdirSync } from "node:fs";
import v8 from "node:v8";
import { runInNewContext } from "node:vm";

export interface Held {
  readonly heapMb: number;
  readonly rssMb: number;
  /** Null where the system does not tell. */
  readonly handles: number | null;
}

const MB = 2 ** 20;

let collect: (() => void) | null = null;

export function held(): Held {
  if (collect === null) {
    v8.setFlagsFromString("--expose-gc");
    collect = runInNewContext("gc") as () => void;
  }
  collect();
  const { heapUsed, rss } = process.memoryUsage();
  return { heapMb: heapUsed / MB, rssMb: rss / MB, handles: openFiles() };
}

function openFiles(): number | null {
  try {
    return readdirSync("/proc/self/fd").length;
  } catch {
    return null;
  }
}

/** By how much the later half of the samples holds more than the earlier one, by their means; the first is left out. */
export function growth(samples: readonly Held[], of: (held: Held) => number): number {
  const values = samples.slice(1).map(of);
  const half = Math.floor(values.length / 2);
  const mean = (part: readonly number[]) => part.reduce((sum, x) => sum + x, 0) / part.length;
  return mean(values.slice(-half)) - mean(values.slice(0, half));
}
