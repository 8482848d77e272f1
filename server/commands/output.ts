// Where what a command writes goes: standard output, or a file that the user names.
import { writeFileSync } from "node:fs";
import { BobweightError } from "../../core/errors.ts";

export const OUT_OPTION = ["--out <file>", "write there instead of standard output"] as const;

/** @throws STORE_FAILED where the file cannot be written */
export function put(content: string | Uint8Array, out: string | undefined): void {
  if (out === undefined) {
    process.stdout.write(content);
    return;
  }
  try {
    writeFileSync(out, content);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("STORE_FAILED", `${out} cannot be written (${why}).`, { cause });
  }
}
