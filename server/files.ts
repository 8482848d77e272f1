// Files that a user names: read, parsed as JSON, and complained of by name.
import { readFileSync } from "node:fs";
import { BobweightError } from "../core/errors.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";

/** Far more than any unit, plan, rig or scenario file needs. */
const FILE_BYTES_MAX = 10_000_000;

/** @throws FILE_UNREADABLE, FILE_NOT_JSON */
export function readJsonFile(path: string): unknown {
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("FILE_UNREADABLE", `${path} cannot be read (${why}).`, { cause });
  }
  if (bytes.length > FILE_BYTES_MAX) {
    throw new BobweightError("FILE_UNREADABLE", `${path} is larger than ${FILE_BYTES_MAX} bytes.`);
  }
  return parseJsonFile(bytes.toString("utf8"), path);
}
