// The data folder of the built program: killed in mid-run, not to be written, and asked for by two.
import { type SpawnOptions, spawn } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { LineCutter } from "../../core/codec/framing.ts";
import { parseRigLine } from "../../core/codec/rigLineReader.ts";
import type { StateLine } from "../../core/codec/rigLines.ts";
import { openStore } from "../../server/store/store.ts";
import { example, finished, firstLine, freshFolder, PROGRAM, run, start } from "./process.ts";

/** Rights do not bind the superuser, so that the program runs as somebody else then. */
const NOBODY = 65_534;
const AS_OTHERS: SpawnOptions = process.getuid?.() === 0 ? { uid: NOBODY, gid: NOBODY } : {};

/** Of the stand-in rig. */
const TICK_HZ = 1_000_000;

function statesIn(raw: Uint8Array): StateLine[] {
  const states: StateLine[] = [];
  const cutter = new LineCutter((bytes, from, to) => {
    const line = parseRigLine(bytes.subarray(from, to));
    if (line?.type === "state") states.push(line);
  });
  cutter.push(raw);
  return states;
}

it.skipIf(process.platform === "win32").each([
  ["file in it", 0o777],
  ["folder", 0o555],
])("refuses a %s that may only be read, before anything is asked of a rig", async (_, rights) => {
  const data = join(freshFolder(), "data");
  mkdirSync(data);
  expect((await run("sheet", "--list", "--data", data)).status).toBe(0);
  for (const name of readdirSync(data)) chmodSync(join(data, name), 0o444);
  chmodSync(data, rights);
  chmodSync(join(data, ".."), 0o755);
  const args = ["measure", "--rig", "stand-in", "--unit", example("everyday.unit.json"), "--fast"];
  const { status, err } = await finished(
    spawn(process.execPath, [PROGRAM, ...args, "--data", data], {
      ...AS_OTHERS,
      stdio: ["ignore", "pipe", "pipe"],
    }),
  );
  expect([status, err]).toEqual([
    74,
    expect.stringMatching(/^STORE_FAILED: the record store .* cannot be opened: .*rights/s),
  ]);
});

it("refuses a second server on one folder, and takes it when the first was killed", async () => {
  const data = freshFolder();
  const first = start(["serve", "--port", "0", "--data", data]);
  const gone = finished(first);
  await firstLine(first);
  const second = await run("serve", "--port", "0", "--data", data);
  expect([second.status, second.err]).toEqual([69, expect.stringContaining("FOLDER_SERVED")]);
  // A command beside it is no second server.
  expect((await run("sheet", "--list", "--data", data)).status).toBe(0);
  expect((await run("backup", join(freshFolder(), "b"), "--data", data)).status).toBe(0);
  first.kill("SIGKILL");
  await gone;
  const third = start(["serve", "--port", "0", "--data", data]);
  await firstLine(third);
  third.kill("SIGTERM");
});

it("keeps a run whose program was killed, marked, with all but the last second", async () => {
  const data = freshFolder();
  const child = start([
    ...["measure", "--rig", "stand-in", "--unit", example("everyday.unit.json"), "--data", data],
  ]);
  const gone = finished(child);
  const began = await new Promise<number>((resolve) => {
    child.stderr?.on("data", (chunk) => {
      if (String(chunk).includes("rpm")) resolve(performance.now());
    });
  });
  await new Promise((resolve) => setTimeout(resolve, 4000));
  child.kill("SIGKILL");
  const ranS = (performance.now() - began) / 1000;
  await gone;
  const listed = await run("sheet", "--list", "--data", data);
  expect(listed.out).toContain("\tnot ended\t");
  const store = await openStore(data);
  await store.checkWhole();
  const [head] = await store.heads({ limit: 2, before: null });
  expect(head).toMatchObject({ ending: null, verdict: null });
  const ticks = statesIn(await store.rawLines(head?.id ?? "")).map(({ tick }) => tick);
  await store.close();
  const keptS = ((ticks.at(-1) ?? 0) - (ticks[0] ?? 0)) / TICK_HZ;
  expect(keptS).toBeGreaterThan(ranS - 1);
});
