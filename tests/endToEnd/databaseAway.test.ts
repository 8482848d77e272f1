// The page while the workshop's database is away, and when it is back: nothing old is shown as what there is.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { Cluster } from "../../bench/cluster.ts";
import { openBrowser } from "./browser.ts";
import { example, firstLine, freshFolder, run, start } from "./process.ts";

let cluster: Cluster;

beforeAll(async () => {
  cluster = await Cluster.start();
});

afterAll(() => cluster.end());

it("says what cannot be had, and has it when the database is back", async () => {
  const url = await cluster.newDatabase();
  const data = ["--data", freshFolder(), "--database", url];
  const unit = ["--unit", example("everyday.unit.json")];
  const plan = ["--plan", example("short.plan.json")];
  // Settings and units are seen once; then a record waits.
  await run("measure", "--rig", "stand-in", ...unit, ...plan, "--fast", ...data);
  await cluster.kill();
  const { err } = await run("measure", "--rig", "stand-in", ...unit, ...plan, "--fast", ...data);
  expect(err).toContain("One record waits on this computer");
  const child = start(["serve", "--port", "0", ...data]);
  const browser = await openBrowser();
  try {
    const page = await browser.newPage();
    await page.goto(`${await firstLine(child)}#/records`);
    await page.getByText("One record waits on this computer").waitFor();
    await page.getByText("What there is could not be asked.").waitFor();
    expect(await page.getByText("No record fits.").count()).toBe(0);
    await cluster.comeBack();
    await page.getByTestId("records").locator("> li").nth(1).waitFor({ timeout: 60_000 });
    expect(await page.getByRole("alert").count()).toBe(0);
    expect(await page.getByText("waits on this computer").count()).toBe(0);
    // Of one bench alone nobody needs to be told which; of two they have to be.
    const records = page.getByTestId("records");
    expect(await records.getByText("By the window").count()).toBe(0);
    const other = freshFolder();
    const bench = { id: "0194b2a8-7d1c-7f7e-8a45-3f1d2c9b6e01", name: "By the window" };
    writeFileSync(join(other, "bobweight.bench"), JSON.stringify(bench));
    const there = ["--fast", "--data", other, "--database", url];
    await run("measure", "--rig", "stand-in", ...unit, ...plan, ...there);
    await page.reload();
    await records.getByText("By the window").waitFor();
    expect(await records.locator("> li").count()).toBe(3);
  } finally {
    await browser.close();
    child.kill("SIGINT");
  }
}, 120_000);
