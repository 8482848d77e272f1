// An empty workshop: the invented job, its hints, and what the Help place says to its finding.
import type { Page } from "playwright-core";
import { expect } from "vitest";
import { expectAccessible, expectNoSidewaysScroll, startRun } from "./pageChecks.ts";

/** Another fault than the way is about, so that what is said of this one is seen too. */
const SCENARIO = "torn-diaphragm";
/** The list of simulation speeds is opened and chosen from by two clicks, which the test does at once. */
const CLICKS_FOR_PACE = 2;

export async function guidedJob(page: Page): Promise<void> {
  const hint = (name: string) => page.getByTestId(`hint-${name}`);
  await page.getByTestId("offer").waitFor();
  await expectAccessible(page);
  const done = await countedFrom(page);
  await page.getByTestId("try-invented").click();
  await hint("card").waitFor();
  expect(await page.getByTestId("card-owner").inputValue()).toContain("invented");
  await page.getByTestId("way-rig").click();
  await hint("cautions").waitFor();
  expect(await page.getByTestId("cautions-read").isChecked()).toBe(false);
  await expectAccessible(page);
  const scenario = page.getByTestId("scenario");
  expect(await scenario.inputValue()).toBe("light-spring");
  await scenario.selectOption(SCENARIO);
  await page.locator("#pace").selectOption("25");
  await startRun(page);
  await hint("watch").waitFor();
  const verdict = page.getByTestId("verdict");
  await verdict.waitFor({ timeout: 120_000 });
  expect(await verdict.textContent()).toContain("Outside specification");
  expect(await page.getByText("The capsule or its hose does not hold").first().isVisible()).toBe(
    true,
  );
  const { clicks, keys } = await done();
  expect(clicks + CLICKS_FOR_PACE).toBeLessThanOrEqual(6);
  expect(keys).toBe(0);
  await closeHints(page);
  await readHelp(page);
  await page.getByTestId("show-hints").click();
  await page.getByTestId("place-bench").click();
  await hint("findings").waitFor();
}

/** What the hand does from now on. */
async function countedFrom(page: Page): Promise<() => Promise<{ clicks: number; keys: number }>> {
  const counts = await page.evaluateHandle(() => {
    const found = { clicks: 0, keys: 0 };
    window.addEventListener("pointerdown", () => found.clicks++, true);
    window.addEventListener("keydown", () => found.keys++, true);
    return found;
  });
  return () => counts.jsonValue();
}

/** By keyboard; what was closed stays so when the page is loaded anew. */
async function closeHints(page: Page): Promise<void> {
  await expectAccessible(page);
  await page.getByTestId("close-hint-findings").focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("hint-findings").waitFor({ state: "detached" });
  expect(await page.evaluate(() => document.activeElement?.getAttribute("data-testid"))).toBe(
    "open-sheet",
  );
  await page.reload();
  await page.getByTestId("hint-change").waitFor();
  expect(await page.getByTestId("hint-findings").count()).toBe(0);
  await page.getByTestId("close-hints").focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("hint-change").waitFor({ state: "detached" });
}

/** From the finding to its section; then the drawing by keyboard, on a narrow dark page without motion. */
async function readHelp(page: Page): Promise<void> {
  await page.getByTestId("what-this-means").first().click();
  const heading = page.getByRole("heading", { name: "Torn diaphragm" });
  await heading.waitFor();
  await page.waitForFunction(() => document.activeElement?.id === "/help/diaphragm-torn");
  await expectAccessible(page);
  expect(await page.getByTestId("weights-play").count()).toBe(1);
  await page.emulateMedia({ colorScheme: "dark", reducedMotion: "reduce" });
  await page.setViewportSize({ width: 320, height: 640 });
  expect(await page.getByTestId("weights-play").count()).toBe(0);
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  const said = page.getByTestId("weights-said");
  await page.getByTestId("weights-speed").focus();
  await page.keyboard.press("End");
  expect(await said.textContent()).toMatch(/2600 rpm, .*turned by 14\.0°.*at its stop/);
  await page.getByTestId("weights-fault").selectOption("weights-stuck");
  expect(await said.textContent()).toMatch(/2600 rpm, .*turned by 0\.0°/);
}
