// Where the cases of a batch come from: lines of a file, or files in a folder. Read as they are asked for.
import { createReadStream, readdirSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { CaseText } from "./caseFile.ts";

const LINES = ".jsonl";
const ONE = ".case.json";

/**
 * The cases of a `.jsonl` file, one a line that is not blank; or of all such files and of all
 * `.case.json` files in a folder, in the order of their names. @throws FILE_UNREADABLE
 */
export async function* caseTexts(path: string): AsyncGenerator<CaseText, void, void> {
  if (!isFolder(path)) {
    yield* linesOfCases(path);
    return;
  }
  for (const name of readdirSync(path).sort()) {
    const file = join(path, name);
    if (name.endsWith(LINES)) yield* linesOfCases(file);
    else if (name.endsWith(ONE)) yield { at: name, folder: path, text: null };
  }
}

/** True where results written to `file` would be read as cases of `path`. */
export function isAmongCases(file: string, path: string): boolean {
  const isCase = file.endsWith(LINES) || file.endsWith(ONE);
  return isCase && isFolder(path) && sameFolder(dirname(file), path);
}

function sameFolder(one: string, other: string): boolean {
  try {
    const [a, b] = [statSync(one), statSync(other)];
    return a.dev === b.dev && a.ino === b.ino;
  } catch {
    return false;
  }
}

async function* linesOfCases(file: string): AsyncGenerator<CaseText, void, void> {
  let number = 0;
  for await (const line of linesOf(file)) {
    number++;
    const text = line.trim();
    if (text === "") continue;
    yield { at: `${basename(file)}:${number}`, folder: dirname(file), text };
  }
}

/**
 * Lines with the line feed that ends each; the last one may lack it. Line feeds alone, since the text of a
 * JSON line may hold other ends of lines. @throws FILE_UNREADABLE
 */
export async function* linesOf(file: string): AsyncGenerator<string, void, void> {
  let rest = "";
  try {
    for await (const chunk of createReadStream(file, "utf8")) {
      const parts = (rest + chunk).split("\n");
      rest = parts.pop() as string;
      for (const part of parts) yield `${part}\n`;
    }
  } catch (cause) {
    throw unreadable(file, cause);
  }
  if (rest !== "") yield rest;
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch (cause) {
    throw unreadable(path, cause);
  }
}

function unreadable(path: string, cause: unknown): BobweightError {
  const why = cause instanceof Error ? cause.message : String(cause);
  return new BobweightError("FILE_UNREADABLE", said("{} cannot be read ({}).", path, why), {
    cause,
  });
}
