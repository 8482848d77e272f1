// A backup is the whole folder, proved; one that was changed is found out and never brought back.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { provedBackup, restoreBackup, writeBackup } from "../../server/store/backup.ts";
import { loadSqlite } from "../../server/store/sqlite.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { RECORD_ID, runDocuments, startDocument } from "../sheet/fixture.ts";
import { codeOfPromise } from "./codes.ts";

let folder: string;
let data: string;
let file: string;
let store: Store;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "bobweight-backup-"));
  data = join(folder, "data");
  file = join(folder, "kept.backup");
  store = await openStore(data);
  const writer = store.begin(startDocument, { nowMs: () => 0 });
  writer.raw(new TextEncoder().encode("a line\n"));
  for (const document of runDocuments) {
    if (document.type === "end") writer.end(document);
    else if (document.type !== "start") writer.append(document);
  }
  const job = await store.jobs.add({ ...EMPTY_CARD, owner: "A. Owner" });
  await store.jobs.attach(job, RECORD_ID);
  await store.jobs.addPhoto(job, { name: "a", type: "image/png", bytes: Buffer.from([1, 2, 3]) });
  writeFileSync(join(data, "bench.rig.json"), '{"name":"Bench"}');
});

afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true });
});

describe("a backup", () => {
  it("made while the store is in use brings everything back", async () => {
    const contents = { records: 1, jobs: 1, files: ["bench.rig.json"] };
    expect(await writeBackup(data, file)).toEqual(contents);
    const back = join(folder, "back");
    expect(await restoreBackup(file, back)).toEqual(contents);
    const again = await openStore(back);
    try {
      expect((await again.record(RECORD_ID)).documents).toEqual(
        (await store.record(RECORD_ID)).documents,
      );
      expect(Buffer.from(await again.rawLines(RECORD_ID)).toString()).toBe("a line\n");
      const [job] = await again.jobs.list({ search: "owner", archived: false });
      expect((await again.jobs.job(job?.id ?? "")).photos).toHaveLength(1);
      expect(() => again.begin(startDocument, { nowMs: () => 0 })).toThrow("never edited");
    } finally {
      await again.close();
    }
    expect(readFileSync(join(back, "bench.rig.json"), "utf8")).toBe('{"name":"Bench"}');
    expect(readdirSync(folder).sort()).toEqual(["back", "data", "kept.backup"]);
  });

  it("overwrites nothing: neither a file nor a folder in use", async () => {
    await writeBackup(data, file);
    expect(await codeOfPromise(writeBackup(data, file))).toBe("USAGE");
    expect(await codeOfPromise(restoreBackup(file, data))).toBe("USAGE");
    expect(await codeOfPromise(writeBackup(join(folder, "none"), join(folder, "b")))).toBe("USAGE");
  });

  it.each([
    ["a row changed", "UPDATE job_states SET card_json = replace(card_json, 'Owner', 'Other')"],
    ["a row gone", "DELETE FROM job_photos"],
    ["a row more", "INSERT INTO jobs VALUES ('x', 'y')"],
    ["a file changed", "UPDATE backup_files SET bytes = x'00'"],
    ["a table gone", "DROP TABLE kept_texts"],
    ["a table more", "CREATE TABLE more (a)"],
    ["no digests", "DELETE FROM backup_digests"],
  ])("with %s is found out, and nothing is brought back", async (_, change) => {
    await writeBackup(data, file);
    const database = new (await loadSqlite())(file);
    database.exec(change);
    database.close();
    expect(await codeOfPromise(provedBackup(file))).toBe("BACKUP_BROKEN");
    const back = join(folder, "back");
    expect(await codeOfPromise(restoreBackup(file, back))).toBe("BACKUP_BROKEN");
    expect(readdirSync(folder)).not.toContain("back");
  });

  it("cut short, or no backup at all, is found out", async () => {
    await writeBackup(data, file);
    const whole = readFileSync(file);
    for (const bytes of [whole.subarray(0, whole.length / 2), Buffer.from("{}"), Buffer.alloc(0)]) {
      writeFileSync(file, bytes);
      expect(await codeOfPromise(provedBackup(file))).toBe("BACKUP_BROKEN");
    }
    // A store is none either: it has no digests to hold it against.
    expect(await codeOfPromise(provedBackup(join(data, "bobweight.sqlite")))).toBe("BACKUP_BROKEN");
  });
});
