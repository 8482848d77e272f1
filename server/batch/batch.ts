// Carries out a batch: all cases checked, then measured, each result written in its turn. Never holds them.
import { statSync } from "node:fs";
import { BobweightError } from "../../core/errors.ts";
import { JUNIT_END, JUNIT_HEAD, suiteXml } from "../junit.ts";
import { OutputFile } from "../outputFile.ts";
import { type CaseText, FileTexts, inspectCase } from "./caseFile.ts";
import { caseTexts, isAmongCases } from "./caseSource.ts";
import { keptResults } from "./kept.ts";
import { Progress } from "./progress.ts";
import type { CaseResult } from "./result.ts";
import { Counter, type Tally } from "./tally.ts";

export interface BatchChoice {
  /** A file of cases or a folder of them. */
  readonly cases: string;
  /** Null: results go to `put`, and cannot be gone on with. */
  readonly out: string | null;
  readonly resume: boolean;
  readonly junit: string | null;
  readonly json: string | null;
}

export interface BatchSurroundings {
  /** One line for each case in their order, `onLine` hears of each as it comes. */
  readonly measured: (
    texts: AsyncIterable<CaseText>,
    onLine: (line: string) => void,
  ) => AsyncIterable<string>;
  /** Takes a result where there is no file for it. */
  readonly put: (line: string) => Promise<void>;
  readonly say: (text: string) => void;
  /** Once true, no further case begins and the check ends; those that have begun are finished. */
  readonly isStopped: () => boolean;
}

export interface BatchOutcome {
  readonly tally: Tally;
  /** Cases that there are, as far as they were looked at. */
  readonly total: number;
  /** False where it was stopped before all were measured. */
  readonly isWhole: boolean;
}

/** What is known before the first case is measured. */
interface Checked {
  readonly total: number;
  readonly keptCount: number;
  readonly keptBytes: number;
}

const COMPLAINTS_MAX = 20;

/**
 * JUnit and summary are of all cases, those of earlier parts too; where it was stopped there are none.
 * @throws USAGE, FILE_UNREADABLE, FILE_NOT_KEPT
 */
export async function carryOutBatch(
  choice: BatchChoice,
  around: BatchSurroundings,
): Promise<BatchOutcome> {
  checkOut(choice);
  const checked = await check(choice, around);
  if (around.isStopped()) {
    return { tally: new Counter().tally, total: checked.total, isWhole: false };
  }
  const junit = choice.junit === null ? null : new OutputFile(choice.junit);
  try {
    junit?.add(JUNIT_HEAD);
    const tally = await measure(choice, checked, around, (result) => junit?.add(suiteOf(result)));
    const outcome = { tally, total: checked.total, isWhole: tally.cases === checked.total };
    if (!outcome.isWhole) {
      junit?.discard();
      return outcome;
    }
    junit?.add(JUNIT_END);
    junit?.close();
    if (choice.json !== null) writeSummary(choice.json, tally);
    return outcome;
  } catch (error) {
    junit?.discard();
    throw error;
  }
}

function checkOut({ cases, out, resume }: BatchChoice): void {
  if (out === null) {
    if (!resume) return;
    throw new BobweightError("USAGE", "--resume needs --out: the file to go on with.");
  }
  if (isAmongCases(out, cases)) {
    throw new BobweightError(
      "USAGE",
      `${out} would be read as cases of ${cases}; write the results to another folder.`,
    );
  }
  const size = statSync(out, { throwIfNoEntry: false })?.size ?? 0;
  if (size > 0 && !resume) {
    throw new BobweightError(
      "USAGE",
      `${out} has results already: go on with it by --resume, or name another file.`,
    );
  }
}

async function check(
  { cases, out, resume }: BatchChoice,
  { say, isStopped }: Pick<BatchSurroundings, "say" | "isStopped">,
): Promise<Checked> {
  const files = new FileTexts();
  const kept = resume && out !== null ? keptResults(out) : null;
  let [total, keptCount, keptBytes, mistakes] = [0, 0, 0, 0];
  for await (const text of caseTexts(cases)) {
    if (isStopped()) return { total, keptCount, keptBytes };
    total++;
    const { digest, error } = inspectCase(text, files);
    const before = (await kept?.next())?.value;
    if (before !== undefined) {
      if (before.result.digest !== digest) throw changed(out, keptCount + 1, text.at);
      keptCount++;
      keptBytes = before.endByte;
    }
    if (error !== null && ++mistakes <= COMPLAINTS_MAX) say(`${text.at}: ${error.message}`);
  }
  if ((await kept?.next())?.value !== undefined) throw changed(out, keptCount + 1, null);
  if (total === 0) {
    throw new BobweightError(
      "USAGE",
      `${cases} has no cases: a .jsonl file has one a line, a folder has .jsonl and .case.json files.`,
    );
  }
  if (mistakes > COMPLAINTS_MAX) say(`… and ${mistakes - COMPLAINTS_MAX} more.`);
  if (mistakes > 0) say(`${mistakes} of ${total} cases cannot be measured; the others are.`);
  if (keptCount > 0) say(`${keptCount} of ${total} cases have their results already.`);
  return { total, keptCount, keptBytes };
}

function changed(out: string | null, line: number, at: string | null): BobweightError {
  const what =
    at === null ? "none of the cases" : `another case, or another version of it, than ${at}`;
  return new BobweightError(
    "USAGE",
    `${out}, line ${line} is the result of ${what}: what it comes from was changed since. Begin anew with another --out.`,
  );
}

/** All results pass through `onResult` in the order of the cases. */
async function measure(
  { cases, out }: BatchChoice,
  { total, keptCount, keptBytes }: Checked,
  { measured, put, say, isStopped }: BatchSurroundings,
  onResult: (result: CaseResult) => void,
): Promise<Tally> {
  const counter = new Counter();
  const take = (result: CaseResult) => {
    counter.add(result);
    onResult(result);
  };
  const results = out === null ? null : new OutputFile(out, keptBytes);
  try {
    if (out !== null) for await (const { result } of keptResults(out)) take(result);
    const progress = new Progress(total - keptCount, say);
    const texts = rest(cases, keptCount, isStopped);
    for await (const line of measured(texts, () => progress.step())) {
      if (results === null) await put(`${line}\n`);
      else results.add(`${line}\n`);
      take(JSON.parse(line));
    }
  } finally {
    results?.close();
  }
  return counter.tally;
}

/** The cases after the first `passed` ones, until it is stopped. */
async function* rest(
  cases: string,
  passed: number,
  isStopped: () => boolean,
): AsyncGenerator<CaseText, void, void> {
  let number = 0;
  for await (const text of caseTexts(cases)) {
    if (isStopped()) return;
    if (number++ >= passed) yield text;
  }
}

function suiteOf({ name, rows = [], rowsNotMeasured = 0, error, reason }: CaseResult): string {
  return suiteXml({ name, rows, rowsNotMeasured, trouble: error ?? reason ?? null });
}

/** @throws FILE_NOT_KEPT */
function writeSummary(path: string, tally: Tally): void {
  const file = new OutputFile(path);
  file.add(`${JSON.stringify(tally, null, 2)}\n`);
  file.close();
}
