// The papers in German: no English left in them, commas for points, and still one page.
import { describe, expect, it } from "vitest";
import { ownerSheet } from "../../core/papers/owner.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { ENGLISH } from "../../core/speech/english.ts";
import { GERMAN } from "../../core/speech/german.ts";
import { sheetPdf } from "../../server/pdf/sheetPdf.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded } from "./fixture.ts";
import { pdfText } from "./pdfText.ts";

function leaves(value: unknown, path = ""): [string, unknown][] {
  if (typeof value !== "object" || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, one]) => leaves(one, `${path}.${key}`));
}

/** Sentences and remedies have their English where they are typed (tests/said). */
const { sentences: _sentences, remedies: _remedies, ...told } = GERMAN;
const { sentences: _none, remedies: _noneEither, ...english } = ENGLISH;

describe("the German catalogue", () => {
  const german = new Map(leaves(told));

  it("has every text of the English", () => {
    expect([...german.keys()].sort()).toEqual(
      leaves(english)
        .map(([path]) => path)
        .sort(),
    );
  });

  it("leaves none of them in English", () => {
    const same = leaves(ENGLISH).filter(
      ([path, text]) => typeof text === "string" && german.get(path) === text,
    );
    expect(same.map(([path]) => path)).toEqual([]);
  });

  it("has as many cautions, and never calls the software's stop an emergency stop", () => {
    expect(GERMAN.cautions.rig).toHaveLength(ENGLISH.cautions.rig.length);
    expect(GERMAN.cautions.engine).toHaveLength(ENGLISH.cautions.engine.length);
    expect(GERMAN.cautions.shortEngine).toHaveLength(ENGLISH.cautions.shortEngine.length);
    expect(GERMAN.cautions.rig.join()).toContain("das Anhalten in diesem Programm ist keiner");
  });
});

describe.each(["a4", "letter"] as const)("on %s", (paper) => {
  const options = { paper, vacuumUnit: "kPa", say: GERMAN } as const;
  const plain = { documents: runDocuments, earlier: [], card };

  it.each([
    ["the owner's page", ownerSheet(plain, options), "Zu knapp für ein Urteil"],
    ["a crowded owner's page", ownerSheet(crowded, options), "Außerhalb des eigenen Ziels"],
    ["the tag", tagSheet(runDocuments, card, options), "Nicht bewiesen"],
    ["a crowded tag", tagSheet(crowded.documents, crowded.card, options), "AUSSERHALB"],
  ] as const)("%s is one page in German", async (_, sheet, verdict) => {
    const { pages } = pdfText(await sheetPdf(sheet, startDocument.startedUtc));
    expect(pages).toHaveLength(1);
    const [page = ""] = pages;
    expect(page).toContain(`${verdict}\n`);
    expect(page).toContain("Seite 1 von 1\n");
    const html = sheetHtml(sheet);
    expect(html).toContain(`<html lang="de">`);
    // What the catalogue says in English is nowhere, save where unit file and card say it; shorter words
    // may be parts of German ones.
    const own = JSON.stringify([runDocuments, crowded]);
    const english = leaves(ENGLISH).flatMap(([, text]) =>
      typeof text === "string" && text.length > 6 && !own.includes(text) ? [text] : [],
    );
    expect(english.filter((text) => html.includes(`>${text}`) || page.includes(text))).toEqual([]);
    expect(page).not.toMatch(/\d\.\d+(°| kPa| mm)/);
    expect(page).not.toMatch(/\brpm\b/);
  });
});
