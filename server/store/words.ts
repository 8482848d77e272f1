// What SQLite and PostgreSQL say differently; everything else is the same to both.

import {
  type Kysely,
  PostgresAdapter,
  type QueryExecutorProvider,
  type RawBuilder,
  sql,
} from "kysely";

export interface Words {
  /** Types of columns. Texts sort by their bytes, whatever the database's language is. */
  readonly text: "text" | RawBuilder<unknown>;
  readonly bytes: "blob" | "bytea";
  /** Of a record's unit, just so wherever they are asked for, since an index serves no other words. */
  readonly unitKeys: readonly [RawBuilder<unknown>, RawBuilder<unknown>];
  /** What a unit key is compared with. */
  unitKey(value: string | null): string | null;
  /** An ending's readings over speed, as JSON. */
  readonly speedOfEnding: RawBuilder<string | null>;
  /** Makes the database itself refuse edits. */
  refuseEdits(db: Kysely<unknown>, tables: Readonly<Record<string, string>>): Promise<void>;
  /** … and rows of these tables for a record that has ended. */
  refuseAfterEnd(db: Kysely<unknown>, tables: readonly string[]): Promise<void>;
}

/** REPLACE deletes the old row without firing a delete trigger, so an insert over a row that is there is refused too. */
const SQLITE: Words = {
  text: "text",
  bytes: "blob",
  unitKeys: [
    sql`json_extract(unit_json, '$.description')`,
    sql`json_extract(unit_json, '$.stampedNumber')`,
  ],
  unitKey: (value) => value,
  speedOfEnding: sql`json_extract(endings.document_json, '$.result.speed')`,
  async refuseEdits(db, tables) {
    const refuse = sql.raw("BEGIN SELECT RAISE(ABORT, 'records are never edited'); END");
    for (const [table, sameKey] of Object.entries(tables)) {
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
  },
  async refuseAfterEnd(db, tables) {
    for (const table of tables) {
      await sql`
        CREATE TRIGGER ${sql.raw(`${table}_closed`)} BEFORE INSERT ON ${sql.table(table)}
        WHEN EXISTS (SELECT 1 FROM endings WHERE record_id = NEW.record_id)
        BEGIN SELECT RAISE(ABORT, 'this record has ended'); END`.execute(db);
    }
  },
};

/** Keys are compared as JSON, which any text can be, also one that PostgreSQL's own texts cannot hold. */
const POSTGRES: Words = {
  text: sql`text collate "C"`,
  bytes: "bytea",
  unitKeys: [
    sql`((unit_json::json -> 'description')::text)`,
    sql`((unit_json::json -> 'stampedNumber')::text)`,
  ],
  unitKey: (value) => JSON.stringify(value),
  speedOfEnding: sql`(endings.document_json::json #> '{result,speed}')::text`,
  async refuseEdits(db, tables) {
    await sql`
      CREATE FUNCTION never_edited() RETURNS trigger LANGUAGE plpgsql AS
      $$ BEGIN RAISE EXCEPTION 'records are never edited'; END $$`.execute(db);
    for (const table of Object.keys(tables)) {
      await sql`
        CREATE TRIGGER ${sql.raw(`${table}_no_edit`)} BEFORE UPDATE OR DELETE OR TRUNCATE
        ON ${sql.table(table)} EXECUTE FUNCTION never_edited()`.execute(db);
    }
  },
  async refuseAfterEnd(db, tables) {
    await sql`
      CREATE FUNCTION record_ended() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
        IF EXISTS (SELECT 1 FROM endings WHERE record_id = NEW.record_id) THEN
          RAISE EXCEPTION 'this record has ended';
        END IF;
        RETURN NEW;
      END $$`.execute(db);
    for (const table of tables) {
      await sql`
        CREATE TRIGGER ${sql.raw(`${table}_closed`)} BEFORE INSERT ON ${sql.table(table)}
        FOR EACH ROW EXECUTE FUNCTION record_ended()`.execute(db);
    }
  },
};

export function wordsOf(db: QueryExecutorProvider): Words {
  return db.getExecutor().adapter instanceof PostgresAdapter ? POSTGRES : SQLITE;
}
