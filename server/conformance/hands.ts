// Asking a person at the rig for something, and seeing by the rig's lines that it was done.
import type { StateLine } from "../../core/codec/rigLines.ts";
import { CheckEnded, HOST_MARGIN_MS, type TestBench } from "./bench.ts";
import type { HandTask, Person } from "./person.ts";
import type { LineOf } from "./wire.ts";

/** A person has this long to do what was asked. */
export const HAND_S = 60;
/** "At once", with what the host may add. */
export const AT_ONCE_MS = 30 + HOST_MARGIN_MS;

export interface Handful {
  readonly task: HandTask;
  /** What puts it right again where the rig did not notice; null where nothing has to be. */
  readonly undo: HandTask | null;
  /** What the rig says once it has noticed, and the clause that wants it to. */
  readonly clause: string;
  readonly wants: (line: StateLine) => boolean;
  readonly wanted: string;
}

export const NOBODY_THERE =
  "it takes a person at the rig, and this test was told that nobody is there";

/** @throws CheckEnded where nobody is there */
export function personOf({ settings }: TestBench): Person {
  if (settings.person !== null) return settings.person;
  throw new CheckEnded(NOBODY_THERE);
}

/** The state line that tells it. Where none comes, the rig is stopped and the person asked. @throws CheckEnded */
export async function byHand(bench: TestBench, handful: Handful): Promise<LineOf<"state">> {
  const { task, undo, clause, wants, wanted } = handful;
  const person = personOf(bench);
  person.please(task, HAND_S);
  const state = await bench.wire.state(wants, HAND_S * 1000);
  if (state !== null) return state;
  await bench.rest();
  if (!(await person.did(task))) throw new CheckEnded(`nobody did what was asked: ${task}`);
  const last = bench.wire.all("state").at(-1);
  bench.ledger.broken(clause, `the rig notices: ${task}`, `"${last?.text}"`, wanted);
  if (undo !== null) {
    person.please(undo, HAND_S);
    await person.did(undo);
  }
  throw new CheckEnded(`the rig did not notice: ${task}`);
}

export async function judgeFault(bench: TestBench, wanted: string, what: string): Promise<void> {
  await bench.wire.sleep(AT_ONCE_MS);
  const { line, text } = await bench.stateAfter(null);
  bench.ledger.judge("6.2", what, line.fault === wanted, `"${text}"`, `FAULT ${wanted}`);
}
