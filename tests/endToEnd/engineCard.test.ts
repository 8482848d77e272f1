// Engine figures on the page: filled in from the unit's file, marks, the owner's readings, kept and printed.
import { readFile } from "node:fs/promises";
import { afterAll, expect, it } from "vitest";
import { openBrowser, servePage } from "./browser.ts";
import { expectAccessible, expectNoSidewaysScroll } from "./pageChecks.ts";
import { example } from "./process.ts";

const ends: (() => unknown)[] = [];
afterAll(async () => {
  for (const end of ends.reverse()) await end();
});

it("gives marks, compares what was read by keyboard, keeps and prints both", async () => {
  const browser = await openBrowser();
  ends.push(() => browser.close());
  const { url, headers, child } = await servePage();
  ends.push(() => child.kill());
  const notes = await readFile(example("invented-timing-light.by-hand.txt"), "utf8");
  const made = await fetch(new URL("/api/by-hand", url), {
    method: "POST",
    headers: { ...headers, "content-type": "application/json" },
    body: JSON.stringify({ unitId: "everyday", notes, jobId: null }),
  });
  expect(made.status).toBe(201);
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  const page = await context.newPage();
  const open = async () => {
    await page.goto(`${url}#/records`);
    await page.getByTestId("records").getByRole("button").first().click();
    await page.getByTestId("engine").press("Enter");
  };
  await open();
  const marks = page.getByTestId("engine-marks");
  await marks.waitFor();
  expect(await page.getByTestId("engine-initial").inputValue()).toBe("8");
  // The notes have 7° at 800 distributor rpm: 8 + 2 × 7.
  expect(await marks.textContent()).toMatch(/1600\s*line plugged:\s*22\.0 ±/);
  expect(await page.getByText("Exhaust gas kills").isVisible()).toBe(true);
  await page.getByTestId("engine-initialOf").selectOption("");
  await page.getByText("Say whose degrees the initial timing is in.").waitFor();
  expect(await marks.count()).toBe(0);
  await page.getByTestId("engine-initialOf").selectOption("crankshaft");
  await page.getByTestId("engine-add").press("Enter");
  await page.waitForFunction(() => document.activeElement?.id === "engine-rpm-0");
  await page.keyboard.type("1600");
  await page.keyboard.press("Tab");
  await page.keyboard.type("35");
  await page.getByText("0 of 1 readings agree with the bench curve, 1 do not").waitFor();
  await expectAccessible(page);
  await page.setViewportSize({ width: 320, height: 640 });
  await page.emulateMedia({ colorScheme: "dark" });
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  await page.getByTestId("engine-keep").click();
  await page.getByText("Kept beside the record").waitFor();
  await page.reload();
  await open();
  await page.getByTestId("engine-compared").getByText("does not agree").waitFor();
  const [sheet] = await Promise.all([
    context.waitForEvent("page"),
    page.getByTestId("engine-print").click(),
  ]);
  await sheet.waitForLoadState();
  const printed = await sheet.locator("body").textContent();
  expect(printed).toContain("Exhaust gas kills");
  expect(printed).toContain("1 do not");
});
