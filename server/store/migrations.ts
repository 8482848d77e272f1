// How the tables came to be, step by step. A step that has shipped is never changed; a new one is added.
import { type Kysely, type Migration, type MigrationProvider, sql } from "kysely";
import { type Words, wordsOf } from "./words.ts";

type Schema = Kysely<unknown>;

async function createTables(db: Schema): Promise<void> {
  const { text, bytes } = wordsOf(db);
  await db.schema
    .createTable("records")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("started_utc", text, (column) => column.notNull())
    .addColumn("engine_version", text, (column) => column.notNull())
    .addColumn("expected_s", "double precision", (column) => column.notNull())
    .addColumn("unit_json", text, (column) => column.notNull())
    .addColumn("unit_file_json", text, (column) => column.notNull())
    .addColumn("plan_json", text, (column) => column.notNull())
    .addColumn("rig_json", text, (column) => column.notNull())
    .execute();
  await createSequenceTable(db, "documents", "document_json", text);
  await createSequenceTable(db, "raw_chunks", "bytes", bytes);
  await db.schema
    .createTable("endings")
    .addColumn("record_id", text, (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("ended_utc", text, (column) => column.notNull())
    .addColumn("ending", text, (column) => column.notNull())
    .addColumn("verdict", text)
    .addColumn("document_json", text, (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("units")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("added_utc", text, (column) => column.notNull())
    .addColumn("file_text", text, (column) => column.notNull())
    .execute();
}

async function createSequenceTable(
  db: Schema,
  name: string,
  content: string,
  contentType: Words["text"] | Words["bytes"],
): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema
    .createTable(name)
    .addColumn("record_id", text, (column) => column.notNull().references("records.id"))
    .addColumn("sequence", "integer", (column) => column.notNull())
    .addColumn(content, contentType, (column) => column.notNull())
    .addPrimaryKeyConstraint(`${name}_key`, ["record_id", "sequence"])
    .execute();
}

/** Records are never edited, whoever opens the database: it refuses by itself. */
async function refuseEdits(db: Schema): Promise<void> {
  const sequenced = "record_id = NEW.record_id AND sequence = NEW.sequence";
  const words = wordsOf(db);
  await words.refuseEdits(db, {
    records: "id = NEW.id",
    documents: sequenced,
    raw_chunks: sequenced,
    endings: "record_id = NEW.record_id",
  });
  await words.refuseAfterEnd(db, ["documents", "raw_chunks"]);
}

/** An earlier record that a run follows; adding a column edits no row. */
async function addFollowing(db: Schema): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema
    .alterTable("records")
    .addColumn("after_record_id", text, (column) => column.references("records.id"))
    .execute();
}

/**
 * Jobs. Every edit of a card is a further row and none is overwritten, so that each can be taken back;
 * a photo that is taken off stays, marked. Records go with a job by a row of their own, since records are
 * never edited.
 */
async function addJobs(db: Schema): Promise<void> {
  const { text, bytes } = wordsOf(db);
  await db.schema
    .createTable("jobs")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("created_utc", text, (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("job_states")
    .addColumn("job_id", text, (column) => column.notNull().references("jobs.id"))
    .addColumn("sequence", "integer", (column) => column.notNull())
    .addColumn("saved_utc", text, (column) => column.notNull())
    .addColumn("archived", "integer", (column) => column.notNull())
    .addColumn("card_json", text, (column) => column.notNull())
    .addColumn("restores", "integer")
    .addPrimaryKeyConstraint("job_states_key", ["job_id", "sequence"])
    .execute();
  await db.schema
    .createTable("job_photos")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("job_id", text, (column) => column.notNull().references("jobs.id"))
    .addColumn("name", text, (column) => column.notNull())
    .addColumn("type", text, (column) => column.notNull())
    .addColumn("added_utc", text, (column) => column.notNull())
    .addColumn("taken_off_utc", text)
    .addColumn("bytes", bytes, (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("job_records")
    .addColumn("record_id", text, (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("job_id", text, (column) => column.notNull().references("jobs.id"))
    .execute();
}

async function addKeptTexts(db: Schema): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema
    .createTable("kept_texts")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("name", text, (column) => column.notNull())
    .addColumn("kept_utc", text, (column) => column.notNull())
    .addColumn("content", text, (column) => column.notNull())
    .execute();
}

/** Notes and archive of records, which themselves are never edited. */
async function addShelf(db: Schema): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema
    .createTable("record_notes")
    .addColumn("id", text, (column) => column.primaryKey().notNull())
    .addColumn("record_id", text, (column) => column.notNull().references("records.id"))
    .addColumn("written_utc", text, (column) => column.notNull())
    .addColumn("content", text, (column) => column.notNull())
    .addColumn("taken_back_utc", text)
    .execute();
  await db.schema
    .createTable("archived_records")
    .addColumn("record_id", text, (column) =>
      column.primaryKey().notNull().references("records.id"),
    )
    .addColumn("archived_utc", text, (column) => column.notNull())
    .execute();
}

/** An edited unit is a further row; the one before stays for whoever goes by it. */
async function addUnitVersions(db: Schema): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema
    .alterTable("units")
    .addColumn("replaces_id", text, (column) => column.references("units.id"))
    .execute();
}

/** Of one unit's records, so that its history is found among a million. */
async function addUnitIndex(db: Schema): Promise<void> {
  const [description, stampedNumber] = wordsOf(db).unitKeys;
  await sql`CREATE INDEX records_of_unit ON records (${description}, ${stampedNumber}, id)`.execute(
    db,
  );
}

/** The bench that a record was made on; none on records that were made before benches had names. */
async function addBench(db: Schema): Promise<void> {
  const { text } = wordsOf(db);
  await db.schema.alterTable("records").addColumn("bench_json", text).execute();
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
  "0008-bench": { up: addBench },
};

export const migrationProvider: MigrationProvider = {
  getMigrations: () => Promise.resolve({ ...migrations }),
};
