// The run clicked through in a real browser, as a new user would, and what must hold around it.
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBrowser, type ServedPage, servePage } from "./browser.ts";
import { guidedJob } from "./guidedJob.ts";
import { jobWithChange } from "./jobWithChange.ts";
import { expectAccessible, expectNoSidewaysScroll, startRun } from "./pageChecks.ts";

let browser: Browser;
let served: ServedPage;
const servers: ServedPage[] = [];

/** A server that ends with the tests. */
async function serve(): Promise<ServedPage> {
  const own = await servePage();
  servers.push(own);
  return own;
}

beforeAll(async () => {
  served = await serve();
  browser = await openBrowser();
});

afterAll(async () => {
  await browser?.close();
  for (const { child } of servers) child.kill("SIGTERM");
});

async function openPage(
  options: Parameters<Browser["newContext"]>[0] = {},
  { url }: ServedPage = served,
): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 }, ...options });
  const page = await context.newPage();
  const refused: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") refused.push(message.text());
  });
  page.on("pageerror", (error) => refused.push(error.message));
  await page.goto(url);
  await page.getByTestId("unit").locator("option").first().waitFor({ state: "attached" });
  expect(refused).toEqual([]);
  return page;
}

/** The large view while it runs, a frozen display, and back. */
async function expectAcrossTheShop(page: Page): Promise<void> {
  await page.getByTestId("large").click();
  // Whichever step of the run it has come to, in words.
  expect(await page.getByTestId("across").textContent()).toMatch(/[a-z]{3}/);
  await expectAccessible(page);
  await expectNoSidewaysScroll(page);
  expect(await page.getByTestId("stop-motor").isVisible()).toBe(true);
  await page.getByTestId("large").click();
  await page.getByTestId("freeze").click();
  await page.getByText("The display is frozen.").waitFor();
  const frozen = await page.locator(".figures").first().textContent();
  // Speed and vacuum change all the while, and the frozen numbers do not follow.
  await page.waitForTimeout(2000);
  expect(await page.locator(".figures").first().textContent()).toBe(frozen);
  await page.getByTestId("freeze").click();
  await page.waitForFunction(
    (before) => document.querySelector(".figures")?.textContent !== before,
    frozen,
  );
}

