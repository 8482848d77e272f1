// `bobweight sheet --for …`: the owner's page, the tag and the file's sheet, as PDF and as printed by a browser.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ownerSheet } from "../../core/papers/owner.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { card, crowded } from "../papers/fixture.ts";
import { pdfText } from "../papers/pdfText.ts";
import { runDocuments } from "../sheet/fixture.ts";
import { openBrowser } from "./browser.ts";
import { example, freshFolder, run } from "./process.ts";

const data = freshFolder();
const cardFile = join(data, "card.json");
const sheet = (...args: string[]) => run("sheet", ...args, "--card", cardFile, "--data", data);

beforeAll(async () => {
  const rig = ["--rig", "stand-in", "--scenario", example("healthy.scenario.json"), "--fast"];
  await run("measure", ...rig, "--unit", example("everyday.unit.json"), "--data", data);
  writeFileSync(cardFile, JSON.stringify(card));
});

describe("bobweight sheet", () => {
  it.each([
    ["owner", "Your distributor", 1],
    ["tag", "Job 2031-014", 1],
    ["file", "Distributor test sheet", 2],
  ])("writes a PDF for the %s", async (reader, title, count) => {
    const file = join(data, `${reader}.pdf`);
    const { status } = await sheet("--for", reader, "--format", "pdf", "--out", file);
    expect(status).toBe(0);
    const { pages } = pdfText(readFileSync(file));
    expect(pages).toHaveLength(count);
    expect(pages[0]).toContain(title);
  });

  it("prints how many raw bytes the record has, and their SHA-256", async () => {
    const { out } = await sheet("--for", "file");
    expect(out).toMatch(/<dd class="long">\d{6,} bytes, SHA-256 [0-9a-f]{64}<\/dd>/);
  });

  it("refuses a card that is none, and a page as a table", async () => {
    expect((await sheet("--for", "owner", "--format", "csv")).status).toBe(64);
    writeFileSync(join(data, "wrong.json"), `{ "gapSetMm": "wide" }`);
    const wrong = ["--for", "tag", "--card", join(data, "wrong.json"), "--data", data];
    const { status, err } = await run("sheet", ...wrong);
    expect(status).toBe(65);
    expect(err).toContain("gapSetMm");
  });
});

describe("printed by a browser", () => {
  let browser: Browser;

  beforeAll(async () => {
    browser = await openBrowser();
  });

  afterAll(async () => {
    await browser?.close();
  });

  async function pagesOf(file: string): Promise<number | undefined> {
    const page = await browser.newPage();
    await page.goto(pathToFileURL(file).href);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    await page.close();
    return pdf.toString("latin1").match(/\/Type \/Page\b/g)?.length;
  }

  const plain = { documents: runDocuments, earlier: [], card };

  it.each([
    ["a4", "plain", plain],
    ["letter", "plain", plain],
    ["a4", "crowded", crowded],
    ["letter", "crowded", crowded],
  ] as const)("owner's page and tag are one page of %s, %s", async (paper, name, subject) => {
    for (const [reader, printed] of [
      ["owner", ownerSheet(subject, { paper, vacuumUnit: "kPa" })],
      ["tag", tagSheet(subject.documents, subject.card, { paper })],
    ] as const) {
      const file = join(data, `${reader}-${name}-${paper}.html`);
      writeFileSync(file, sheetHtml(printed));
      expect(await pagesOf(file)).toBe(1);
    }
  });
});
