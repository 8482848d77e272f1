// What is printed, by browser and by command: pages, and words beyond the paper's edge.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { atMost, type Bar, beside } from "../../accuracy/bar.ts";
import { onPage, opened, type PageBench } from "../bench.ts";
import { PICTURES, shoot } from "../pictures.ts";
import { startRun } from "../states.ts";

const PAPERS = ["a4", "letter"] as const;
const READERS = ["owner", "tag", "file"] as const;
/** The owner's page and the tag are one page each; the file's own sheet has as many as its readings need. */
const ONE_PAGE: readonly string[] = ["owner", "tag"];
const RUN_MS = 240_000;

interface Printed {
  readonly what: string;
  readonly isOnePage: boolean;
  readonly pages: number;
  readonly cut: readonly string[];
}

/** Page objects of a PDF whose object streams are not compressed, or by its count of pages. */
function pagesOf(pdf: Buffer): number {
  const text = pdf.toString("latin1");
  const counts = [...text.matchAll(/\/Count (\d+)/g)].map((match) => Number(match[1]));
  return Math.max(...counts, (text.match(/\/Type \/Page\b/g) ?? []).length);
}

/** Parts wider than the room they have, in the browser, and words of a picture beyond its edge. */
function partsBeyond(): string[] {
  const beyond: string[] = [];
  for (const element of document.querySelectorAll<HTMLElement>("body *")) {
    if (!(element instanceof HTMLElement) || getComputedStyle(element).display === "inline")
      continue;
    if (element.clientWidth > 0 && element.scrollWidth > element.clientWidth + 1) {
      beyond.push(`${element.tagName} ${(element.textContent ?? "").slice(0, 40)}`);
    }
  }
  for (const word of document.querySelectorAll("svg text")) {
    const box = word.getBoundingClientRect();
    const picture = word.closest("svg")?.getBoundingClientRect();
    if (picture === undefined) continue;
    const over = [
      picture.left - box.left,
      box.right - picture.right,
      picture.top - box.top,
      box.bottom - picture.bottom,
    ];
    if (Math.max(...over) > 1) beyond.push(`in a picture: ${word.textContent}`);
  }
  return beyond;
}

async function byBrowser(page: Page, bench: PageBench, reader: string, paper: string, id: string) {
  const address = new URL(`/records/${id}/sheet.html?for=${reader}&paper=${paper}`, bench.url);
  await page.goto(address.href);
  await page.emulateMedia({ media: "print" });
  const cut = await page.evaluate(partsBeyond);
  const name = `printed-${reader}-${paper}`;
  await shoot(page, name);
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
  writeFileSync(join(PICTURES, `${name}-browser.pdf`), pdf);
  return { what: `${name}, browser`, pages: pagesOf(pdf), cut };
}

async function byCommand(bench: PageBench, reader: string, paper: string) {
  const name = `printed-${reader}-${paper}`;
  const pdf = await bench.command("sheet", "--for", reader, "--paper", paper, "--format", "pdf");
  writeFileSync(join(PICTURES, `${name}-command.pdf`), pdf);
  return { what: `${name}, command`, pages: pagesOf(pdf), cut: [] };
}

export const print: Bar<readonly Printed[]> = {
  name: "print",
  counts: { short: 1, long: 1 },
  job: () =>
    onPage(async (bench) => {
      const page = await opened(bench);
      await page.getByTestId("scenario").selectOption("light-spring");
      await startRun(page, "25");
      await page.getByTestId("verdict").waitFor({ timeout: RUN_MS });
      const href = await page.getByTestId("open-sheet").getAttribute("href");
      const id = href?.split("/")[2] ?? "";
      const printed: Printed[] = [];
      for (const reader of READERS) {
        for (const paper of PAPERS) {
          const isOnePage = ONE_PAGE.includes(reader);
          printed.push({ isOnePage, ...(await byBrowser(page, bench, reader, paper, id)) });
          printed.push({ isOnePage, ...(await byCommand(bench, reader, paper)) });
        }
      }
      return printed;
    }),
  figures: (results) => {
    const all = results.flat();
    const single = all.filter(({ isOnePage }) => isOnePage);
    const cut = all.flatMap((one) => one.cut.map((what) => `${one.what}: ${what}`));
    for (const one of cut) process.stderr.write(`page: ${one}\n`);
    if (all.length === 0) return [];
    return [
      atMost(
        "owner's page and tag, A4 and Letter, browser and command: pages",
        Math.max(...single.map(({ pages }) => pages)),
        1,
        single.length,
        "",
        0,
      ),
      atMost("printed: parts beyond the paper's edge", cut.length, 0, all.length, "", 0),
      beside(
        "the file's sheet: pages",
        all
          .filter(({ isOnePage }) => !isOnePage)
          .map(({ pages }) => pages)
          .join(", "),
        all.length - single.length,
      ),
    ];
  },
};
