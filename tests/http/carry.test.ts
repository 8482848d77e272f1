// What is carried off and brought in over the routes: records, and the whole folder as a backup.

import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BACKUP_TYPE, type MadeBackup, type Restored } from "../../core/backup.ts";
import { GERMAN } from "../../core/speech/german.ts";
import { toldText } from "../../core/told.ts";
import { openStore } from "../../server/store/store.ts";
import { RECORD_ID, runDocuments, startDocument } from "../sheet/fixture.ts";
import { Page, type Served, serve, startMessage } from "./served.ts";

let served: Served;

beforeAll(async () => {
  served = await serve({ page: false });
  const writer = served.store.begin(startDocument, { nowMs: () => 0 });
  for (const document of runDocuments) {
    if (document.type === "end") writer.end(document);
    else if (document.type !== "start") writer.append(document);
  }
});

afterAll(() => served.close());

async function post(path: string, body: Uint8Array | string, type = "application/json") {
  const response = await served.fetch(path, { method: "POST", type, body });
  return { status: response.status, body: await response.json() };
}

async function carriedOff(path: string): Promise<Uint8Array> {
  return new Uint8Array(await (await served.fetch(path)).arrayBuffer());
}

describe("a record", () => {
  it("is carried off, and there already when it comes back; changed it is refused", async () => {
    const file = await carriedOff(`/records/${RECORD_ID}/whole.record.json`);
    const again = await post("/api/records?name=a.record.json", file);
    expect([again.status, again.body]).toEqual([200, { recordId: RECORD_ID, wasThere: true }]);
    const changed = new TextDecoder().decode(file).replace('"completed"', '"stopped"');
    const refused = await post("/api/records?name=a.record.json", changed);
    expect([refused.status, refused.body.code]).toEqual([400, "RECORD_FILE_BROKEN"]);
    expect(refused.body.text).toContain("a.record.json is no whole record");
  });
});

describe("a backup", () => {
  it("is made, carried off, and brought back beside the folder in use", async () => {
    const made = (await post("/api/backup", "{}")).body as MadeBackup;
    expect(made.contents).toEqual({ records: 1, jobs: 0, files: [] });
    const bytes = await carriedOff(`/backups/${made.name}`);
    expect(bytes.length).toBe(made.bytes);
    const back = await post("/api/restore", bytes, BACKUP_TYPE);
    expect(back.status).toBe(201);
    const { folder, command } = back.body as Restored;
    expect(command).toBe(`npx bobweight serve --data "${folder}"`);
    const store = await openStore(folder);
    expect(await store.hasRecord(RECORD_ID)).toBe(true);
    await store.close();
    rmSync(folder, { recursive: true });
  });

  it("cut short is refused, and leaves no folder", async () => {
    const made = (await post("/api/backup", "{}")).body as MadeBackup;
    const bytes = await carriedOff(`/backups/${made.name}`);
    const cut = await post("/api/restore", bytes.slice(0, 9000), BACKUP_TYPE);
    expect([cut.status, cut.body.code]).toEqual([400, "BACKUP_BROKEN"]);
    expect(toldText(cut.body, GERMAN)).toMatch(
      /ist keine vollständige Sicherung: .*\. Eine andere Sicherung nehmen; diese wird nicht zurückgeholt\.$/,
    );
    const json = await post("/api/restore", "{}");
    expect([json.status, json.body.code]).toEqual([400, "REQUEST_REFUSED"]);
  });

  it.each(["..%2fbobweight.sqlite", "bobweight.sqlite", "bobweight-2031-01-01-00-00-00.backup"])(
    "named %s is none",
    async (name) => {
      const response = await served.fetch(`/backups/${name}`);
      expect([400, 404]).toContain(response.status);
      expect((await response.json()).code).toBe("REQUEST_REFUSED");
    },
  );

  it("waits for the end of a run, as records from files do", async () => {
    const page = await Page.open(served);
    page.say(startMessage);
    await page.status("you");
    for (const path of ["/api/backup", "/api/records"]) {
      const refused = await post(path, "{}");
      expect([path, refused.status, refused.body.code]).toEqual([path, 409, "RIG_BUSY"]);
    }
    const restore = await post("/api/restore", new Uint8Array(8), BACKUP_TYPE);
    expect([restore.status, restore.body.code]).toEqual([409, "RIG_BUSY"]);
    page.say({ type: "stop" });
    await page.status("free");
    page.socket.close();
  });
});
