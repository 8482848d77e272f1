// Results of a batch that was interrupted, read back line by line.
import { statSync } from "node:fs";
import { BobweightError } from "../../core/errors.ts";
import { linesOf } from "./caseSource.ts";
import type { CaseResult } from "./result.ts";

export interface KeptResult {
  readonly line: string;
  readonly result: CaseResult;
  /** Bytes of the file up to the end of this line. */
  readonly endByte: number;
}

/**
 * The whole results of a file, none where there is no file. A last line that is torn is left out.
 * @throws FILE_INVALID where another line is no result, FILE_UNREADABLE
 */
export async function* keptResults(file: string): AsyncGenerator<KeptResult, void, void> {
  if (statSync(file, { throwIfNoEntry: false }) === undefined) return;
  let endByte = 0;
  let number = 0;
  let torn: number | null = null;
  for await (const line of linesOf(file)) {
    if (torn !== null) {
      throw new BobweightError("USAGE", `${file}, line ${torn}: this is no result of a batch.`);
    }
    number++;
    const result = resultIn(line);
    if (result === null) {
      torn = number;
      continue;
    }
    endByte += Buffer.byteLength(line);
    yield { line: line.slice(0, -1), result, endByte };
  }
}

/** Null where the line does not hold a whole one. */
function resultIn(line: string): CaseResult | null {
  if (!line.endsWith("\n")) return null;
  try {
    const value: unknown = JSON.parse(line);
    const isOne = typeof value === "object" && value !== null && "digest" in value;
    return isOne ? (value as CaseResult) : null;
  } catch {
    return null;
  }
}
