// What waits on a bench comes to the workshop's database once, whatever became of either.
import { copyFileSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import { Cluster } from "../../bench/cluster.ts";
import { EMPTY_CARD } from "../../core/jobs/card.ts";
import { FIRST_SETTINGS } from "../../core/settings/settings.ts";
import { keepSettings, keptSettings } from "../../server/settings.ts";
import { newKey } from "../../server/store/keys.ts";
import { openStore, type Store } from "../../server/store/store.ts";
import { endDocument, holdDocument, startDocument } from "../sheet/fixture.ts";
import { codeOfPromise } from "./codes.ts";

let cluster: Cluster;
let url: string;
let folder: string;
let bench: Store;

beforeAll(async () => {
  cluster = await Cluster.start();
}, 60_000);

afterAll(() => cluster.end());

beforeEach(async () => {
  url = await cluster.newDatabase();
  folder = mkdtempSync(join(tmpdir(), "bobweight-hand-over-"));
  bench = await openStore(folder, url);
  await bench.handOver?.wake();
});

afterEach(async () => {
  await bench.close();
  rmSync(folder, { recursive: true });
});

function write(isEnded = true, begun: Partial<typeof startDocument> = {}): string {
  const recordId = newKey();
  const startedUtc = new Date().toISOString();
  const writer = bench.begin(
    { ...startDocument, startedUtc, ...begun, recordId },
    { nowMs: () => 0 },
  );
  writer.append(holdDocument);
  writer.raw(new TextEncoder().encode("a line\n"));
  if (isEnded) writer.end(endDocument);
  return recordId;
}

/** Ids in the database, as somebody sees them who knows nothing of the bench. */
async function inDatabase(table = "records", column = "id"): Promise<unknown[]> {
  const rows = await cluster.query(url, `SELECT ${column} FROM ${table} ORDER BY 1`);
  return rows.map((row) => row[column]);
}

it("comes over at its end, whole, and is on the bench no more", async () => {
  const id = write();
  await bench.handOver?.wake();
  const desk = await openStore(join(folder, "desk"), url);
  expect((await desk.record(id)).documents).toEqual((await bench.record(id)).documents);
  expect(Buffer.from(await desk.rawLines(id)).toString()).toBe("a line\n");
  await desk.close();
  await cluster.kill();
  expect(await codeOfPromise(bench.record(id))).toBe("DATABASE_AWAY");
  await cluster.comeBack();
});

it("waits while the database is away, is read on the bench meanwhile, and comes over by itself", async () => {
  await cluster.kill();
  const ids = [write(), write()];
  await bench.handOver?.wake();
  expect(bench.handOver?.now()).toMatchObject({ waiting: 2, trouble: { code: "DATABASE_AWAY" } });
  expect((await bench.record(ids[0] as string)).documents).toHaveLength(3);
  const told = new Promise<void>((resolve) =>
    bench.handOver?.onChange(({ waiting }) => waiting === 0 && resolve()),
  );
  await cluster.comeBack();
  await told;
  expect(bench.handOver?.now()).toEqual({ waiting: 0, trouble: null });
  expect(await inDatabase()).toEqual(ids);
});

it("is there once where it came over and nobody on the bench learnt of it", async () => {
  await cluster.kill();
  const id = write();
  await bench.close();
  const kept = join(folder, "kept");
  const files = ["outbox.sqlite", "outbox.sqlite-wal"];
  for (const name of files.filter((one) => existsSync(join(folder, one)))) {
    copyFileSync(join(folder, name), `${kept}-${name}`);
  }
  await cluster.comeBack();
  bench = await openStore(folder, url);
  await bench.close();
  expect(await inDatabase()).toEqual([id]);
  // As if the power had gone between the database's word and the bench's own file.
  for (const name of files) rmSync(join(folder, name), { force: true });
  for (const name of files.filter((one) => existsSync(`${kept}-${one}`))) {
    copyFileSync(`${kept}-${name}`, join(folder, name));
  }
  bench = await openStore(folder, url);
  await bench.handOver?.wake();
  expect(bench.handOver?.now()).toEqual({ waiting: 0, trouble: null });
  expect([await inDatabase(), await inDatabase("documents", "record_id")]).toEqual([[id], [id]]);
});

it("with the id of another stays on the bench, said so, and keeps no other back", async () => {
  await cluster.kill();
  const [first, second] = [write(), write()];
  await cluster.comeBack();
  const desk = await openStore(join(folder, "desk"), url);
  const start = { ...startDocument, recordId: first };
  await desk.bringIn({ start, middle: [], end: endDocument, raw: new Uint8Array() });
  await desk.close();
  await bench.handOver?.wake();
  expect(bench.handOver?.now()).toMatchObject({
    waiting: 1,
    trouble: { code: "RECORD_OTHER_CONTENT" },
  });
  expect(await inDatabase()).toEqual([first, second]);
});

it("of a run that was broken off comes as far as it got, and as it goes on", async () => {
  const broken = write(false);
  const writer = bench.begin({ ...startDocument, recordId: newKey() }, { nowMs: () => 0 });
  await bench.handOver?.wake();
  expect(await inDatabase("documents", "record_id")).toEqual([broken]);
  writer.append(holdDocument);
  writer.end(endDocument);
  await bench.handOver?.wake();
  expect(await inDatabase("endings", "record_id")).toEqual([writer.recordId]);
  expect(await inDatabase("documents", "record_id")).toEqual([broken, writer.recordId]);
});

it("goes with its job, and knows its bench", async () => {
  const jobId = await bench.jobs.add(EMPTY_CARD);
  const recordId = newKey();
  const start = { ...startDocument, recordId, bench: bench.bench };
  await cluster.kill();
  await bench.jobs.known(jobId);
  bench.begin(start, { nowMs: () => 0 }, jobId).end(endDocument);
  await cluster.comeBack();
  await bench.handOver?.wake();
  expect((await bench.jobs.job(jobId)).records.map(({ id }) => id)).toEqual([recordId]);
  expect((await bench.record(recordId)).documents[0]).toMatchObject({ bench: bench.bench });
  await bench.close();
  bench = await openStore(folder, url);
  expect(bench.bench).toEqual(start.bench);
});

it("has what starts a run while the database is away: settings and units as last seen", async () => {
  await keepSettings(bench, { ...FIRST_SETTINGS, language: "de" });
  await bench.units.add("a unit");
  const units = () => bench.lastSeen("units", () => bench.units.current());
  const seen = await units();
  await keptSettings(bench);
  await cluster.kill();
  expect(await units()).toEqual(seen);
  expect((await keptSettings(bench)).language).toBe("de");
  expect(await codeOfPromise(bench.units.current())).toBe("DATABASE_AWAY");
  await cluster.comeBack();
});
