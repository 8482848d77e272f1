// What a program did to the files of a folder, noted in their order by a library that is loaded before its others.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export type FileAction =
  | { readonly kind: "create"; readonly path: string; readonly inode: number }
  | {
      readonly kind: "write";
      readonly inode: number;
      readonly at: number;
      readonly bytes: Uint8Array;
    }
  | { readonly kind: "truncate"; readonly inode: number; readonly length: number }
  | { readonly kind: "sync"; readonly inode: number }
  | { readonly kind: "sync folder"; readonly path: string }
  | { readonly kind: "unlink"; readonly path: string }
  | { readonly kind: "rename"; readonly path: string; readonly to: string }
  | { readonly kind: "make folder"; readonly path: string };

const SOURCE = fileURLToPath(new URL("../../../../storm/storage/writes.c", import.meta.url));
const COMPILERS = ["cc", "gcc", "g++"];

/** The library's path, or why there is none: it takes Linux and a C compiler. */
export function writeLogLibrary(): { path: string } | { lacks: string } {
  if (process.platform !== "linux") return { lacks: "it takes Linux" };
  const path = join(mkdtempSync(join(tmpdir(), "bobweight-writes-")), "writes.so");
  for (const compiler of COMPILERS) {
    try {
      const args = ["-shared", "-fPIC", "-O2", "-x", "c", "-o", path, SOURCE, "-ldl", "-lpthread"];
      execFileSync(compiler, args, { stdio: "ignore" });
      return { path };
    } catch {
      // The next one, then.
    }
  }
  return { lacks: "it takes a C compiler" };
}

/** Environment of a program whose doings below `folder` are to be noted in `log`. */
export function noted(library: string, folder: string, log: string): NodeJS.ProcessEnv {
  return { ...process.env, LD_PRELOAD: library, WRITES_FOLDER: folder, WRITES_LOG: log };
}

const HEAD_BYTES = 25;

/** Of the log's file. */
export function* actionsIn(log: string): Generator<FileAction> {
  const all = readFileSync(log);
  for (let at = 0; at + HEAD_BYTES <= all.length; ) {
    const kind = String.fromCharCode(all.readUInt8(at));
    const inode = Number(all.readBigUInt64LE(at + 1));
    const place = Number(all.readBigUInt64LE(at + 9));
    const middle = at + HEAD_BYTES + all.readUInt32LE(at + 17);
    const end = middle + all.readUInt32LE(at + 21);
    const path = all.toString("utf8", at + HEAD_BYTES, middle);
    const second = all.subarray(middle, end);
    yield actionOf(kind, inode, place, path, second);
    at = end;
  }
}

function actionOf(
  kind: string,
  inode: number,
  place: number,
  path: string,
  second: Buffer,
): FileAction {
  switch (kind) {
    case "c":
      return { kind: "create", path, inode };
    case "w":
      return { kind: "write", inode, at: place, bytes: second };
    case "t":
      return { kind: "truncate", inode, length: place };
    case "s":
      return { kind: "sync", inode };
    case "S":
      return { kind: "sync folder", path };
    case "u":
      return { kind: "unlink", path };
    case "r":
      return { kind: "rename", path, to: second.toString() };
    case "m":
      return { kind: "make folder", path };
    default:
      throw new Error(`the log of writes has a "${kind}"`);
  }
}
