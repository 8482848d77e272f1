// Rows of records: read with their endings, and what list and page make of them.

import { deflateSync } from "node:zlib";
import type {
  BenchName,
  EndDocument,
  RigDescription,
  RunDocument,
  StartDocument,
} from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { hasOwnTarget } from "../../core/ownTarget.ts";
import { said } from "../../core/said.ts";
import type { Unit } from "../../core/unit.ts";
import type { Tabled } from "./asked.ts";
import type { DocumentsTable, EndingsTable, RawChunksTable, RecordsTable } from "./tables.ts";

export function recordRows(db: Tabled) {
  return db
    .selectFrom("records")
    .leftJoin("endings", "endings.record_id", "records.id")
    .selectAll("records")
    .select(["endings.ending", "endings.verdict", "endings.document_json as end_json"]);
}

/** Without the documents, which are long. */
export function headRows(db: Tabled) {
  return db
    .selectFrom("records")
    .leftJoin("endings", "endings.record_id", "records.id")
    .select(["records.id", "records.started_utc", "records.unit_json", "records.rig_json"])
    .select(["records.bench_json", "endings.ending", "endings.verdict"]);
}

export function recordRow(start: StartDocument): RecordsTable {
  return {
    id: start.recordId,
    started_utc: start.startedUtc,
    engine_version: start.engineVersion,
    expected_s: start.expectedS,
    unit_json: JSON.stringify(start.unit),
    unit_file_json: JSON.stringify(start.unitFile),
    plan_json: JSON.stringify(start.plan),
    rig_json: JSON.stringify(start.rig),
    // A start as an older version wrote it has no such field.
    after_record_id: start.afterRecordId ?? null,
    bench_json: start.bench === undefined ? null : JSON.stringify(start.bench),
  };
}

export function documentRow(
  recordId: string,
  sequence: number,
  document: RunDocument,
): DocumentsTable {
  return { record_id: recordId, sequence, document_json: JSON.stringify(document) };
}

export function chunkRow(recordId: string, sequence: number, bytes: Uint8Array): RawChunksTable {
  return { record_id: recordId, sequence, bytes: deflateSync(bytes) };
}

export function endingRow(recordId: string, document: EndDocument): EndingsTable {
  return {
    record_id: recordId,
    ended_utc: document.endedUtc,
    ending: document.ending,
    verdict: document.result.verdict,
    document_json: JSON.stringify(document),
  };
}

export interface RecordRow extends RecordsTable {
  readonly ending: string | null;
  readonly verdict: string | null;
  readonly end_json: string | null;
}

export function startFrom(row: RecordRow): StartDocument {
  return {
    type: "start",
    recordId: row.id,
    startedUtc: row.started_utc,
    unit: JSON.parse(row.unit_json),
    unitFile: JSON.parse(row.unit_file_json),
    plan: JSON.parse(row.plan_json),
    rig: JSON.parse(row.rig_json),
    engineVersion: row.engine_version,
    expectedS: row.expected_s,
    afterRecordId: row.after_record_id,
    ...(row.bench_json === null ? {} : { bench: JSON.parse(row.bench_json) }),
  };
}

/** What a list shows, with the little of a row that it takes. */
export type HeadRow = Pick<
  RecordRow,
  "id" | "started_utc" | "unit_json" | "rig_json" | "bench_json" | "ending" | "verdict"
>;

export function headFrom(row: HeadRow): RecordHead {
  const unit: Unit = JSON.parse(row.unit_json);
  const rig: RigDescription = JSON.parse(row.rig_json);
  const bench: BenchName | null = row.bench_json === null ? null : JSON.parse(row.bench_json);
  return {
    id: row.id,
    startedUtc: row.started_utc,
    unitDescription: unit.description,
    stampedNumber: unit.stampedNumber,
    rigName: rig.name,
    benchName: bench?.name ?? null,
    simulated: rig.simulated,
    ownTarget: hasOwnTarget(unit),
    ending: row.ending as EndDocument["ending"] | null,
    verdict: row.verdict as RecordHead["verdict"],
  };
}

export function recordUnknown(id: string): BobweightError {
  return new BobweightError("RECORD_UNKNOWN", said("There is no record {}.", JSON.stringify(id)));
}

/** The oldest first. @throws RECORD_UNKNOWN where one of them is none */
export async function headsOf(db: Tabled, ids: readonly string[]): Promise<RecordHead[]> {
  if (ids.length === 0) return [];
  const rows = await headRows(db).where("records.id", "in", ids).orderBy("records.id").execute();
  const missing = ids.find((id) => !rows.some((row) => row.id === id));
  if (missing !== undefined) throw recordUnknown(missing);
  return rows.map(headFrom);
}
