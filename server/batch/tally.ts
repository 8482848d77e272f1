// What a batch comes to: how many of each verdict, and the exit status that they make.
import { engineVersion } from "../measurement.ts";
import type { CaseResult } from "./result.ts";

export interface Tally {
  readonly engineVersion: string;
  /** All results are of the stand-in rig. */
  readonly simulated: true;
  readonly cases: number;
  readonly within: number;
  readonly outside: number;
  readonly unproven: number;
  /** Measured to the end, without a specification to judge by. */
  readonly notJudged: number;
  /** Runs that a fault of the rig or a lost link ended. */
  readonly notCompleted: number;
  /** Cases with a mistake in them, and those that our own mistakes ended. */
  readonly notMeasured: number;
  /** Of these, our own mistakes. */
  readonly bugs: number;
}

type Count = Exclude<keyof Tally, "engineVersion" | "simulated" | "cases">;

/** Counts results as they come. */
export class Counter {
  private readonly counts: Record<Count | "cases", number> = {
    cases: 0,
    within: 0,
    outside: 0,
    unproven: 0,
    notJudged: 0,
    notCompleted: 0,
    notMeasured: 0,
    bugs: 0,
  };

  add(result: CaseResult): void {
    this.counts.cases++;
    this.counts[kindOf(result)]++;
    if (result.error?.code === "BUG" || result.reason?.code === "BUG") this.counts.bugs++;
  }

  get tally(): Tally {
    return { engineVersion: engineVersion(), simulated: true, ...this.counts };
  }
}

function kindOf({ error, ending, verdict }: CaseResult): Exclude<Count, "bugs"> {
  if (error !== undefined) return "notMeasured";
  if (ending !== "completed") return "notCompleted";
  return verdict ?? "notJudged";
}

const WORDS: readonly (readonly [Count, string])[] = [
  ["within", "within"],
  ["outside", "outside"],
  ["unproven", "unproven"],
  ["notJudged", "not judged"],
  ["notCompleted", "ended early"],
  ["notMeasured", "not measured"],
];

export function tallyText(tally: Tally): string {
  const parts = WORDS.filter(([count]) => tally[count] > 0).map(
    ([count, words]) => `${tally[count]} ${words}`,
  );
  return parts.join(", ");
}
