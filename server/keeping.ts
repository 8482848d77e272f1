// Backups from the page: made and brought back by the same program in a process of its own, so that
// this one has time for whatever else it does. The folder in use is never touched.

import { spawn } from "node:child_process";
import { createWriteStream, mkdirSync, readdirSync, rmSync, statSync } from "node:fs";
import { setPriority } from "node:os";
import { basename, dirname, join, resolve } from "node:path";
import type { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import {
  BACKUP_BYTES_MAX,
  type BackupContents,
  type MadeBackup,
  type Restored,
} from "../core/backup.ts";
import { BobweightError, CATALOGUE, type ErrorCode, type Told } from "../core/errors.ts";
import { said } from "../core/said.ts";
import { ERRORS_AS } from "./commands/exit.ts";
import { newKey } from "./store/keys.ts";

export interface Finished {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the program with these arguments. */
export type RunProgram = (args: readonly string[]) => Promise<Finished>;

/** Names that `make` gives; no other leads to a file. */
const MADE = /^bobweight-[0-9-]{10,40}\.backup$/;
const LOW_PRIORITY = 10;

export class Keeping {
  private readonly dataFolder: string;
  private readonly folder: string;
  private readonly run: RunProgram;
  private isBusy = false;

  constructor(dataFolder: string, run: RunProgram) {
    this.dataFolder = resolve(dataFolder);
    this.folder = join(this.dataFolder, "backups");
    this.run = run;
  }

  /** The one that was made before goes: whoever wants to keep it has carried it off. @throws STORE_FAILED, BACKUP_BUSY */
  make(): Promise<MadeBackup> {
    return this.alone(async () => {
      mkdirSync(this.folder, { recursive: true });
      for (const old of readdirSync(this.folder).filter((one) => MADE.test(one))) {
        rmSync(join(this.folder, old));
      }
      const name = `bobweight-${stamp()}.backup`;
      const path = join(this.folder, name);
      const contents = await this.told(["backup", path, "--data", this.dataFolder, "--json"]);
      return { name, bytes: statSync(path).size, contents };
    });
  }

  /** Where a backup that was made lies; null: there is none of this name. */
  pathOf(name: string): string | null {
    if (!MADE.test(name)) return null;
    const path = join(this.folder, name);
    return statSync(path, { throwIfNoEntry: false })?.isFile() ? path : null;
  }

  /** Into a new folder beside the one in use. @throws BACKUP_BROKEN, STORE_FAILED, BACKUP_BUSY */
  restore(upload: Readable): Promise<Restored> {
    return this.alone(async () => {
      mkdirSync(this.folder, { recursive: true });
      const incoming = join(this.folder, `incoming-${newKey()}`);
      const folder = join(
        dirname(this.dataFolder),
        `${basename(this.dataFolder)}-restored-${stamp()}`,
      );
      try {
        await pipeline(upload, limited, createWriteStream(incoming, { flags: "wx" }));
        const contents = await this.told(["restore", incoming, "--data", folder, "--json"]);
        return { folder, command: `npx bobweight serve --data "${folder}"`, contents };
      } finally {
        rmSync(incoming, { force: true });
      }
    });
  }

  private async alone<T>(action: () => Promise<T>): Promise<T> {
    if (this.isBusy) {
      throw new BobweightError("BACKUP_BUSY", said("A backup is being made or brought back."));
    }
    this.isBusy = true;
    try {
      return await action();
    } finally {
      this.isBusy = false;
    }
  }

  private async told(args: readonly string[]): Promise<BackupContents> {
    const { status, out, err } = await this.run(args);
    if (status === 0) return JSON.parse(out);
    throw (
      errorIn(err) ??
      new BobweightError(
        "STORE_FAILED",
        said("The program ended with {}: {}.", String(status), err.trim()),
      )
    );
  }
}

/** What the program told where it ended with an error; null: it ended some other way. */
function errorIn(err: string): BobweightError | null {
  try {
    const told: Told = JSON.parse(err.split("\n").find((line) => line.startsWith("{")) ?? "");
    if (!Object.hasOwn(CATALOGUE, told.code)) return null;
    const code = told.code as ErrorCode;
    const what = told.text.replace(CATALOGUE[code].remedy, "").trim();
    return new BobweightError(code, told.said ?? what);
  } catch {
    return null;
  }
}

async function* limited(source: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
  let bytes = 0;
  for await (const chunk of source) {
    bytes += chunk.length;
    if (bytes > BACKUP_BYTES_MAX) {
      throw new BobweightError(
        "BACKUP_BROKEN",
        said(
          "The file is larger than {} bytes. Bring it back by `bobweight restore` instead.",
          BACKUP_BYTES_MAX,
        ),
      );
    }
    yield chunk;
  }
}

/** To the second, as part of a name. */
function stamp(): string {
  return new Date().toISOString().slice(0, 19).replace(/[T:]/g, "-");
}

/** The program at `path` as it is run here, behind everything else on this computer. */
export function programAt(path: string): RunProgram {
  return (args) =>
    new Promise((resolve, reject) => {
      const child = spawn(process.execPath, [path, ...args], {
        stdio: ["ignore", "pipe", "pipe"],
        env: { ...process.env, [ERRORS_AS]: "json" },
      });
      let out = "";
      let err = "";
      child.on("spawn", () => {
        if (child.pid !== undefined) setPriority(child.pid, LOW_PRIORITY);
      });
      child.stdout.on("data", (part) => {
        out += part;
      });
      child.stderr.on("data", (part) => {
        err += part;
      });
      child.on("error", reject);
      child.on("close", (status) => resolve({ status, out, err }));
    });
}
