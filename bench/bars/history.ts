// Bar: the history of one unit among a million records, heads and curves, without raw lines, in either database.
import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Bar, beside, type Figure } from "../../accuracy/bar.ts";
import type { EndDocument, StartDocument } from "../../core/documents.ts";
import type { Asked } from "../../server/store/asked.ts";
import { DATABASE_FILE, Database } from "../../server/store/database.ts";
import { PostgresDatabase } from "../../server/store/postgres.ts";
import { openStore } from "../../server/store/store.ts";
import { Cluster } from "../cluster.ts";
import { everydayRun } from "../everyday.ts";

const LIMIT_MS = 50;
const ASKED_FOR = [
  { database: "SQLite", records: 20_000 },
  { database: "PostgreSQL", records: 20_000 },
  { database: "SQLite", records: 1_000_000 },
  { database: "PostgreSQL", records: 1_000_000 },
] as const;
const RECORDS_PER_UNIT = 10;
const AT_ONCE = 1000;
const ASKED = 500;

export interface HistoryResult {
  readonly database: "SQLite" | "PostgreSQL";
  readonly records: number;
  readonly bytes: number;
  /** By the clock, of all of them together. */
  readonly fillS: number;
  /** Milliseconds by the clock of each history asked for. */
  readonly askedMs: readonly number[];
}

async function job(index: number): Promise<HistoryResult> {
  const { database, records } = ASKED_FOR[index] as (typeof ASKED_FOR)[number];
  const folder = mkdtempSync(join(tmpdir(), "bobweight-bench-"));
  const cluster = database === "PostgreSQL" ? await Cluster.start(true) : null;
  try {
    const url = (await cluster?.newDatabase()) ?? null;
    const asked = url === null ? await Database.open(folder) : new PostgresDatabase(url);
    const fromMs = performance.now();
    await fill(asked, records);
    const fillS = (performance.now() - fromMs) / 1000;
    await asked.close();
    const bytes =
      url === null ? statSync(join(folder, DATABASE_FILE)).size : await sizeOf(cluster, url);
    return { database, records, bytes, fillS, askedMs: await ask(folder, url, records) };
  } finally {
    await cluster?.end();
    rmSync(folder, { recursive: true });
  }
}

async function sizeOf(cluster: Cluster | null, url: string): Promise<number> {
  const rows = await cluster?.query(url, "SELECT pg_database_size(current_database()) AS bytes");
  return Number(rows?.[0]?.bytes);
}

const idOf = (record: number) => `record-${String(record).padStart(9, "0")}`;

/** Units take turns, so that the records of one are spread over the whole file. */
async function fill(asked: Asked, records: number): Promise<void> {
  const { start, end } = await everydayRun();
  const units = records / RECORDS_PER_UNIT;
  const kept = JSON.stringify(withCurvesOnly(end));
  const [unitFile, plan, rig] = [start.unitFile, start.plan, start.rig].map((one) =>
    JSON.stringify(one),
  ) as [string, string, string];
  for (let from = 0; from < records; from += AT_ONCE) {
    const some = Array.from({ length: Math.min(AT_ONCE, records - from) }, (_, i) => from + i);
    await asked.atomically(async (db) => {
      const rows = some.map((i) => {
        const unit: StartDocument["unit"] = { ...start.unit, stampedNumber: `B ${i % units}` };
        return {
          id: idOf(i),
          started_utc: start.startedUtc,
          engine_version: start.engineVersion,
          expected_s: start.expectedS,
          unit_json: JSON.stringify(unit),
          unit_file_json: unitFile,
          plan_json: plan,
          rig_json: rig,
          after_record_id: null,
          bench_json: null,
        };
      });
      await db.insertInto("records").values(rows).execute();
      const endings = some.map((i) => ({
        record_id: idOf(i),
        ended_utc: end.endedUtc,
        ending: end.ending,
        verdict: end.result.verdict,
        document_json: kept,
      }));
      await db.insertInto("endings").values(endings).execute();
    });
  }
}

/** The curves' places, without the budget of each. */
function withCurvesOnly({ result, ...end }: EndDocument): unknown {
  const bare = (points: readonly { readonly x: number; readonly advanceDeg: number }[]) =>
    points.map(({ x, advanceDeg }) => ({ x, advanceDeg }));
  const { rising, falling } = result.speed;
  const capsules = result.capsules.map((one) => ({
    rising: bare(one.rising),
    falling: bare(one.falling),
  }));
  return {
    ...end,
    result: {
      verdict: result.verdict,
      speed: { rising: bare(rising), falling: bare(falling) },
      capsules,
    },
  };
}

async function ask(folder: string, url: string | null, records: number): Promise<number[]> {
  const store = await openStore(folder, url);
  const units = records / RECORDS_PER_UNIT;
  const askedMs: number[] = [];
  for (let i = 0; i < ASKED; i++) {
    // Far apart, so that none is in memory for the one before.
    const unit = Math.floor((i * units) / ASKED);
    const fromMs = performance.now();
    const found = await store.shelf.history(idOf(unit));
    askedMs.push(performance.now() - fromMs);
    if (found.length !== RECORDS_PER_UNIT)
      throw new Error(`${found.length} records of unit ${unit}`);
  }
  await store.close();
  return askedMs;
}

function figures(results: readonly HistoryResult[]): readonly Figure[] {
  return results.flatMap(({ database, records, bytes, fillS, askedMs }) => {
    const p95 = [...askedMs].sort((a, b) => a - b)[Math.floor(0.95 * askedMs.length)] as number;
    const among = records.toLocaleString("en");
    return [
      {
        what: `history of one unit among ${among} records in ${database}, 95 of 100`,
        measured: `${p95.toFixed(1)} ms`,
        limit: `≤ ${LIMIT_MS} ms`,
        count: askedMs.length,
        met: p95 <= LIMIT_MS,
      },
      beside(
        "… records put in a second",
        Math.round(records / fillS).toLocaleString("en"),
        records,
      ),
      beside("… on disk", `${(bytes / 1e9).toFixed(2)} GB`, records),
    ];
  });
}

export const history: Bar<HistoryResult> = {
  name: "history",
  counts: { short: 2, long: ASKED_FOR.length },
  alone: true,
  job,
  figures,
};
