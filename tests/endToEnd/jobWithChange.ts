// A job in the page: its card, the run as received, the advice by the drawer, the run after the change.
import type { Page } from "playwright-core";
import { expect } from "vitest";
import { expectAccessible, expectNoSidewaysScroll, startRun } from "./pageChecks.ts";
import { example } from "./process.ts";

export async function jobWithChange(page: Page): Promise<void> {
  await noteCard(page);
  await page.getByTestId("scenario").selectOption("light-spring");
  await page.locator("#pace").selectOption("25");
  await startRun(page);
  const verdict = page.getByTestId("verdict");
  await verdict.waitFor({ timeout: 120_000 });
  const speed = page.getByRole("img", { name: "Advance over speed" });
  expect(await speed.getAttribute("aria-label")).toMatch(
    /A diamond marks the reading for finding 1: /,
  );
  await page.getByText("Diamonds: readings that speak").first().waitFor();
  expect(await page.getByTestId("earlier").count()).toBe(0);
  expect(await nextPlace(page)).toContain("Change");
  await takeAdvice(page);
  await page.getByTestId("changed").click();
  expect(await page.getByTestId("after").inputValue()).not.toBe("");
  await page.getByTestId("scenario").selectOption("healthy");
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  await startRun(page);
  await verdict.waitFor({ timeout: 120_000 });
  await page.getByTestId("earlier").waitFor();
  expect(await speed.getAttribute("aria-label")).toContain(
    "A dotted line is the rising curve as received.",
  );
  await page.getByText("Dotted line: as received, rising").first().waitFor();
  expect(await page.getByTestId("earlier").locator("tbody tr").first().textContent()).toMatch(
    /as received:.*Outside specification.*after:.*Within specification/s,
  );
  expect(await nextPlace(page)).toContain("Sheet");
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  await page.getByTestId("again").click();
  expect(await page.getByTestId("after").inputValue()).toBe("");
  await findAgain(page);
}

function nextPlace(page: Page): Promise<string | null> {
  return page.locator(".way .next").textContent();
}

/** By keyboard alone. */
async function noteCard(page: Page): Promise<void> {
  await page.getByTestId("new-job").focus();
  await page.keyboard.press("Enter");
  const owner = page.getByTestId("card-owner");
  await owner.waitFor();
  expect(await nextPlace(page)).toContain("Job card");
  await owner.focus();
  await page.keyboard.type("A. Example");
  const gap = page.getByTestId("card-gapSetMm");
  await gap.focus();
  await page.keyboard.type("wide");
  // A mistake keeps the card open, whichever way leads off it.
  await page.getByTestId("way-rig").focus();
  await page.keyboard.press("Enter");
  await page.getByText("Contact gap set, mm: not a number of millimetres.").waitFor();
  await gap.focus();
  await page.keyboard.press("Control+A");
  await page.keyboard.type("0,4");
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  // Going on keeps what was typed.
  await page.getByTestId("way-rig").focus();
  await page.keyboard.press("Enter");
  await page.getByTestId("start-measuring").waitFor();
  expect(await nextPlace(page)).toContain("Rig ready");
}

/** The dimensions of the springs that the scenario has in it, by the example drawer. */
async function takeAdvice(page: Page): Promise<void> {
  await page.getByTestId("keep-drawer").setInputFiles(example("invented.springs.csv"));
  const typed = [
    ["first", "invented found 41", "20.73", "24.62"],
    ["second", "invented found 43", "12.11", "14,90"],
  ] as const;
  for (const [which, name, rest, stop] of typed) {
    await page.getByTestId(`${which}-spring`).selectOption(name);
    await page.locator(`#${which}-rest`).fill(rest);
    await page.locator(`#${which}-stop`).fill(stop);
  }
  await page.getByTestId("work-out").click();
  const advice = page.getByTestId("advice");
  await advice.waitFor({ timeout: 60_000 });
  expect(await advice.locator("ol > li").first().textContent()).toContain(
    'Fit "invented measured 42" as the first spring.',
  );
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
}

async function findAgain(page: Page): Promise<void> {
  await page.getByTestId("close-job").click();
  await Promise.all([
    page.waitForResponse(/\/api\/jobs\?search=EXAMPLE/),
    page.getByTestId("job-search").fill("EXAMPLE"),
  ]);
  const jobs = page.getByTestId("jobs").getByRole("button");
  expect(await jobs.count()).toBe(1);
  expect(await jobs.first().textContent()).toMatch(/Within specification.*2 records/s);
  await jobs.first().click();
  await page.getByTestId("verdict").waitFor();
  // Whatever place it is loaded anew at, the job lies open still, and the place is the same.
  await page.getByTestId("place-records").click();
  await page.reload();
  await page.getByTestId("records").waitFor();
  await page.getByTestId("place-bench").click();
  await page.getByTestId("open-card").click();
  expect(await page.getByTestId("card-gapSetMm").inputValue()).toBe("0.4");
}
