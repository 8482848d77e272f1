// `bobweight by-hand`: a record from typed readings, listed, printed and taken to the engine.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { openStore } from "../../server/store/store.ts";
import { example, freshFolder, run } from "./process.ts";

const UNIT = ["--unit", example("everyday.unit.json")];
const NOTES = example("invented-timing-light.by-hand.txt");

it("keeps a record marked as made by hand, from which sheet and marks are written", async () => {
  const data = ["--data", freshFolder()];
  const made = await run("by-hand", NOTES, ...UNIT, "--json", ...data);
  // No dwell, no falling vacuum readings: never within.
  expect(made.status).toBe(2);
  const report = JSON.parse(made.out);
  expect(report).toMatchObject({
    verdict: "unproven",
    simulated: false,
    byHand: { means: "timing light", readingLimitDeg: 0.5 },
    hold: { reached: true, seconds: 30 },
  });
  expect(report.speed.rising).toHaveLength(6);
  const list = await run("sheet", "--list", ...data);
  expect(list.out).toMatch(/\tunproven\tBy hand, timing light\t/);
  const sheet = await run("sheet", ...data);
  expect(sheet.out).toContain("BY HAND");
  const marks = JSON.parse((await run("engine", "--format", "json", ...data)).out);
  // 14° read at 1000 engine rpm, with 8° of initial timing: the same mark comes back.
  expect(marks.marks[1].plugged.rising.markCrankshaftDeg).toBeCloseTo(14, 9);
  expect((await run("recompute", ...data)).status).toBe(65);
});

it("goes with a job that is on file, and with no other", async () => {
  const folder = freshFolder();
  const store = await openStore(folder);
  await store.jobs.add({ ...EMPTY_CARD, number: "7", owner: "A.\tOwner" });
  await store.close();
  const data = ["--data", folder];
  const unknown = await run("by-hand", NOTES, ...UNIT, "--job", "8", ...data);
  expect([unknown.status, unknown.out]).toEqual([65, ""]);
  expect((await run("by-hand", NOTES, ...UNIT, "--job", "7", ...data)).status).toBe(2);
  const listed = await run("jobs", "owner", ...data);
  expect(listed.out).toBe("7\t\t\tA. Owner\t\t1\tunproven\n");
  // What a backup brings back lists the same.
  const file = join(folder, "kept.backup");
  expect((await run("backup", file, ...data)).status).toBe(0);
  const back = ["--data", join(folder, "back")];
  expect((await run("restore", file, ...back)).status).toBe(0);
  expect((await run("jobs", ...back)).out).toBe(listed.out);
});

it("names the line of a mistake", async () => {
  const notes = join(freshFolder(), "notes.txt");
  writeFileSync(notes, "means: degree wheel\n500\n");
  const { status, err } = await run("by-hand", notes, ...UNIT, "--no-record");
  expect(status).toBe(65);
  expect(err).toContain(`${notes}, line 2`);
  expect((await run("by-hand", NOTES)).status).toBe(64);
});
