// The tables as the query builder knows them. Times are UTC in ISO 8601, structured values are JSON text.

export interface Tables {
  records: RecordsTable;
  documents: DocumentsTable;
  raw_chunks: RawChunksTable;
  endings: EndingsTable;
  units: UnitsTable;
  jobs: JobsTable;
  job_states: JobStatesTable;
  job_photos: JobPhotosTable;
  job_records: JobRecordsTable;
  kept_texts: KeptTextsTable;
  record_notes: RecordNotesTable;
  archived_records: ArchivedRecordsTable;
}

/** One row a run, written before anything moves. */
export interface RecordsTable {
  id: string;
  started_utc: string;
  engine_version: string;
  expected_s: number;
  unit_json: string;
  unit_file_json: string;
  plan_json: string;
  /** Name, scenario, hello and calibration of the rig. */
  rig_json: string;
  /** The record that a change came after; null: it follows none. */
  after_record_id: string | null;
  /** Id and name of the bench; null: of a version that named none. */
  bench_json: string | null;
}

/** What the run produced between its start and its end, in order; live documents are left out. */
export interface DocumentsTable {
  record_id: string;
  sequence: number;
  document_json: string;
}

/** The bytes that came from the rig, deflated (zlib, RFC 1950), in order. */
export interface RawChunksTable {
  record_id: string;
  sequence: number;
  bytes: Uint8Array;
}

/** Written last, once. A record without this row runs still, or its program died. */
export interface EndingsTable {
  record_id: string;
  ended_utc: string;
  ending: string;
  verdict: string | null;
  /** The whole end document. */
  document_json: string;
}

/** Unit files on hand, as they were given. */
export interface UnitsTable {
  id: string;
  added_utc: string;
  file_text: string;
  /** The one that this is a new version of; null: of none. */
  replaces_id: string | null;
}

export interface JobsTable {
  id: string;
  created_utc: string;
}

/** One row an edit; the highest sequence is what holds. */
export interface JobStatesTable {
  job_id: string;
  sequence: number;
  saved_utc: string;
  archived: number;
  card_json: string;
  /** The sequence that an edit was taken back to; null: an edit. */
  restores: number | null;
}

export interface JobPhotosTable {
  id: string;
  job_id: string;
  name: string;
  /** Of the picture: image/jpeg … */
  type: string;
  added_utc: string;
  /** Null: it is on the job. */
  taken_off_utc: string | null;
  bytes: Uint8Array;
}

/** A record goes with one job at most. */
export interface JobRecordsTable {
  record_id: string;
  job_id: string;
}

/** Texts of the whole workshop, as its spring drawer; the newest of a name holds. */
export interface KeptTextsTable {
  id: string;
  name: string;
  kept_utc: string;
  content: string;
}

/** Records are never edited: what somebody writes on one has rows of its own. */
export interface RecordNotesTable {
  id: string;
  record_id: string;
  written_utc: string;
  content: string;
  /** Null: it counts. */
  taken_back_utc: string | null;
}

/** Records that lists leave out. */
export interface ArchivedRecordsTable {
  record_id: string;
  archived_utc: string;
}
