// Records to files and back: whole, proved, and never over what is on file.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { RunDocument, StartDocument } from "../../core/documents.ts";
import { bringRecordIn, inOrder, recordFileText } from "../../server/recordFile.ts";
import { newKey } from "../../server/store/keys.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { RECORD_ID, runDocuments } from "../sheet/fixture.ts";
import { codeOfPromise } from "./codes.ts";

let folder: string;
let here: Store;
let there: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-carry-"));
  here = await openStore(join(folder, "here"));
  there = await openStore(join(folder, "there"));
});

afterEach(async () => {
  await here.close();
  await there.close();
  rmSync(folder, { recursive: true });
});

const RAW = new Uint8Array([...Array(70_000).keys()].map((i) => i % 251));

function write(store: Store, start: Partial<StartDocument> = {}, isEnded = true): string {
  const [first, ...rest] = runDocuments as [StartDocument, ...RunDocument[]];
  const writer = store.begin({ ...first, ...start }, { nowMs: () => 0 });
  writer.raw(RAW);
  for (const document of rest) {
    if (document.type !== "end") writer.append(document as Parameters<typeof writer.append>[0]);
    else if (isEnded) writer.end(document);
  }
  return writer.recordId;
}

const file = async (store: Store, id: string) => JSON.parse(await recordFileText(store, id));

describe("a record", () => {
  it("comes to another store as it was, raw lines included, and the same file of it again", async () => {
    const id = write(here);
    const text = await recordFileText(here, id);
    expect(await bringRecordIn(there, JSON.parse(text), "f")).toEqual({
      recordId: id,
      wasThere: false,
    });
    expect(await there.record(id)).toEqual(await here.record(id));
    expect(Buffer.from(await there.rawLines(id)).equals(Buffer.from(RAW))).toBe(true);
    expect(await recordFileText(there, id)).toBe(text);
  });

  it("that is there already is left alone", async () => {
    const id = write(here);
    expect(await bringRecordIn(here, await file(here, id), "f")).toEqual({
      recordId: id,
      wasThere: true,
    });
  });

  it("with the id of another is refused, whether its documents or its raw lines differ", async () => {
    const id = write(here);
    const before = JSON.stringify(await here.record(id));
    write(there, { recordId: id, engineVersion: "9.9.9" });
    expect(await codeOfPromise(bringRecordIn(here, await file(there, id), "f"))).toBe(
      "RECORD_OTHER_CONTENT",
    );
    expect(JSON.stringify(await here.record(id))).toBe(before);
  });

  it("without end is not carried off", async () => {
    const id = write(here, { recordId: newKey() }, false);
    expect(await codeOfPromise(recordFileText(here, id))).toBe("RECORD_INCOMPLETE");
    expect(await codeOfPromise(recordFileText(here, newKey()))).toBe("RECORD_UNKNOWN");
  });

  it("that follows another comes after it", async () => {
    write(here);
    const second = write(here, { recordId: newKey(), afterRecordId: RECORD_ID });
    const files = [{ content: await file(here, second) }, { content: await file(here, RECORD_ID) }];
    expect(await codeOfPromise(bringRecordIn(there, files[0]?.content, "f"))).toBe(
      "RECORD_EARLIER_MISSING",
    );
    for (const { content } of inOrder(files)) await bringRecordIn(there, content, "f");
    expect(await there.hasRecord(second)).toBe(true);
  });

  it.each([
    ["a figure", (text: string) => text.replace('"advanceDeg":3.74', '"advanceDeg":3.75')],
    ["a raw byte", (text: string) => text.replace('deflatedBase64":"e', 'deflatedBase64":"f')],
    ["the length of its raw lines", (text: string) => text.replace('"bytes":70000', '"bytes":7')],
  ])("with %s changed is found out, and nothing of it is kept", async (_, change) => {
    const text = await recordFileText(here, write(here));
    const changed = change(text);
    expect(changed).not.toBe(text);
    expect(await codeOfPromise(bringRecordIn(there, JSON.parse(changed), "f"))).toBe(
      "RECORD_FILE_BROKEN",
    );
    expect(await there.hasRecord(RECORD_ID)).toBe(false);
  });

  it.each([
    ["no object", 7],
    ["no record file", { documents: [] }],
    ["another form", { bobweightRecordFile: 2 }],
  ])("that is %s names the field", async (_, content) => {
    expect(await codeOfPromise(bringRecordIn(there, content, "f"))).toBe("FILE_INVALID");
  });
});
