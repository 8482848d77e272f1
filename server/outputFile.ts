// Files that are written piece by piece.
import {
  closeSync,
  fdatasyncSync,
  fstatSync,
  ftruncateSync,
  openSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { BobweightError } from "../core/errors.ts";
import { said } from "../core/said.ts";

export class OutputFile {
  private readonly path: string;
  private readonly file: number;

  /** @param keptBytes what of the file's beginning stays. @throws FILE_NOT_KEPT */
  constructor(path: string, keptBytes = 0) {
    this.path = path;
    this.file = this.kept(() => {
      const file = openSync(path, "a");
      // What is no file of its own, such as a terminal, has nothing to cut off.
      if (fstatSync(file).size > keptBytes) ftruncateSync(file, keptBytes);
      return file;
    });
  }

  /** What was added stays also where this program is killed. @throws FILE_NOT_KEPT */
  add(text: string): void {
    this.kept(() => writeFileSync(this.file, text));
  }

  /** All is on disk when this returns. @throws FILE_NOT_KEPT */
  close(): void {
    this.kept(() => {
      if (fstatSync(this.file).isFile()) fdatasyncSync(this.file);
      closeSync(this.file);
    });
  }

  /** Takes the file away: what is in it is not whole. */
  discard(): void {
    closeSync(this.file);
    rmSync(this.path, { force: true });
  }

  private kept<T>(action: () => T): T {
    try {
      return action();
    } catch (cause) {
      const why = cause instanceof Error ? cause.message : String(cause);
      throw new BobweightError(
        "FILE_NOT_KEPT",
        said("{} cannot be written ({}).", this.path, why),
        {
          cause,
        },
      );
    }
  }
}
