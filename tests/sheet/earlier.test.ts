// As received, before and after on one sheet, and the readings that speak for findings.
import { describe, expect, it } from "vitest";
import type { CurvePoint, EndDocument, RowVerdict, RunDocument } from "../../core/documents.ts";
import type { Evidence, Finding, FindingKind } from "../../core/findings/finding.ts";
import { earlierRuns, rowsOverRuns } from "../../core/sheet/earlier.ts";
import { evidenceMarks, findingsOfHold } from "../../core/sheet/evidenceMarks.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import type { Table } from "../../core/sheet/model.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { endDocument, runDocuments, startDocument } from "./fixture.ts";

const options = { paper: "a4", vacuumUnit: "kPa" } as const;

/** The fixture's run with every reading and row so many degrees higher, under another id. */
function runWith(recordId: string, startedUtc: string, higherDeg: number): readonly RunDocument[] {
  const { result } = endDocument;
  const point = (one: CurvePoint) => ({ ...one, advanceDeg: one.advanceDeg + higherDeg });
  const row = (one: RowVerdict): RowVerdict =>
    one.about === "speed" && one.measured !== null
      ? { ...one, measured: one.measured + higherDeg, verdict: "outside" }
      : one;
  const end: EndDocument = {
    ...endDocument,
    result: {
      ...result,
      verdict: "outside",
      rows: result.rows.map(row),
      speed: { rising: result.speed.rising.map(point), falling: result.speed.falling.map(point) },
    },
  };
  return [{ ...startDocument, recordId, startedUtc }, ...runDocuments.slice(1, -1), end];
}

const received = runWith("first", "2031-03-12T08:00:00.000Z", 4);
const between = runWith("second", "2031-03-13T08:00:00.000Z", 3);
const before = runWith("third", "2031-03-13T18:00:00.000Z", 2);
const chain = earlierRuns([received, between, before]);

const html = (earlier: typeof chain) => sheetHtml(buildSheet(runDocuments, options, earlier));

function table(earlier: typeof chain): Table | undefined {
  return buildSheet(runDocuments, options, earlier)
    .blocks.flatMap((block) => (block.kind === "tables" ? block.tables : []))
    .find(({ caption }) => caption.startsWith("Every printed row"));
}

describe("the runs before", () => {
  it("are the first and the last of the chain", () => {
    expect(chain.map(({ name, recordId }) => [name, recordId])).toEqual([
      ["as received", "first"],
      ["before", "third"],
    ]);
    expect(earlierRuns([received]).map(({ name }) => name)).toEqual(["as received"]);
    expect(earlierRuns([])).toEqual([]);
  });

  it("stand beside the present one in every printed row, with their verdicts", () => {
    const { columns, rows } = table(chain) as Table;
    expect(columns.map(({ head }) => head)).toEqual([
      "of",
      "as printed, and its limits",
      "as received, 2031-03-12",
      "before, 2031-03-13",
      "after",
    ]);
    expect(rows[0]?.cells.slice(2)).toEqual(["OUTSIDE", "OUTSIDE", "too close to call"]);
    expect(rows[3]?.cells).toEqual([
      "speed, rising",
      "3 to 5 at 800",
      "7.74 ± 0.12°: OUTSIDE",
      "5.74 ± 0.12°: OUTSIDE",
      "3.74 ± 0.12°: within",
    ]);
    expect(rows.at(-1)?.cells[1]).toBe("1 inHg in 30 s from 16 inHg (at most 3.39 kPa)");
    expect(rows).toHaveLength(1 + 16);
    expect(rows[4]?.cells.slice(0, 4)).toEqual([
      "falling",
      "3 to 5° at 800 rpm",
      "8.31 ± 0.12°: OUTSIDE",
      "6.31 ± 0.12°: OUTSIDE",
    ]);
    expect(rows[3]?.strong).toBe(false);
    expect(rows[8]).toMatchObject({
      strong: true,
      cells: expect.arrayContaining(["11.94 ± 0.12°: close"]),
    });
  });

  it("are drawn as dotted lines under the present curve, named in the key and to those who hear it", () => {
    const printed = html(chain);
    const dots = (pattern: string) =>
      printed.match(new RegExp(`stroke-dasharray="${pattern}"`, "g"));
    // Speed, capsule, and the key.
    expect(dots("0 4.5")).toHaveLength(3);
    expect(dots("0 3.5 0 8")).toHaveLength(3);
    expect(printed).toContain(
      "as received as a dotted line, before the change as a line of paired dots",
    );
    expect(printed).toContain("</svg>as received, rising</span>");
    expect(printed).toContain("record third");
    const [first] = buildSheet(runDocuments, options, chain).blocks.flatMap((block) =>
      block.kind === "pictures" ? block.pictures : [],
    );
    expect(first?.lines.map(({ look }) => look)).toEqual([
      "as received",
      "before",
      "rising",
      "falling",
    ]);
    expect(first?.lines[0]?.points[2]).toEqual([800.6, 7.74]);
    // 13.64 + 4 has to find room.
    expect(first?.y.max).toBeGreaterThan(17.6);
  });

  it("leave a sheet without them as it was", () => {
    expect(html([])).toBe(sheetHtml(buildSheet(runDocuments, options)));
    expect(html([])).not.toContain("as received");
    expect(table([])?.columns).toHaveLength(5);
  });

  it("keep rows that only they have, and never match rows with other limits", () => {
    const [own] = endDocument.result.rows as [RowVerdict];
    const wider = { ...own, limits: { min: -1, max: 1 } };
    const was = { ...endDocument.result, rows: [wider] };
    const [only] = earlierRuns([received]);
    if (only === undefined) throw new Error("a chain of one has a first");
    const rows = rowsOverRuns([{ ...only, result: was }], { ...endDocument.result, rows: [own] });
    expect(rows.map(({ runs }) => runs)).toEqual([
      [null, own],
      [wider, null],
    ]);
  });
});

