// Records and units on the page, without a run: side by side, noted on, typed, carried off and backed up.
import { writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { openBrowser, type ServedPage, servePage } from "./browser.ts";
import { expectAccessible, expectNoSidewaysScroll } from "./pageChecks.ts";
import { example, freshFolder, run } from "./process.ts";

let browser: Browser;
let served: ServedPage;
let page: Page;

beforeAll(async () => {
  served = await servePage();
  browser = await openBrowser();
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  page = await context.newPage();
  const notes = await readFile(example("invented-timing-light.by-hand.txt"), "utf8");
  const headers = { ...served.headers, "content-type": "application/json" };
  for (const [unitId, deg] of [
    ["everyday", notes],
    ["everyday", notes.replace("2400 28", "2400 30")],
  ]) {
    const body = JSON.stringify({ unitId, notes: deg, jobId: null });
    const made = await fetch(new URL("/api/by-hand", served.url), {
      method: "POST",
      headers,
      body,
    });
    expect(made.status).toBe(201);
  }
});

afterAll(async () => {
  await browser?.close();
  served.child.kill("SIGTERM");
});

it("sets records side by side, keeps a note, and archives", async () => {
  const refused: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") refused.push(message.text());
  });
  await page.goto(`${served.url}#/records`);
  const list = page.getByTestId("records").locator("li");
  await list.nth(1).waitFor();
  for (const i of [0, 1]) await list.nth(i).locator("input[type=checkbox]").check();
  await page.getByTestId("compare").press("Enter");
  const rows = page.getByTestId("compared-rows");
  await rows.waitFor();
  expect(await rows.textContent()).toContain("from A:");
  await expectAccessible(page);
  await page.setViewportSize({ width: 320, height: 700 });
  await expectNoSidewaysScroll(page);
  await page.getByText("Back to the list").click();
  await page.getByTestId("look-into").first().click();
  await page.getByTestId("new-note").fill("Bush replaced after this.");
  await page.getByTestId("add-note").click();
  await page.getByTestId("notes").getByText("Bush replaced after this.").waitFor();
  expect(await page.getByTestId("history").locator("tbody tr").count()).toBe(2);
  await expectNoSidewaysScroll(page);
  await page.getByTestId("archive-record").click();
  await list.nth(1).waitFor({ state: "detached" });
  await page.setViewportSize({ width: 1366, height: 768 });
  await expectAccessible(page);
  expect(refused).toEqual([]);
});

it("carries a record off, which another data folder takes and computes no other", async () => {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByTestId("export-record").click(),
  ]);
  const folder = freshFolder();
  const file = join(folder, download.suggestedFilename());
  await download.saveAs(file);
  const data = ["--data", join(folder, "data")];
  expect((await run("import", file, ...data)).out).toMatch(/\trecord [0-9a-f-]{36}\n$/);
  expect((await run("import", file, ...data)).out).toMatch(/ there already\n$/);
  writeFileSync(file, (await readFile(file, "utf8")).replace('"completed"', '"stopped"'));
  const changed = await run("import", file, ...data);
  expect([changed.status, changed.err]).toEqual([
    65,
    expect.stringContaining("RECORD_FILE_BROKEN"),
  ]);
});

it("makes a backup, and brings it back beside the folder in use", async () => {
  await page.getByTestId("make-backup").click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByTestId("take-backup").click(),
  ]);
  const file = join(freshFolder(), "kept.backup");
  await download.saveAs(file);
  await page.getByTestId("restore-backup").setInputFiles(file);
  const command = page.getByTestId("carried").locator("code");
  await command.waitFor();
  const folder = /--data "(.*)"/.exec((await command.textContent()) ?? "")?.[1] ?? "";
  expect((await run("sheet", "--list", "--data", folder)).out.trim().split("\n")).toHaveLength(2);
});

it("types a unit with its preview, and its next version", async () => {
  await page.getByTestId("place-units").click();
  await page.getByTestId("type-unit").click();
  await page.getByTestId("typed-description").fill("A typed four");
  await page.getByTestId("typed-lobes").fill("4");
  await page.getByTestId("typed-rotation").selectOption("cw");
  await page.getByTestId("speed-source").fill("invented");
  await page.getByTestId("speed-lines").fill("0 dist at 300 dist rpm\nabout ten at 900");
  await page.getByTestId("unit-problem").getByText("One line cannot be read").waitFor();
  expect(await page.getByTestId("keep-unit").isDisabled()).toBe(true);
  await page.getByTestId("speed-lines").fill("0 dist at 300 dist rpm\nmax 10 dist by 900 dist rpm");
  await page.getByText("18 to 22° from 1800 rpm on, and no farther").first().waitFor();
  await expectAccessible(page);
  await page.setViewportSize({ width: 320, height: 700 });
  await expectNoSidewaysScroll(page);
  await page.setViewportSize({ width: 1366, height: 768 });
  await page.getByTestId("keep-unit").click();
  await page.getByTestId("edit-unit").click();
  await page.getByTestId("typed-description").fill("A typed four, put right");
  await page.getByTestId("keep-unit").click();
  await page.getByTestId("units").getByText("edited once").waitFor();
  expect(await page.getByTestId("units").textContent()).not.toContain("A typed four ");
});
