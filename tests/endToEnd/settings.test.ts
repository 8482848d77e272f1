// Settings by command and on the page, which speaks German from then on.
import { afterAll, expect, it } from "vitest";
import { openBrowser, servePage } from "./browser.ts";
import { finished, freshFolder, start } from "./process.ts";

const ends: (() => unknown)[] = [];
afterAll(async () => {
  for (const end of ends.reverse()) await end();
});

it("prints, changes and refuses settings by command", async () => {
  const data = ["--data", freshFolder()];
  const run = (...args: string[]) => finished(start(["settings", ...args, ...data]));
  const set = await run("--set", "toleranceDeg=0,5", "--set", "workshop.name=A. Smith");
  expect([set.status, JSON.parse(set.out).toleranceDeg]).toEqual([0, 0.5]);
  const wrong = await run("--set", "language=xx");
  expect([wrong.status, wrong.out]).toEqual([65, ""]);
  expect(wrong.err).toContain("SETTINGS_INVALID: Settings, language");
  expect((await run("--set", "nonsense")).status).toBe(64);
  const back = await run("--set", "toleranceDeg=");
  const { toleranceDeg, workshop } = JSON.parse(back.out);
  expect([toleranceDeg, workshop.name]).toEqual([null, "A. Smith"]);
});

it("speaks German from the page's settings on, with vacuum in the unit chosen", async () => {
  const browser = await openBrowser();
  ends.push(() => browser.close());
  const { url, child } = await servePage();
  ends.push(() => child.kill());
  const page = await browser.newPage();
  await page.goto(url);
  await page.getByTestId("place-settings").click();
  await page.getByTestId("settings-language").selectOption("de");
  await page.getByTestId("settings-vacuum").selectOption("inHg");
  await page.getByTestId("settings-save").click();
  await page.getByRole("heading", { name: "Einstellungen" }).waitFor();
  expect(await page.locator("html").getAttribute("lang")).toBe("de");
  await page.getByTestId("stop-motor").filter({ hasText: "Motor anhalten (Software)" }).waitFor();
  await page.getByTestId("place-bench").click();
  await page.getByText("Schutzhaube zu. Ein fest verdrahteter Not-Halt").waitFor();
  await page.getByTestId("start-measuring").filter({ hasText: "Messung beginnen" }).waitFor();
});
