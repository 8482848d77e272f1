// The invented job for a first look: its card, and what is chosen on the stand-in rig for it. Pure.
import { EMPTY_CARD, type JobCard } from "../../core/jobs/card.ts";
import type { JobHead } from "../../core/jobs/job.ts";
import type { Choices } from "../../core/messages.ts";
import { firstChoices, type StartChoices } from "./startRequest.ts";

/** Examples of the program: an everyday unit into which somebody put too light a spring. */
const SCENARIO_ID = "light-spring";

/** What is chosen for it, or null where the program's examples are not on offer. */
export function inventedChoices(choices: Choices | null): StartChoices | null {
  const { rigId, unitId } = firstChoices;
  const offered =
    choices?.rigs.some(({ id, simulated }) => id === rigId && simulated) === true &&
    choices.units.some(({ id, invented }) => id === unitId && invented) &&
    choices.scenarios.some(({ id }) => id === SCENARIO_ID);
  return offered ? { ...firstChoices, scenarioId: SCENARIO_ID } : null;
}

export type InventedCard = Pick<JobCard, "number" | "owner" | "vehicle" | "unit" | "notes">;

/** Marked as invented in every line. A second one has a number of its own, as every job must. */
export function inventedCard(invented: InventedCard, jobs: readonly JobHead[]): JobCard {
  const taken = new Set(jobs.map(({ number }) => number));
  let count = 1;
  while (taken.has(numbered(invented.number, count))) count++;
  return { ...EMPTY_CARD, ...invented, number: numbered(invented.number, count) };
}

const numbered = (number: string, count: number): string =>
  count === 1 ? number : `${number} ${count}`;
