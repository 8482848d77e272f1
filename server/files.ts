// Files that a user names: read, parsed as JSON, and complained of by name.

import {
  closeSync,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { BobweightError } from "../core/errors.ts";
import { said } from "../core/said.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";

/** A file's parsed content with the name to use in complaints. */
export interface NamedFile {
  readonly name: string;
  readonly content: unknown;
}

/** Far more than any unit, plan, rig or scenario file needs. */
const FILE_BYTES_MAX = 10_000_000;

/** @throws FILE_UNREADABLE, FILE_NOT_JSON */
export function readJsonFile(path: string): unknown {
  return parseJsonFile(readTextFile(path), path);
}

/** @throws FILE_UNREADABLE */
export function readBytes(path: string, bytesMax = FILE_BYTES_MAX): Uint8Array {
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("FILE_UNREADABLE", said("{} cannot be read ({}).", path, why), {
      cause,
    });
  }
  if (bytes.length > bytesMax) {
    throw new BobweightError(
      "FILE_UNREADABLE",
      said("{} is larger than {} bytes.", path, bytesMax),
    );
  }
  return bytes;
}

/** UTF-8. @throws FILE_UNREADABLE */
export function readTextFile(path: string, bytesMax = FILE_BYTES_MAX): string {
  return Buffer.from(readBytes(path, bytesMax)).toString("utf8");
}

/**
 * Puts a JSON file in the place of the one at `path` in one step, so that a power cut leaves the old
 * one or the new one. @throws FILE_NOT_KEPT
 */
export function replaceJsonFile(path: string, content: unknown): void {
  try {
    // What a link points to is replaced, not the link.
    const target = realpathSync(path);
    const beside = `${target}.new`;
    const file = openSync(beside, "w", statSync(target).mode);
    try {
      writeFileSync(file, `${JSON.stringify(content, null, 2)}\n`);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(beside, target);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("FILE_NOT_KEPT", said("{} cannot be written ({}).", path, why), {
      cause,
    });
  }
}