const evidence = (figure: Evidence["figure"], places: Evidence["places"]): Evidence => ({
  figure,
  measured: 1,
  expandedUncertainty: null,
  expected: null,
  unit: "deg",
  places,
});
const finding = (kind: FindingKind, ...all: Evidence[]): Finding => ({
  kind,
  subject: "unit",
  part: null,
  isSerious: false,
  strength: 0.8,
  evidence: all,
  alike: [],
});
const at = (branch: "rising" | "falling" | null, x: number) =>
  ({ sweep: "speed", capsule: null, branch, x }) as const;
const vacuum = (branch: "rising" | null, x: number) =>
  ({ sweep: "vacuum", capsule: 0, branch, x }) as const;

const findings = {
  found: [
    finding("spring-light", evidence("advance", [at("rising", 800), at("falling", 1200)])),
    finding(
      "weights-dry",
      evidence("gap between rising and falling", [at(null, 1200.6)]),
      evidence("return", [{ sweep: "return", capsule: null, branch: null, x: 200 }]),
    ),
    finding("capsule-leak", evidence("drop in the hold", [vacuum(null, 54_120)])),
    finding("plate-not-following", evidence("advance", [vacuum("rising", 33_864)])),
  ],
  notTestable: [],
};

describe("marks of evidence", () => {
  it("are the readings nearest to what the findings name, each once with all its findings", () => {
    expect(evidenceMarks(findings, endDocument.result, { kind: "speed" })).toEqual([
      { x: 800.6, advanceDeg: 3.74, branch: "rising", findings: [1] },
      { x: 1200.6, advanceDeg: 7.86, branch: "falling", findings: [1, 2] },
      { x: 1200.6, advanceDeg: 7.35, branch: "rising", findings: [2] },
      { x: 200, advanceDeg: 0.08, branch: null, findings: [2] },
    ]);
    expect(evidenceMarks(findings, endDocument.result, { kind: "vacuum", capsule: 0 })).toEqual([
      { x: 33_864.6, advanceDeg: 6.31, branch: "rising", findings: [4] },
    ]);
    expect(evidenceMarks(findings, endDocument.result, { kind: "vacuum", capsule: 1 })).toEqual([]);
    expect(findingsOfHold(findings, 0)).toEqual([3]);
    expect(findingsOfHold(findings, 1)).toEqual([]);
  });

  it("are none without findings or readings", () => {
    expect(evidenceMarks(null, endDocument.result, { kind: "speed" })).toEqual([]);
    const empty = { ...endDocument.result, speed: { rising: [], falling: [] }, returnDeg: null };
    expect(evidenceMarks(findings, empty, { kind: "speed" })).toEqual([]);
  });

  it("stand as numbered diamonds in the pictures, beside a numbered list of findings", () => {
    const documents = [...runDocuments.slice(0, -1), { ...endDocument, findings }];
    const printed = sheetHtml(buildSheet(documents, options));
    // Four on the speed curve, one on the capsule's, one at the end of the hold, and one in the key.
    expect(printed.match(/<path d="[^"]*Z"/g)).toHaveLength(4 + 1 + 1 + 1);
    expect(printed).toContain('class="flag">1, 2</text>');
    expect(printed).toMatch(/<ol><li>Light or wrong spring/);
    expect(printed).toContain("readings that speak for findings in diamonds: 1; 1, 2; 2; 2");
    expect(sheetHtml(buildSheet(runDocuments, options))).not.toContain("speaks for the finding");
  });
});
