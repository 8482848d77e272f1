// The unit files that lie in a folder. One that cannot be read stands in nobody's way, and says why.
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { BobweightError } from "../core/errors.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { type NamedFile, readTextFile } from "./files.ts";

const SUFFIX = ".unit.json";

/** Names as they are in the folder, in their order. */
export function unitFilesIn(folder: string): {
  readonly files: readonly NamedFile[];
  readonly passedOver: readonly string[];
} {
  const names = existsSync(folder)
    ? readdirSync(folder).filter((name) => name.endsWith(SUFFIX))
    : [];
  const files: NamedFile[] = [];
  const passedOver: string[] = [];
  for (const name of names.sort()) {
    try {
      const content = parseJsonFile(readTextFile(join(folder, name)), name);
      unitFromFile(content, name);
      files.push({ name, content });
    } catch (error) {
      if (!(error instanceof BobweightError)) throw error;
      passedOver.push(error.what);
    }
  }
  return { files, passedOver };
}
