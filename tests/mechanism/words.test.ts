// The fitted mechanism in words, on the sheet and in its pictures.
import { describe, expect, it } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import type { MechanismFit } from "../../core/mechanism/fitted.ts";
import { broughtUp } from "../../core/olderRecords.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { mechanismTexts } from "../../core/sheet/mechanismWords.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { endDocument, runDocuments } from "../sheet/fixture.ts";
import { MECHANISM } from "./fitted.ts";

const lines = (fit: MechanismFit, unit: "kPa" | "inHg" = "kPa") =>
  mechanismTexts(fit, ["advance capsule"], unit).map(({ part, facts }) => [
    part,
    ...facts.map(({ label, value }) => `${label}: ${value}`),
  ]);

describe("words", () => {
  it("tell each figure with its ± as the trade would", () => {
    expect(lines(MECHANISM)[0]).toEqual([
      "Weights",
      "Begins to advance: at 438 ± 6 rpm",
      "First spring alone: 5.1 ± 0.2° per 100 rpm near the start",
      "Second spring takes up: at 4.3 ± 0.3°, about 720 rpm, then 0.50 ± 0.04° per 100 rpm",
      "Stop: at 14.02 ± 0.03°, reached at 2310 ± 12 rpm",
      "Friction, at half travel: gap of 35 ± 5 rpm, of 1.1 ± 0.2°",
      "Error of the form: 0.03° beside the readings' own",
    ]);
  });

  it("say what cannot be told, and why; a gap that may be none by its upper end", () => {
    expect(lines(MECHANISM)[1]).toEqual([
      "advance capsule",
      "Begins: at 12.12 ± 0.05 kPa",
      "Slope: 0.50 ± 0.01° per kPa",
      "Friction: gap below 0.08 kPa, below 0.03°",
      "Error of the form: none beyond the readings' own",
      "Cannot be told: end (the highest readings do not stand level)",
    ]);
  });

  it("give vacuum in the unit asked for", () => {
    // 12 120 Pa over 3386.39 Pa (NIST SP 811); 0.5° by kPa is 1.69° by inHg.
    expect(lines(MECHANISM, "inHg")[1]?.slice(1, 3)).toEqual([
      "Begins: at 3.58 ± 0.02 inHg",
      "Slope: 1.69 ± 0.04° per inHg",
    ]);
  });

  it("say of what was not fitted why not", () => {
    const stuck: MechanismFit = { weights: { why: "does not move" }, capsules: [null] };
    expect(lines(stuck)).toEqual([["Weights", "Not fitted: no change of advance at any reading"]]);
  });
});

describe("the sheet", () => {
  const withFit = (mechanism: MechanismFit | null): RunDocument[] => [
    ...runDocuments.slice(0, -1),
    { ...endDocument, mechanism },
  ];
  const print = (documents: readonly RunDocument[]) =>
    sheetHtml(buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" }));

  it("has the figures, and dash-dotted lines that its pictures and key name", () => {
    const html = print(withFit(MECHANISM));
    expect(html).toContain("The mechanism as fitted");
    expect(html).toContain("begins to advance: at 438 ± 6 rpm");
    expect(html).toContain("with the mechanism as fitted as a dash-dotted line");
    // Both ways over speed and over vacuum, and once in the key.
    expect(html.match(/stroke-dasharray="12 3 2 3"/g)).toHaveLength(5);
    expect(html).toContain("</svg>as fitted</span>");
  });

  it("has nothing of it where nothing was fitted", () => {
    const html = print(withFit(null));
    expect(html).not.toContain("as fitted");
    expect(html).not.toContain("12 3 2 3");
  });

  it("of an older record has nothing of it", () => {
    const { mechanism: _, ...older } = endDocument;
    const [end] = broughtUp([older as RunDocument]);
    expect(end).toMatchObject({ mechanism: null });
  });
});
