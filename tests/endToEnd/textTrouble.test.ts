// What the bars of the page call cut or over each other, on pages made for it.
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { textTrouble } from "../../pageTrial/textTrouble.ts";
import { openBrowser } from "./browser.ts";

let browser: Browser;
let page: Page;

beforeAll(async () => {
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 400, height: 300 } });
});
afterAll(() => browser?.close());

async function troubleOf(body: string): Promise<string[]> {
  await page.setContent(`<body style="margin: 0; font: 16px/20px monospace">${body}</body>`);
  return page.evaluate(textTrouble);
}

it("finds nothing on a sound page", async () => {
  expect(await troubleOf("<p>One line</p><p>Another</p><button>Press</button>")).toEqual([]);
});

it.each([
  [
    "cut",
    '<p style="width: 5em; overflow: hidden; white-space: nowrap">Speed sweep, rising</p>',
    /^cut: "Speed sweep, rising"/,
  ],
  [
    "over each other",
    '<p style="margin: 0">One line</p><p style="margin: -15px 0 0">Another</p>',
    /^over each other: "One line" and "Another"/,
  ],
  [
    "beyond the window",
    '<p style="margin-left: 395px; white-space: nowrap">Far out</p>',
    /^beyond the window: "Far out"/,
  ],
  [
    "cut in its field",
    '<select style="width: 60px"><option>A unit with a long name</option></select>',
    /^cut in its field: "A unit with a long name"/,
  ],
  [
    "beyond its button",
    '<button style="width: 20px; white-space: nowrap">Start measuring</button>',
    /^beyond its button: "Start measuring"/,
  ],
])("finds words %s", async (_, body, expected) => {
  expect(await troubleOf(body)).toContainEqual(expect.stringMatching(expected));
});

it("leaves what only listeners are told", async () => {
  const hidden =
    "position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%)";
  expect(await troubleOf(`<p style="${hidden}">Said, not shown</p>`)).toEqual([]);
});
