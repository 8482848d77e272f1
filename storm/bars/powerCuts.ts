// Bar: whenever the power goes, what had been acknowledged is there when it comes back.
//
// All writes of a session are noted, and played on a disk that loses its power after each of them: once with
// only what was synced, and once with sectors and names besides that had not been, drawn by lot.
import { execFile } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import { Draw } from "../../accuracy/draw.ts";
import { openStore } from "../../server/store/store.ts";
import { type Acknowledged, missingOf } from "../storage/acknowledged.ts";
import { Disk, type Fate, NOTHING_MORE } from "../storage/disk.ts";
import { type Beginning, beginningOf, DATA_FOLDER, SAID_FILE } from "../storage/places.ts";
import { actionsIn, noted, writeLogLibrary } from "../storage/writeLog.ts";

/** In memory where that can be had: a thousand stores are opened, and a disk's own syncs prove nothing here. */
const PLACE = existsSync("/dev/shm") ? "/dev/shm" : tmpdir();
const SESSION = fileURLToPath(new URL("../storage/session.js", import.meta.url));

export interface CutsResult {
  /** Why nothing was measured; null: it was. */
  readonly lacks: string | null;
  readonly cuts: number;
  readonly lost: readonly string[];
  /** What came of openings that failed, and of files that were not whole. */
  readonly damaged: readonly string[];
}

async function job(index: number): Promise<CutsResult> {
  const library = writeLogLibrary();
  if ("lacks" in library) return { lacks: library.lacks, cuts: 0, lost: [], damaged: [] };
  const place = mkdtempSync(join(PLACE, "bobweight-cuts-"));
  try {
    const folder = join(place, "was");
    mkdirSync(folder);
    const log = join(place, "log");
    const env = noted(library.path, folder, log);
    await promisify(execFile)(process.execPath, [SESSION, folder, String(index)], { env });
    const draw = new Draw("power cuts", index);
    return await cutEverywhere({ log, folder, place, draw, begins: beginningOf(index) });
  } finally {
    rmSync(place, { recursive: true });
  }
}

interface Session {
  readonly log: string;
  /** That the session wrote into, now with nothing behind its names but the log. */
  readonly folder: string;
  readonly place: string;
  readonly draw: Draw;
  readonly begins: Beginning;
}

async function cutEverywhere({ log, folder, place, draw, begins }: Session): Promise<CutsResult> {
  const disk = new Disk();
  const said: Acknowledged[] = [];
  const lost: string[] = [];
  const damaged: string[] = [];
  let cuts = 0;
  let point = 0;
  const saidPath = join(folder, SAID_FILE);
  let saidInode = -1;
  const cut = async (fate: Fate) => {
    cuts++;
    const back = join(place, "back");
    mkdirSync(back);
    disk.putDown(folder, back, fate);
    try {
      const found = await lookedInto(join(back, DATA_FOLDER), said);
      lost.push(...found.lost.map((one) => `at write ${point}: ${one}`));
      if (found.damage !== null) damaged.push(`at write ${point}: ${found.damage}`);
    } catch (error) {
      damaged.push(`at write ${point}: ${error instanceof Error ? error.message : String(error)}`);
    }
    rmSync(back, { recursive: true });
  };
  for (const action of actionsIn(log)) {
    if (action.kind === "create" && action.path === saidPath) saidInode = action.inode;
    if ("inode" in action && action.inode === saidInode) {
      if (action.kind === "write") said.push(JSON.parse(Buffer.from(action.bytes).toString()));
      continue;
    }
    if ("path" in action && basename(action.path).endsWith("-shm")) continue;
    disk.take(action);
    point++;
    // An older version's own first open is not on trial.
    if (begins === "older" && said.length === 0) continue;
    // What is on disk for certain changes with a sync alone.
    if (action.kind.startsWith("sync")) await cut(NOTHING_MORE);
    const share = draw.uniform(0, 1);
    await cut({
      keepsSector: () => draw.chance(share),
      namesKept: (waiting) => draw.whole(0, waiting),
    });
  }
  return { lacks: null, cuts, lost, damaged };
}

async function lookedInto(data: string, said: readonly Acknowledged[]) {
  const store = await openStore(data);
  try {
    // Raw lines are looked for where a second had passed: a session has none so old but with its end.
    return { lost: await missingOf(store, said, 0), damage: await store.damage() };
  } finally {
    await store.close();
  }
}

function figures(results: readonly CutsResult[]): readonly Figure[] {
  const lacks = results.find((result) => result.lacks !== null)?.lacks;
  if (lacks !== undefined) return [beside("power cuts", `not measured: ${lacks}`, 0)];
  const cuts = results.reduce((sum, result) => sum + result.cuts, 0);
  const figure = (what: string, all: readonly string[]): Figure => ({
    what,
    measured: String(all.length),
    limit: "0",
    count: cuts,
    met: cuts > 0 && all.length === 0,
  });
  const lost = results.flatMap((result) => result.lost);
  const damaged = results.flatMap((result) => result.damaged);
  const example = lost[0] ?? damaged[0] ?? null;
  return [
    figure("acknowledged writes lost, power cut at every write", lost),
    figure("databases damaged, power cut at every write", damaged),
    ...(example === null ? [] : [beside("for example", example, 1)]),
  ];
}

export const powerCuts: Bar<CutsResult> = {
  name: "powerCuts",
  counts: { short: 4, long: 20 },
  job,
  figures,
};
