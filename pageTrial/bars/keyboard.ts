// A whole job by keyboard alone: card, run, findings, change, the run after it, the sheet. No pointer, no focus set by script.
import type { Page } from "playwright-core";
import type { Bar } from "../../accuracy/bar.ts";
import { onPage, opened } from "../bench.ts";

const MOST_TABS = 250;
const RUN_MS = 300_000;

interface Keyed {
  readonly keys: number;
  readonly pointers: number;
  readonly owner: string;
}

class Keys {
  count = 0;
  private readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async press(key: string): Promise<void> {
    this.count++;
    await this.page.keyboard.press(key);
  }

  async type(text: string): Promise<void> {
    this.count += text.length;
    await this.page.keyboard.type(text);
  }

  /** On with Tab until the focus is there. @throws where it does not come there, or cannot be seen there */
  async to(selector: string): Promise<void> {
    await this.page.locator(selector).first().waitFor({ timeout: RUN_MS });
    for (let i = 0; i < MOST_TABS; i++) {
      const at = await this.page.evaluate((wanted) => {
        const element = document.activeElement;
        if (element === null || !element.matches(wanted)) return "elsewhere";
        return getComputedStyle(element).outlineStyle === "none" ? "unseen" : "there";
      }, selector);
      if (at === "there") return;
      if (at === "unseen") throw new Error(`${selector} does not show that it has the focus`);
      await this.press("Tab");
    }
    throw new Error(`${selector} is not reached by Tab`);
  }

  async choose(selector: string, start: string): Promise<void> {
    await this.to(selector);
    await this.type(start);
  }

  async push(selector: string): Promise<void> {
    await this.to(selector);
    await this.press("Enter");
  }
}

const byId = (id: string) => `[data-testid="${id}"]`;

async function startRun(keys: Keys, page: Page, scenario: string): Promise<void> {
  await keys.choose(byId("scenario"), scenario);
  await keys.choose("#pace", "25");
  await keys.to(byId("cautions-read"));
  await keys.press("Space");
  await keys.push(byId("start-measuring"));
  await page.getByTestId("verdict").waitFor({ timeout: RUN_MS });
}

async function wholeJob(page: Page): Promise<{ keys: Keys; owner: string }> {
  const keys = new Keys(page);
  await keys.push(byId("new-job"));
  await keys.to(byId("card-owner"));
  await keys.type("A. Example");
  await keys.push(byId("card-to-rig"));
  const light = await page
    .getByTestId("scenario")
    .locator('option[value="light-spring"]')
    .textContent();
  const healthy = await page
    .getByTestId("scenario")
    .locator('option[value="healthy"]')
    .textContent();
  await startRun(keys, page, light ?? "");
  await keys.push(byId("way-findings"));
  await keys.push(byId("changed"));
  await startRun(keys, page, healthy ?? "");
  await page.getByTestId("earlier").waitFor();
  const [sheet] = await Promise.all([
    page.context().waitForEvent("page"),
    keys.push(byId("open-owner")),
  ]);
  await sheet.waitForLoadState();
  return { keys, owner: (await sheet.locator("body").textContent()) ?? "" };
}

export const keyboard: Bar<Keyed> = {
  name: "keyboard",
  counts: { short: 1, long: 1 },
  job: () =>
    onPage(async (bench) => {
      const page = await opened(bench);
      await page.evaluate(() => {
        Object.assign(window, { pointers: 0 });
        window.addEventListener(
          "pointerdown",
          () => {
            (window as unknown as { pointers: number }).pointers++;
          },
          true,
        );
      });
      const { keys, owner } = await wholeJob(page);
      const pointers = await page.evaluate(
        () => (window as unknown as { pointers: number }).pointers,
      );
      return { keys: keys.count, pointers, owner };
    }),
  figures: ([one]) => {
    if (one === undefined) return [];
    const isWhole = one.owner.includes("A. Example") && one.pointers === 0;
    return [
      {
        what: "whole job by keyboard alone, each focus seen: card, run, findings, change, run, owner's page",
        measured: `${one.keys} keys`,
        limit: "passes",
        count: 1,
        met: isWhole,
      },
    ];
  },
};
