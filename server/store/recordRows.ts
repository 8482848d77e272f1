// Rows of records: read with their endings, and what list and page make of them.

import type { EndDocument, RigDescription, StartDocument } from "../../core/documents.ts";
import { BobweightError } from "../../core/errors.ts";
import type { RecordHead } from "../../core/messages.ts";
import { hasOwnTarget } from "../../core/ownTarget.ts";
import { said } from "../../core/said.ts";
import type { Unit } from "../../core/unit.ts";
import type { Database } from "./database.ts";
import type { RecordsTable } from "./tables.ts";

export function recordRows({ build }: Database) {
  return build
    .selectFrom("records")
    .leftJoin("endings", "endings.record_id", "records.id")
    .selectAll("records")
    .select(["endings.ending", "endings.verdict", "endings.document_json as end_json"]);
}

/** Without the documents, which are long. */
export function headRows({ build }: Database) {
  return build
    .selectFrom("records")
    .leftJoin("endings", "endings.record_id", "records.id")
    .select(["records.id", "records.started_utc", "records.unit_json", "records.rig_json"])
    .select(["endings.ending", "endings.verdict"]);
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
  };
}

/** What a list shows, with the little of a row that it takes. */
export type HeadRow = Pick<
  RecordRow,
  "id" | "started_utc" | "unit_json" | "rig_json" | "ending" | "verdict"
>;

export function headFrom(row: HeadRow): RecordHead {
  const unit: Unit = JSON.parse(row.unit_json);
  const rig: RigDescription = JSON.parse(row.rig_json);
  return {
    id: row.id,
    startedUtc: row.started_utc,
    unitDescription: unit.description,
    stampedNumber: unit.stampedNumber,
    rigName: rig.name,
    simulated: rig.simulated,
    ownTarget: hasOwnTarget(unit),
    ending: row.ending as EndDocument["ending"] | null,
    verdict: row.verdict as RecordHead["verdict"],
  };
}

export function recordUnknown(id: string): BobweightError {
  return new BobweightError("RECORD_UNKNOWN", said("There is no record {}.", JSON.stringify(id)));
}
