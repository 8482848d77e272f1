// The built program in processes of its own, as a user starts it.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
export const PROGRAM = join(ROOT, "bin", "bobweight.js");

export const example = (name: string): string => join(ROOT, "examples", name);

export function freshFolder(): string {
  return mkdtempSync(join(tmpdir(), "bobweight-test-"));
}

export function start(args: readonly string[]): ChildProcess {
  return spawn(process.execPath, [PROGRAM, ...args], { stdio: ["ignore", "pipe", "pipe"] });
}

export interface Finished {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

export function finished(child: ChildProcess): Promise<Finished> {
  let out = "";
  let err = "";
  child.stdout?.on("data", (chunk) => {
    out += chunk;
  });
  child.stderr?.on("data", (chunk) => {
    err += chunk;
  });
  return new Promise((resolve) => {
    child.on("close", (status) => resolve({ status, out, err }));
  });
}

export function run(...args: string[]): Promise<Finished> {
  return finished(start(args));
}

/** The first line that a long-running command prints. */
export function firstLine(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let out = "";
    child.stdout?.on("data", (chunk) => {
      out += chunk;
      const end = out.indexOf("\n");
      if (end >= 0) resolve(out.slice(0, end));
    });
    child.on("close", (status) =>
      reject(new Error(`ended with ${status} before it said anything`)),
    );
  });
}
