// The sheet's printed forms: hostile text stays text, in HTML, in SVG and in a spreadsheet.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RunDocument } from "../../core/documents.ts";
import { curvesCsv } from "../../core/sheet/csv.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { escaped } from "../../core/sheet/markup.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import {
  endDocument,
  fullCalibration,
  inventedUnit,
  RECORD_ID,
  runDocuments,
  startDocument,
} from "./fixture.ts";

function delayCheckedAt(checkedUtc: string) {
  return { checkedUtc, delayUs: 1, standardUncertaintyUs: 1, degreesOfFreedom: null };
}

function named(text: string): RunDocument[] {
  const [capsule] = inventedUnit.capsules;
  const [result] = endDocument.result.capsules;
  const band = inventedUnit.speedBand;
  if (capsule === undefined || result === undefined || band === null) {
    throw new Error("the fixture has a capsule and a band");
  }
  return [
    {
      ...startDocument,
      recordId: text,
      startedUtc: text,
      engineVersion: text,
      unit: {
        ...inventedUnit,
        description: text,
        stampedNumber: text,
        capsules: [{ ...capsule, name: text }],
        speedBand: { ...band, source: text },
      },
      rig: {
        ...startDocument.rig,
        name: text,
        scenario: { name: text, seed: 1 },
        hello: { ...startDocument.rig.hello, board: text },
        calibration: { ...fullCalibration, delay: delayCheckedAt(text) },
      },
    },
    ...runDocuments.slice(1, -1),
    {
      ...endDocument,
      ending: "stopped",
      reason: { code: text, text },
      result: {
        ...endDocument.result,
        rows: endDocument.result.rows.map((row) => ({ ...row, printed: text })),
        capsules: [{ ...result, name: text }],
      },
    },
  ];
}

const print = (documents: readonly RunDocument[]) =>
  sheetHtml(buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" }));

/** The document with everything between tags taken out, and every attribute value. */
function skeleton(html: string): string {
  return html
    .replace(/<style>[\s\S]*<\/style>/, "<style></style>")
    .replace(/="[^"]*"/g, "")
    .replace(/>[^<]+/g, ">");
}

describe("HTML", () => {
  it.each([
    "<script>alert(1)</script>",
    "]]><script>",
    `" onload="alert(1)`,
    "' onload='alert(1)",
    "</title></svg><img src=x onerror=alert(1)>",
    "&lt;b&gt;",
  ])("keeps %s a text", (hostile) => {
    const html = print(named(hostile));
    expect(html).toContain(escaped(hostile));
    expect(skeleton(html)).toBe(skeleton(print(named("plain"))));
  });

  it("has the same bones whatever the text", () => {
    const bones = skeleton(print(named("plain")));
    fc.assert(
      fc.property(fc.string({ unit: "binary", minLength: 1, maxLength: 40 }), (text) => {
        expect(skeleton(print(named(`x${text}`)))).toBe(bones);
      }),
      { numRuns: 50 },
    );
  });

  it("is self-contained: no script, no handler, no address, no style attribute", () => {
    const html = print(runDocuments);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|\son\w+=|\sstyle=|href|src=|url\(|http:/i);
  });

  it("names the paper's size", () => {
    const letter = sheetHtml(buildSheet(runDocuments, { paper: "letter", vacuumUnit: "kPa" }));
    expect(print(runDocuments)).toContain("@page { size: A4 portrait;");
    expect(letter).toContain("@page { size: letter portrait;");
  });

  it("draws rising solid with discs and falling dashed with squares", () => {
    const html = print(runDocuments);
    // Readings of both sweeps, and three in the key.
    expect(html.match(/<circle /g)).toHaveLength(10 + 7 + 3);
    expect(html.match(/<rect [^>]*width="6" height="6" fill="#fff"/g)).toHaveLength(10 + 7 + 3);
    expect(html.match(/stroke-dasharray="6 3"/g)).toHaveLength(2 + 1);
  });
});

describe("escaping", () => {
  it("handles marks, controls and lone halves of surrogate pairs", () => {
    expect(escaped(`a<b>&"'\u0000\u001b\ud800\u{1f600}\n`)).toBe(
      "a&lt;b&gt;&amp;&quot;&#39;\uFFFD\uFFFD\uFFFD\u{1f600}\n",
    );
  });
});

describe("CSV", () => {
  it("has a line a reading, in distributor and crankshaft figures", () => {
    const lines = curvesCsv(runDocuments).split("\r\n");
    expect(lines).toHaveLength(1 + 10 + 10 + 7 + 7 + 1);
    expect(lines[0]).toBe(
      "record,simulated,unit,stamped_number,sweep,capsule,branch,distributor_rpm,vacuum_pa,advance_distributor_deg,expanded_uncertainty_distributor_deg,crankshaft_rpm,advance_crankshaft_deg,expanded_uncertainty_crankshaft_deg",
    );
    const first = `${RECORD_ID},yes,"Four-cylinder unit, contacts, single capsule",BW 4101 A`;
    expect(lines[3]).toBe(`${first},speed,,rising,800.6,,3.74,0.12,1601.2,7.48,0.24`);
    expect(lines[21]).toBe(`${first},vacuum,Advance capsule,rising,,5001,0,0.12,,0,0.24`);
    expect(lines[35]).toBe("");
  });

  it("keeps a negative advance a number", () => {
    const speed = {
      rising: [
        {
          x: 500,
          targetX: 500,
          advanceDeg: -1.25,
          standardUncertaintyDeg: 0.05,
          coverageFactor: 2,
          budget: [],
        },
      ],
      falling: [],
    };
    const end = { ...endDocument, result: { ...endDocument.result, speed, capsules: [] } };
    expect(curvesCsv([startDocument, end])).toContain(",rising,500,,-1.25,0.1,1000,-2.5,0.2\r\n");
  });

  it.each([
    ["=1+1", "'=1+1"],
    ["+1", "'+1"],
    ["-1", "'-1"],
    ["@a", "'@a"],
    ["\ta", "'\ta"],
    ['=cmd|"a",b', '"\'=cmd|""a"",b"'],
    ['say "so"', '"say ""so"""'],
    ["two\r\nlines", '"two\r\nlines"'],
  ])("neutralises and quotes %j", (text, cell) => {
    expect(curvesCsv(named(text)).split("\r\n").slice(1).join("\r\n")).toMatch(
      new RegExp(`^${cell.replace(/[|\\{}()[\]^$+*?.]/g, "\\$&")},yes,`),
    );
  });
});
