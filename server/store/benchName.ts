// By which a record knows its bench: an id that lasts as long as the data folder, and a name for people.

import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { z } from "zod";
import type { BenchName } from "../../core/documents.ts";
import { said } from "../../core/said.ts";
import { storeFailed, syncFile, syncFolder } from "./database.ts";
import { newKey } from "./keys.ts";

/** No JSON by its name, so that a backup leaves it out: what is restored beside a bench is not that bench. */
const BENCH_FILE = "bobweight.bench";

const benchFile: z.ZodType<BenchName> = z.object({
  id: z.uuid(),
  name: z.string().min(1).max(100),
});

/** Its file is made where there is none; the name in it may be edited. @throws STORE_FAILED */
export function benchNameIn(folder: string): BenchName {
  const path = join(folder, BENCH_FILE);
  try {
    if (existsSync(path)) return benchFile.parse(JSON.parse(readFileSync(path, "utf8")));
    const bench = { id: newKey(), name: hostname().slice(0, 100) || "bench" };
    mkdirSync(folder, { recursive: true });
    const unfinished = `${path}.unfinished-${process.pid}`;
    writeFileSync(unfinished, `${JSON.stringify(bench, null, 2)}\n`);
    syncFile(unfinished);
    renameSync(unfinished, path);
    syncFolder(folder);
    return bench;
  } catch (cause) {
    throw storeFailed(said("the bench's name in {} cannot be read", path), cause);
  }
}
