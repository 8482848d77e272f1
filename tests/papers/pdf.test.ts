// PDFs without a browser: pages, paper, text, fonts, and the same bytes twice.
import { describe, expect, it } from "vitest";
import { ownerSheet } from "../../core/papers/owner.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import type { Paper } from "../../core/sheet/model.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { sheetPdf } from "../../server/pdf/sheetPdf.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded } from "./fixture.ts";
import { pdfText } from "./pdfText.ts";

const plain = { documents: runDocuments, earlier: [], card };
const made = startDocument.startedUtc;
const options = (paper: Paper) => ({ paper, vacuumUnit: "kPa" }) as const;
const fileSheet = (paper: Paper) => buildSheet(runDocuments, options(paper));

const SIZES = { a4: [595.28, 841.89], letter: [612, 792] } as const;

describe.each(["a4", "letter"] as const)("on %s", (paper) => {
  it.each([
    ["the owner's page", ownerSheet(plain, options(paper)), "Too close to call"],
    [
      "a crowded owner's page",
      ownerSheet(crowded, options(paper)),
      "Outside the user's own target",
    ],
    ["the tag", tagSheet(runDocuments, card, { paper }), "Unproven"],
    ["a crowded tag", tagSheet(crowded.documents, crowded.card, { paper }), "OUTSIDE"],
  ] as const)("%s is one page that tells the verdict", async (_, sheet, verdict) => {
    const { pages, sizes } = pdfText(await sheetPdf(sheet, made));
    expect(pages).toHaveLength(1);
    expect(sizes[0]?.[0]).toBeCloseTo(SIZES[paper][0], 1);
    expect(sizes[0]?.[1]).toBeCloseTo(SIZES[paper][1], 1);
    expect(pages[0]).toContain(`${verdict}\n`);
    expect(pages[0]).toContain(`Record ${startDocument.recordId}`);
    expect(pages[0]).not.toContain("\uFFFD");
  });

  it("goes on over pages, each with its number and what it is of", async () => {
    const { pages } = pdfText(await sheetPdf(fileSheet(paper), made));
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((page, i) => {
      expect(page).toContain(`page ${i + 1} of ${pages.length}\n`);
      expect(page).toContain(`SIMULATED. Record ${startDocument.recordId}\n`);
    });
  });
});

describe("a PDF", () => {
  it("embeds its fonts, names title and language, and has a structure", async () => {
    const bytes = await sheetPdf(fileSheet("a4"), made);
    const file = Buffer.from(bytes).toString("latin1");
    expect(file.startsWith("%PDF-1.7")).toBe(true);
    expect(file.match(/\/FontFile2 /g)).toHaveLength(3);
    expect(file).not.toContain("/Subtype /Type1");
    expect(file).toContain("/Lang (en)");
    expect(file).toContain("/Marked true");
    expect(file).toContain("/S /Figure");
    expect(file).toContain("(D:20310314092653Z)");
    expect(file).toContain(`<rdf:li xml:lang="x-default">Test sheet: Four-cylinder unit`);
  });

  it("is the same bytes twice", async () => {
    const sheet = ownerSheet(crowded, options("letter"));
    const [one, other] = [await sheetPdf(sheet, made), await sheetPdf(sheet, made)];
    expect(Buffer.compare(one, other)).toBe(0);
  });

  it("shows the signs of the trade, and says which it cannot", async () => {
    const text = "° ± ≤ ½ ¼ ¾ – — × − ÄÖÜäöüß é Ω µ • … ∞ ²";
    const sheet = { ...fileSheet("a4"), blocks: [{ kind: "paragraph", text } as const] };
    expect(pdfText(await sheetPdf(sheet, made)).pages[0]).toContain(`${text}\n`);
    const none = { kind: "paragraph", text: "no \u{20000} here" } as const;
    const { pages } = pdfText(await sheetPdf({ ...sheet, blocks: [none] }, made));
    expect(pages[0]).toContain("no \uFFFD here\n");
  });

  it("keeps hostile text a text", async () => {
    const hostile = "</rdf:li><x> & ) Tj \\ endobj\u0000";
    const blocks = [{ kind: "banner", text: hostile, detail: hostile } as const];
    const bytes = await sheetPdf({ ...fileSheet("a4"), title: hostile, blocks }, made);
    expect(pdfText(bytes).pages[0]).toContain("</rdf:li><x> & ) Tj \\ endobj\uFFFD");
    expect(Buffer.from(bytes).toString("latin1")).not.toContain("<x>");
  });

  it("breaks what is wider than the page, words too", async () => {
    const word = "x".repeat(2000);
    const blocks = [{ kind: "paragraph", text: `a ${word}` } as const];
    const { pages } = pdfText(await sheetPdf({ ...fileSheet("a4"), blocks }, made));
    expect(pages[0]?.match(/x/g)?.length).toBeGreaterThanOrEqual(2000);
    expect(Math.max(...(pages[0] ?? "").split("\n").map((line) => line.length))).toBeLessThan(250);
  });
});
