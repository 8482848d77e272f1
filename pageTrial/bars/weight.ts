// What comes over the wire until the page can be worked with.
import type { Page } from "playwright-core";
import { atMost, type Bar } from "../../accuracy/bar.ts";
import { onPage } from "../bench.ts";

const LIMIT_KB = 200;

interface Weighed {
  readonly bytes: number;
  readonly parts: number;
}

async function weighed(page: Page, url: string): Promise<Weighed> {
  const wire = await page.context().newCDPSession(page);
  const sizes: number[] = [];
  wire.on("Network.loadingFinished", ({ encodedDataLength }) => sizes.push(encodedDataLength));
  await wire.send("Network.enable");
  await wire.send("Network.setCacheDisabled", { cacheDisabled: true });
  await page.goto(url, { waitUntil: "networkidle" });
  return { bytes: sizes.reduce((sum, size) => sum + size, 0), parts: sizes.length };
}

export const weight: Bar<Weighed> = {
  name: "weight",
  counts: { short: 1, long: 1 },
  job: () =>
    onPage(async ({ browser, url }) => {
      const page = await browser.newPage();
      return weighed(page, url);
    }),
  figures: ([one]) =>
    one === undefined
      ? []
      : [
          atMost(
            "first load, as it comes over the wire",
            one.bytes / 1000,
            LIMIT_KB,
            one.parts,
            " kB",
            1,
          ),
        ],
};
