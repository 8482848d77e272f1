// How the tables came to be, step by step. A step that has shipped is never changed; a new one is added.
import { type Kysely, type Migration, type MigrationProvider, sql } from "kysely";

type Schema = Kysely<unknown>;

/**
 * By which records are of the same unit: its description and stamped number, written just so wherever they are asked
 * for, since an index serves no other words. JSON paths are each database's own language.
 */
export const UNIT_KEYS = [
  sql<string>`json_extract(unit_json, '$.description')`,
  sql<string | null>`json_extract(unit_json, '$.stampedNumber')`,
] as const;

async function createTables(db: Schema): Promise<void> {
  await db.schema
    .createTable("records")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("started_utc", "text", (column) => column.notNull())
    .addColumn("engine_version", "text", (column) => column.notNull())
    .addColumn("expected_s", "double precision", (column) => column.notNull())
    .addColumn("unit_json", "text", (column) => column.notNull())
    .addColumn("unit_file_json", "text", (column) => column.notNull())
    .addColumn("plan_json", "text", (column) => column.notNull())
    .addColumn("rig_json", "text", (column) => column.notNull())
    .execute();
  await createSequenceTable(db, "documents", "document_json", "text");
  // PostgreSQL names the type of raw bytes bytea; this column is the one that differs there.
  await createSequenceTable(db, "raw_chunks", "bytes", "blob");
  await db.schema
    .createTable("endings")
    .addColumn("record_id", "text", (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("ended_utc", "text", (column) => column.notNull())
    .addColumn("ending", "text", (column) => column.notNull())
    .addColumn("verdict", "text")
    .addColumn("document_json", "text", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("units")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("added_utc", "text", (column) => column.notNull())
    .addColumn("file_text", "text", (column) => column.notNull())
    .execute();
}

async function createSequenceTable(
  db: Schema,
  name: string,
  content: string,
  contentType: "text" | "blob",
): Promise<void> {
  await db.schema
    .createTable(name)
    .addColumn("record_id", "text", (column) => column.notNull().references("records.id"))
    .addColumn("sequence", "integer", (column) => column.notNull())
    .addColumn(content, contentType, (column) => column.notNull())
    .addPrimaryKeyConstraint(`${name}_key`, ["record_id", "sequence"])
    .execute();
}

/**
 * Records are never edited, whoever opens the file: SQLite itself refuses. REPLACE deletes the old
 * row without firing a delete trigger, so an insert over a row that is there is refused as well.
 * Triggers are each database's own language; for PostgreSQL this step needs its counterpart.
 */
async function refuseEdits(db: Schema): Promise<void> {
  const sequenced = "record_id = NEW.record_id AND sequence = NEW.sequence";
  await refuseEditsOf(db, "records", "id = NEW.id");
  await refuseEditsOf(db, "documents", sequenced);
  await refuseEditsOf(db, "raw_chunks", sequenced);
  await refuseEditsOf(db, "endings", "record_id = NEW.record_id");
  for (const table of ["documents", "raw_chunks"]) {
    await sql`
      CREATE TRIGGER ${sql.raw(`${table}_closed`)} BEFORE INSERT ON ${sql.table(table)}
      WHEN EXISTS (SELECT 1 FROM endings WHERE record_id = NEW.record_id)
      BEGIN SELECT RAISE(ABORT, 'this record has ended'); END`.execute(db);
  }
}

async function refuseEditsOf(db: Schema, table: string, sameKey: string): Promise<void> {
  const refuse = sql.raw("BEGIN SELECT RAISE(ABORT, 'records are never edited'); END");
  for (const action of ["UPDATE", "DELETE"]) {
    await sql`
      CREATE TRIGGER ${sql.raw(`${table}_no_${action.toLowerCase()}`)}
      BEFORE ${sql.raw(action)} ON ${sql.table(table)} ${refuse}`.execute(db);
  }
  await sql`
    CREATE TRIGGER ${sql.raw(`${table}_no_replace`)} BEFORE INSERT ON ${sql.table(table)}
    WHEN EXISTS (SELECT 1 FROM ${sql.table(table)} WHERE ${sql.raw(sameKey)}) ${refuse}`.execute(
    db,
  );
}

/** An earlier record that a run follows; adding a column edits no row. */
async function addFollowing(db: Schema): Promise<void> {
  await db.schema
    .alterTable("records")
    .addColumn("after_record_id", "text", (column) => column.references("records.id"))
    .execute();
}

/**
 * Jobs. Every edit of a card is a further row and none is overwritten, so that each can be taken back;
 * a photo that is taken off stays, marked. Records go with a job by a row of their own, since records are
 * never edited.
 */
async function addJobs(db: Schema): Promise<void> {
  await db.schema
    .createTable("jobs")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("created_utc", "text", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("job_states")
    .addColumn("job_id", "text", (column) => column.notNull().references("jobs.id"))
    .addColumn("sequence", "integer", (column) => column.notNull())
    .addColumn("saved_utc", "text", (column) => column.notNull())
    .addColumn("archived", "integer", (column) => column.notNull())
    .addColumn("card_json", "text", (column) => column.notNull())
    .addColumn("restores", "integer")
    .addPrimaryKeyConstraint("job_states_key", ["job_id", "sequence"])
    .execute();
  await db.schema
    .createTable("job_photos")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("job_id", "text", (column) => column.notNull().references("jobs.id"))
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("type", "text", (column) => column.notNull())
    .addColumn("added_utc", "text", (column) => column.notNull())
    .addColumn("taken_off_utc", "text")
    .addColumn("bytes", "blob", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("job_records")
    .addColumn("record_id", "text", (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("job_id", "text", (column) => column.notNull().references("jobs.id"))
    .execute();
}

async function addKeptTexts(db: Schema): Promise<void> {
  await db.schema
    .createTable("kept_texts")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("kept_utc", "text", (column) => column.notNull())
    .addColumn("content", "text", (column) => column.notNull())
    .execute();
}

/** Notes and archive of records, which themselves are never edited. */
async function addShelf(db: Schema): Promise<void> {
  await db.schema
    .createTable("record_notes")
    .addColumn("id", "text", (column) => column.primaryKey().notNull())
    .addColumn("record_id", "text", (column) => column.notNull().references("records.id"))
    .addColumn("written_utc", "text", (column) => column.notNull())
    .addColumn("content", "text", (column) => column.notNull())
    .addColumn("taken_back_utc", "text")
    .execute();
  await db.schema
    .createTable("archived_records")
    .addColumn("record_id", "text", (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("archived_utc", "text", (column) => column.notNull())
    .execute();
}

/** An edited unit is a further row; the one before stays for whoever goes by it. */
async function addUnitVersions(db: Schema): Promise<void> {
  await db.schema
    .alterTable("units")
    .addColumn("replaces_id", "text", (column) => column.references("units.id"))
    .execute();
}

/** Of one unit's records, so that its history is found among a million. */
async function addUnitIndex(db: Schema): Promise<void> {
  const [description, stampedNumber] = UNIT_KEYS;
  await sql`CREATE INDEX records_of_unit ON records (${description}, ${stampedNumber}, id)`.execute(
    db,
  );
}

const migrations: Readonly<Record<string, Migration>> = {
  "0001-tables": {
    async up(db: Schema): Promise<void> {
      await createTables(db);
      await refuseEdits(db);
    },
  },
  "0002-following": { up: addFollowing },
  "0003-jobs": { up: addJobs },
  "0004-kept-texts": { up: addKeptTexts },
  "0005-shelf": { up: addShelf },
  "0006-unit-versions": { up: addUnitVersions },
  "0007-unit-index": { up: addUnitIndex },
};

export const migrationProvider: MigrationProvider = {
  getMigrations: () => Promise.resolve({ ...migrations }),
};