/** The uncertainty budget of a reading, opened and chosen by keyboard. */
async function expectBudget(page: Page): Promise<void> {
  const summary = page.locator("summary", { hasText: "How sure is a reading?" });
  await summary.focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Home");
  await page.keyboard.press("Enter");
  const table = page.getByTestId("budget");
  expect(await page.getByTestId("budget-reading").inputValue()).toBe("0");
  expect(await table.textContent()).toContain("Coverage factor for 95 %");
  await expectAccessible(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoSidewaysScroll(page);
  await page.setViewportSize({ width: 1366, height: 768 });
  await summary.click();
}

/** Which contacts are connected is asked for a unit with two sets only. */
async function expectContactsAsked(page: Page): Promise<void> {
  const contacts = page.getByTestId("contacts");
  expect(await contacts.count()).toBe(0);
  await page.getByTestId("unit").selectOption("two-set-eight");
  expect(await contacts.locator("option").allTextContents()).toEqual([
    "The first set alone",
    "The second set alone",
    "Both sets",
  ]);
  await expectAccessible(page);
  await page.getByTestId("unit").selectOption("everyday");
}

describe("the page", () => {
  it("stops by one click and by the Escape key, and can be worked by keyboard alone", async () => {
    const page = await openPage();
    await page.getByTestId("cautions-read").focus();
    await page.keyboard.press("Space");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByText("Testing whether the capsule holds vacuum").first().waitFor();
    await page.keyboard.press("Escape");
    await page.getByText("Stopped. The motor is off.").waitFor({ timeout: 10_000 });
    await page.getByTestId("again").click();
    await startRun(page);
    await page.getByText("Taking the reference").first().waitFor();
    await page.getByTestId("stop-motor").click();
    await page.getByText("Stopped. The motor is off.").waitFor({ timeout: 10_000 });
    await page.context().close();
  });

  it("lets a second page watch and stop, and stops when the controlling page goes away", async () => {
    const page = await openPage();
    const other = await openPage({ colorScheme: "dark", viewport: { width: 390, height: 844 } });
    await startRun(page);
    await other.getByText("You are watching").waitFor();
    await expectAccessible(other);
    await expectNoSidewaysScroll(other);
    await other.getByTestId("stop-motor").click();
    await page.getByText("Stopped. The motor is off.").waitFor({ timeout: 10_000 });
    await page.getByTestId("again").click();
    await startRun(page);
    await other.getByText("Testing whether the capsule holds vacuum").first().waitFor();
    await page.close();
    await other.getByText("Stopped. The motor is off.").waitFor({ timeout: 10_000 });
    expect(await other.getByText("The controlling page is gone.").isVisible()).toBe(true);
    await expectAccessible(other);
    await expectNoSidewaysScroll(other);
    await other.setViewportSize({ width: 320, height: 640 });
    await expectNoSidewaysScroll(other);
    await other.context().close();
  });

  it("says so when a stop finds no answer or cannot be sent", async () => {
    const own = await serve();
    const page = await (await browser.newContext()).newPage();
    await page.goto(own.url);
    await startRun(page);
    await page.getByText("Taking the reference").first().waitFor();
    own.child.kill("SIGSTOP");
    await page.keyboard.press("Escape");
    await page.getByText("No answer to the stop.").waitFor({ timeout: 10_000 });
    own.child.kill("SIGKILL");
    await page.getByText("Page not connected").waitFor();
    const stop = page.getByTestId("stop-motor");
    expect(await stop.getAttribute("class")).toContain("armed");
    await stop.click();
    await page.getByText("The stop could not be sent").waitFor();
    await page.context().close();
  });

  it("judges readings taken by hand without a rig, by keyboard, and asks for every scale", async () => {
    const page = await openPage();
    await page.setViewportSize({ width: 390, height: 844 });
    const why = page.locator("#by-hand-why");
    await page.getByTestId("by-hand").focus();
    await page.keyboard.press("Enter");
    expect(await why.textContent()).toBe("Choose the unit first.");
    await page.keyboard.press("Tab");
    await page.keyboard.type("Everyday");
    await page.keyboard.press("Tab");
    await page.keyboard.type("800 x");
    for (const [id, option] of [
      ["by-hand-means", "timing light"],
      ["by-hand-degrees", "distributor"],
      ["by-hand-rpm", "distributor"],
    ] as const) {
      expect(await page.getByTestId("judge-by-hand").isDisabled()).toBe(true);
      await page.getByTestId(id).selectOption(option);
    }
    await expectAccessible(page);
    await expectNoSidewaysScroll(page);
    const judge = page.getByTestId("judge-by-hand");
    await judge.focus();
    await page.keyboard.press("Enter");
    await page.getByText("Readings, line 1").waitFor();
    await page
      .getByTestId("by-hand-readings")
      .fill("300 0\n800 0.5\n1200 0\n2400 -0.5\nfalling\n1200 0\n300 0.5");
    await judge.focus();
    await page.keyboard.press("Enter");
    const verdict = page.getByTestId("verdict");
    await verdict.waitFor();
    expect(await verdict.textContent()).toContain("Outside specification");
    expect(await page.getByText("By hand, timing light").first().isVisible()).toBe(true);
    expect(await page.getByText("stuck").first().isVisible()).toBe(true);
    await expectAccessible(page);
    await expectNoSidewaysScroll(page);
    await page.context().close();
  });

  // Whole runs wait for their time to pass: they do so together, each on a server of its own.
  it.concurrent("brings a new user from the start to a verdict, a record and a sheet", async () => {
    const page = await openPage({}, await serve());
    await expectAccessible(page);
    expect(await page.getByText("Simulation: no real rig, no real unit").first().isVisible()).toBe(
      true,
    );
    expect(await page.getByTestId("start-measuring").isDisabled()).toBe(true);
    await expectContactsAsked(page);
    await page.locator("#pace").selectOption("25");
    await startRun(page);
    await expectAcrossTheShop(page);
    await page.getByText("Speed sweep, rising").first().waitFor({ timeout: 120_000 });
    await expectAccessible(page);
    const verdict = page.getByTestId("verdict");
    await verdict.waitFor({ timeout: 120_000 });
    expect(await verdict.textContent()).toContain("Within specification");
    await expectAccessible(page);
    expect(await page.locator("table.rows tbody tr").count()).toBeGreaterThan(15);
    expect(await page.getByTestId("trigger").textContent()).toContain("Dwell of each lobe");
    await expectBudget(page);
    const [sheet] = await Promise.all([
      page.context().waitForEvent("page"),
      page.getByTestId("open-sheet").click(),
    ]);
    await sheet.waitForLoadState();
    expect(await sheet.locator("body").textContent()).toMatch(/simulated/i);
    await sheet.close();
    await page.getByTestId("place-records").click();
    await page.getByTestId("records").locator("li").first().waitFor();
    expect(await page.getByTestId("records").locator("li").count()).toBe(1);
    const kept = page.getByTestId("records").getByRole("button").first();
    expect(await kept.textContent()).toContain("Within specification");
    await kept.click();
    expect(await page.getByTestId("verdict").textContent()).toContain("Within specification");
    await page.context().close();
  });

  it.concurrent("takes a job from its card to a change and the run after it", async () => {
    const page = await openPage({ viewport: { width: 390, height: 844 } }, await serve());
    await jobWithChange(page);
    await page.context().close();
  });

  it.concurrent("leads through an invented job, and says plainly that a faulty unit is outside", async () => {
    const page = await openPage({}, await serve());
    await guidedJob(page);
    await page.context().close();
  });

  it.concurrent("warns of a target of the user's own before and after a run", async () => {
    const page = await openPage({}, await serve());
    const warning = page.getByText(/Wrong advance can destroy an engine\..*has the last word/);
    expect(await warning.count()).toBe(0);
    const unitFile = {
      description: "Own target",
      lobes: 4,
      rotation: "cw",
      speed: {
        ownTarget: true,
        source: "my own",
        lines: "0 dist at 300 dist rpm, 8 dist at 700 dist rpm, max 10 dist by 900 dist rpm",
      },
    };
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles({
        name: "own.unit.json",
        mimeType: "application/json",
        buffer: Buffer.from(JSON.stringify(unitFile)),
      });
    await warning.waitFor();
    await expectAccessible(page);
    await page.getByTestId("scenario").selectOption("");
    await page.locator("#pace").selectOption("25");
    await startRun(page);
    const verdict = page.getByTestId("verdict");
    await verdict.waitFor({ timeout: 120_000 });
    expect(await verdict.textContent()).toContain("Within the user's own target");
    expect(await page.getByTestId("own-target").textContent()).toMatch(/destroy an engine/);
    await expectAccessible(page);
    await page.getByTestId("place-records").click();
    const kept = page.getByTestId("records").getByRole("button").first();
    expect(await kept.textContent()).toContain("Within the user's own target");
    await page.context().close();
  });
});
