// The workshop at the head of the papers, with its logo, in both forms.
import { crc32, deflateSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { ownerSheet } from "../../core/papers/owner.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import { letterheadOf } from "../../core/settings/letterhead.ts";
import type { Logo } from "../../core/settings/logo.ts";
import { hasLogo, sheetHtml } from "../../core/sheet/html.ts";
import type { Sheet } from "../../core/sheet/model.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { isWhole } from "../../server/logo.ts";
import { sheetPdf } from "../../server/pdf/sheetPdf.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded } from "./fixture.ts";
import { pdfText } from "./pdfText.ts";

/** A grey picture, a byte a dot. */
function grey(width: number, height: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const named = Buffer.concat([Buffer.from(type, "latin1"), data]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    ends.writeUInt32BE(crc32(named), 4);
    return Buffer.concat([ends.subarray(0, 4), named, ends.subarray(4)]);
  };
  const head = Buffer.from([0, 0, 0, 0, 0, 0, 0, 0, 8, 0, 0, 0, 0]);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  const dots = Buffer.alloc((width + 1) * height, 0x80);
  for (let line = 0; line < height; line++) dots[line * (width + 1)] = 0;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(dots)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

const png = grey(30, 10);
const logo: Logo = { type: "image/png", base64: png.toString("base64") };
const workshop = { name: "Müller & <Sons>", address: "1 Yard Lane, Anytown", phone: "01234 5678" };
const letterhead = letterheadOf(workshop, logo);
const options = { paper: "a4", vacuumUnit: "kPa", letterhead } as const;
const owner = (subject: Parameters<typeof ownerSheet>[0]) => ownerSheet(subject, options);
const plain = { documents: runDocuments, earlier: [], card };
const made = startDocument.startedUtc;

describe("the head of a sheet", () => {
  it.each<[string, Sheet]>([
    ["owner's page", owner(plain)],
    ["file sheet", buildSheet(runDocuments, options)],
  ])("of the %s is the workshop with its logo", async (_, sheet) => {
    const html = sheetHtml(sheet);
    expect(html).toContain(
      "Müller &amp; &lt;Sons&gt;</strong><br>1 Yard Lane, Anytown<br>01234 5678",
    );
    expect(html).toContain(`<img alt="" src="data:image/png;base64,${logo.base64}">`);
    expect(html.indexOf("Yard Lane")).toBeLessThan(html.indexOf("<header>"));
    expect(hasLogo(sheet)).toBe(true);
    const bytes = await sheetPdf(sheet, made);
    expect(pdfText(bytes).pages[0]).toContain("Müller & <Sons>\n");
    expect(Buffer.from(bytes).toString("latin1")).toContain("/Subtype /Image");
  });

  it("leaves the owner's page one page", async () => {
    const { pages } = pdfText(await sheetPdf(owner(crowded), made));
    expect(pages).toHaveLength(1);
    expect(pages[0]).toContain("1 Yard Lane");
  });

  it("of the tag is one line", async () => {
    const sheet = tagSheet(crowded.documents, crowded.card, options);
    const line = "Müller & <Sons> · 1 Yard Lane, Anytown · 01234 5678";
    expect(sheetHtml(sheet)).toContain(
      `<p class="workshop">${line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")}</p>`,
    );
    expect(pdfText(await sheetPdf(sheet, made)).pages[0]).toContain(`${line}\n`);
  });

  it("is not there where nothing is set", () => {
    expect(letterheadOf({ name: "", address: "", phone: "" }, null)).toBeNull();
    const html = sheetHtml(buildSheet(runDocuments, { ...options, letterhead: null }));
    expect(html).not.toContain(`class="letterhead"`);
    expect(html).not.toContain("img-src");
  });
});

describe("a logo", () => {
  const jpeg = Buffer.from([
    0xff, 0xd8, 0xff, 0xe0, 0, 4, 0, 0, 0xff, 0xc0, 0, 11, 8, 0, 10, 0, 30, 1, 1, 0x11, 0, 0xff,
    0xd9,
  ]);

  it("is whole", () => {
    expect([isWhole(png), isWhole(jpeg)]).toEqual([true, true]);
  });

  it.each([
    ["cut off", png.subarray(0, -14)],
    ["with a bit turned over", png.map((byte, i) => (i === 50 ? byte ^ 1 : byte))],
    ["larger than any sheet needs", grey(4001, 1)],
    ["a JPEG that is cut off", jpeg.subarray(0, -1)],
    ["a JPEG without a size", Buffer.concat([jpeg.subarray(0, 8), jpeg.subarray(-2)])],
  ])("is not: %s", (_, bytes) => {
    expect(isWhole(bytes)).toBe(false);
  });
});
