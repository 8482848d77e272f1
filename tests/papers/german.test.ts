// The papers in German: no English left in them, commas for points, and still one page.
import { describe, expect, it } from "vitest";
import type { PartName } from "../../core/documents.ts";
import { ownerSheet } from "../../core/papers/owner.ts";
import { tagSheet } from "../../core/papers/tag.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { SPEECHES } from "../../core/speech/languages.ts";
import { VACUUM_PORTS } from "../../core/unit.ts";
import { sheetPdf } from "../../server/pdf/sheetPdf.ts";
import { runDocuments, startDocument } from "../sheet/fixture.ts";
import { card, crowded } from "./fixture.ts";
import { pdfText } from "./pdfText.ts";

const { en: ENGLISH, de: GERMAN } = SPEECHES;

function leaves(value: unknown, path = ""): [string, unknown][] {
  if (typeof value !== "object" || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, one]) => leaves(one, `${path}.${key}`));
}

/** Sentences and remedies have their English where they are typed (tests/said). */
const { sentences: _sentences, remedies: _remedies, ...told } = GERMAN;
const { sentences: _none, remedies: _noneEither, ...english } = ENGLISH;
/** A function that only looks its text up reads the same in both: what it finds is compared by itself. */
const LOOKUP = /^[^`"']*=>[^`"']*\[\w+\]\)?$/;
const textOf = (leaf: unknown) => (typeof leaf === "function" ? leaf.toString() : leaf);
const isLookup = (leaf: unknown) => typeof leaf === "function" && LOOKUP.test(leaf.toString());

const PART_NAMES: Readonly<Record<PartName, true>> = {
  "between readings": true,
  sensor: true,
  repeatability: true,
  tick: true,
  interpolation: true,
  drift: true,
  reference: true,
  pickup: true,
  "ripple not seen": true,
  "ripple elsewhere": true,
  zero: true,
  delay: true,
  speed: true,
  vacuum: true,
  reading: true,
  together: true,
};
const VERDICTS = ["within", "outside", "unproven"];

/** What each of them is asked for. */
const LOOKED_UP: Readonly<Record<string, readonly string[]>> = {
  ".budget.part": Object.keys(PART_NAMES),
  ".budget.shape": ["normal", "rectangular"],
  ".findings.figure": [
    "advance",
    "start of advance",
    "gap between rising and falling",
    "return",
    "lobe error",
    "random spread",
    "bounce",
    "missing openings",
    "dwell",
    "vacuum reached",
    "drop in the hold",
  ],
  ".mechanism.why": ["too few readings", "none shows", "too uncertain"],
  ".papers.tag.verdict": VERDICTS,
  ".papers.timing.port": [...VACUUM_PORTS],
  ".trigger.kind": ["contacts", "magnetic", "hall", "optical"],
  ".verdicts.headline": VERDICTS,
  ".verdicts.word": VERDICTS,
  ".verdicts.explained": VERDICTS,
  ".engine.read.onLine": ["plugged", "on"],
  ".engine.agreement": ["agrees", "does not", "cannot tell"],
  ".sheet.rows.about": ["speed", "vacuum", "dwell", "scatter", "hold", "return"],
  ".sheet.rows.shortVerdict": VERDICTS,
  ".sheet.earlier.run": ["as received", "before"],
};

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
    const same = leaves(english).filter(
      ([path, text]) => !isLookup(text) && textOf(german.get(path)) === textOf(text),
    );
    expect(same.map(([path]) => path)).toEqual([]);
  });

  it("has words of its own for all that is looked up", () => {
    const lookups = leaves(english).filter(([, text]) => isLookup(text));
    expect(lookups.map(([path]) => path).sort()).toEqual(Object.keys(LOOKED_UP).sort());
    for (const [path, inEnglish] of lookups) {
      for (const key of LOOKED_UP[path] ?? []) {
        const told = (german.get(path) as (key: string) => string)(key);
        expect(told, `${path} of ${key}`).toMatch(/^[A-ZÄÖÜa-zäöü]{2}/);
        expect(told, path).not.toBe((inEnglish as (key: string) => string)(key));
      }
    }
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
