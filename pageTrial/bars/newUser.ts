// Somebody who sees the page for the first time: from its opening to a verdict on the stand-in rig, alone or led.
import type { Page } from "playwright-core";
import { atMost, type Bar } from "../../accuracy/bar.ts";
import { onPage, opened } from "../bench.ts";
import { shoot } from "../pictures.ts";

const CLICKS = 6;
const RUN_MS = 240_000;

interface Tried {
  readonly clicks: number;
  readonly keys: number;
  readonly verdict: string;
}

/** Clicks and keys as the page itself sees them, whoever makes them. */
async function countsOf(page: Page): Promise<{ clicks: number; keys: number }> {
  return page.evaluate(
    () => (window as unknown as { tried: { clicks: number; keys: number } }).tried,
  );
}

export const newUser: Bar<Tried> = {
  name: "new user",
  counts: { short: 2, long: 2 },
  job: (index) =>
    onPage(async (bench) => {
      const page = await opened(bench);
      await page.evaluate(() => {
        const tried = { clicks: 0, keys: 0 };
        Object.assign(window, { tried });
        const isTrusted = (event: Event) => event.isTrusted && event.target instanceof Element;
        window.addEventListener("pointerdown", (event) => isTrusted(event) && tried.clicks++, true);
        window.addEventListener("keydown", (event) => isTrusted(event) && tried.keys++, true);
      });
      if (index === 1) {
        await page.getByTestId("try-invented").click();
        await page.getByTestId("way-rig").click();
      }
      await page.getByTestId("cautions-read").check();
      await page.getByTestId("start-measuring").click();
      const verdict = page.getByTestId("verdict");
      await verdict.waitFor({ timeout: RUN_MS });
      await shoot(page, index === 1 ? "new-user-led-verdict" : "new-user-verdict");
      const { clicks, keys } = await countsOf(page);
      return { clicks, keys, verdict: ((await verdict.textContent()) ?? "").trim() };
    }),
  figures: (all) => {
    const said = all.map(({ verdict }) => `"${verdict.replace(/\s+/g, " ")}"`).join(" and ");
    const most = (of: (one: Tried) => number) => Math.max(...all.map(of));
    return [
      atMost(
        "clicks from start to a verdict on the stand-in rig, alone or led by hints",
        most(({ clicks }) => clicks),
        CLICKS,
        all.length,
        "",
        0,
      ),
      atMost(
        `keys typed on the way; it says ${said}`,
        most(({ keys }) => keys),
        0,
        all.length,
        "",
        0,
      ),
    ];
  },
};
