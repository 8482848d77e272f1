// A record that version 0.1.0 kept: read back, shown, printed and judged by this one.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { EndDocument, RunDocument, StartDocument } from "../../core/documents.ts";
import { judge } from "../../core/judge/result.ts";
import { broughtUp } from "../../core/olderRecords.ts";
import { budgetText } from "../../core/sheet/budgetText.ts";
import { curvesCsv } from "../../core/sheet/csv.ts";
import { sheetHtml } from "../../core/sheet/html.ts";
import { buildSheet } from "../../core/sheet/sheet.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { mergeAll } from "../../web/src/runView.ts";
import { runDocuments } from "../sheet/fixture.ts";

const kept: readonly RunDocument[] = JSON.parse(
  readFileSync(new URL("record-0.1.0.json", import.meta.url), "utf8"),
).documents;

describe("a record of version 0.1.0", () => {
  let folder: string;
  let store: Store;
  let documents: readonly RunDocument[];

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "bobweight-older-"));
    store = await openStore(folder);
    const [start, ...rest] = kept as [StartDocument, ...RunDocument[]];
    const writer = store.begin(start, { nowMs: () => 0 });
    for (const document of rest) {
      if (document.type === "end") writer.end(document);
      else if (document.type !== "start") writer.append(document);
    }
    documents = (await store.record(start.recordId)).documents;
  });

  afterAll(async () => {
    await store.close();
    rmSync(folder, { recursive: true });
  });

  it("lacks what this version keeps, and has it when read", () => {
    const first = (all: readonly RunDocument[]) => all.find((one) => one.type === "point")?.reading;
    expect(first(kept)).not.toHaveProperty("budget");
    const reading = first(documents);
    expect(reading?.budget).toEqual([
      {
        name: "together",
        standardUncertainty: reading?.standardUncertaintyDeg,
        degreesOfFreedom: null,
        shape: "normal",
        shared: false,
      },
    ]);
    expect(reading).toMatchObject({ ...first(kept), coverageFactor: 2 });
    expect(reading?.lobes).toHaveLength(4);
    expect((documents[0] as StartDocument).unit.contactSets).toBeNull();
    expect(kept[0]).not.toHaveProperty("afterRecordId");
    expect((documents[0] as StartDocument).afterRecordId).toBeNull();
  });

  it("is printed with the figures it was kept with", () => {
    const html = sheetHtml(buildSheet(documents, { paper: "a4", vacuumUnit: "kPa" }));
    expect(html).toContain("Within specification");
    expect(html).toContain("Bobweight 0.1.0");
    expect(html).toContain("7.81 ± 0.01°: within");
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
    expect(curvesCsv(documents)).not.toMatch(/NaN|undefined/);
    expect(budgetText(documents, 800)).toContain("did not keep them apart");
  });

  it("is shown on the page", () => {
    const { end, points } = mergeAll(documents);
    expect(end?.result.trigger.missing.overVacuum).toEqual([null]);
    expect(points).toHaveLength(14);
  });

  it("is judged again as it was, and claims nothing more of the trigger", () => {
    const { unit } = documents[0] as StartDocument;
    const recorded = documents.at(-1) as EndDocument;
    const again = judge(unit, documents);
    expect(again.rows.map(({ verdict }) => verdict)).toEqual(
      recorded.result.rows.map(({ verdict }) => verdict),
    );
    expect(again.trigger).toMatchObject({ bounce: null, scatter: null });
  });
});

it("leaves a record of this version as it is, to the letter", () => {
  expect(JSON.stringify(broughtUp(runDocuments))).toBe(JSON.stringify(runDocuments));
});
