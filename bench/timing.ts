// Processor time of one thing beside another, in turn, so that whatever else the machine does meets them alike.
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

/** The first rounds run code that is not compiled yet, and are not counted. */
const ROUNDS_BEFORE = 8;
const ROUNDS = 25;
/** So many times each is done in one timing, so that it clears away its own garbage within it. */
const PASSES = 8;

setFlagsFromString("--expose-gc");
const collectGarbage = runInNewContext("gc") as (options: { type: "minor" }) => void;

/** Middle processor seconds of one pass of each. */
export async function secondsOfEach<Name extends string>(
  passes: Readonly<Record<Name, () => unknown>>,
): Promise<Readonly<Record<Name, number>>> {
  const names = Object.keys(passes) as Name[];
  const times = new Map<Name, number[]>(names.map((name) => [name, []]));
  for (let round = 0; round < ROUNDS_BEFORE + ROUNDS; round++) {
    for (const name of names) {
      const seconds = await secondsOf(passes[name]);
      if (round >= ROUNDS_BEFORE) times.get(name)?.push(seconds);
    }
  }
  return Object.fromEntries(names.map((name) => [name, middle(times.get(name) ?? [])])) as Record<
    Name,
    number
  >;
}

/**
 * Processor time of the whole process, threads of the collector and the compiler included, since time by
 * the clock would grow with whatever else the machine does. What others left behind is collected before,
 * of the young generation only: a full collection between two passes, when nothing of a chain lives,
 * throws away the code compiled for it, as never happens while a run is measured.
 */
async function secondsOf(pass: () => unknown): Promise<number> {
  collectGarbage({ type: "minor" });
  const from = process.cpuUsage();
  for (let i = 0; i < PASSES; i++) await pass();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1e6 / PASSES;
}

export function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}
