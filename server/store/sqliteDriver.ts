// One SQLite connection, spoken to in both ways: at once by the run that is on, and by kysely for everything else.
//
// kysely awaits between the statements of a transaction, and a run's write neither waits nor may become part of
// it: it would be undone with it. So such a write takes an open transaction back, and whoever began it does it over.

import type Sqlite from "better-sqlite3";
import {
  type CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  type Driver,
  type QueryResult,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from "kysely";

/** A run wrote while this transaction was open. */
export class Interrupted extends Error {}

export class SqliteDriver implements Driver, DatabaseConnection {
  private readonly sqlite: Sqlite.Database;
  private readonly statements = new Map<string, Sqlite.Statement>();
  /** Settles when whoever has the connection gives it back. */
  private turn: Promise<void> = Promise.resolve();
  private giveBack: () => void = () => {};
  private wasInterrupted = false;

  constructor(sqlite: Sqlite.Database) {
    this.sqlite = sqlite;
  }

  dialect(): Dialect {
    return {
      createAdapter: () => new SqliteAdapter(),
      createDriver: () => this,
      createIntrospector: (db) => new SqliteIntrospector(db),
      createQueryCompiler: () => new SqliteQueryCompiler(),
    };
  }

  /** All of `write` or none of it, on disk when this returns, whatever else is going on. */
  now(write: () => void): void {
    if (this.sqlite.inTransaction) {
      this.sqlite.exec("ROLLBACK");
      this.wasInterrupted = true;
    }
    this.sqlite.transaction(write)();
  }

  run({ sql, parameters }: CompiledQuery): void {
    this.statement(sql).run(...parameters);
  }

  async init(): Promise<void> {}

  async acquireConnection(): Promise<DatabaseConnection> {
    const before = this.turn;
    let giveBack = () => {};
    this.turn = new Promise((resolve) => {
      giveBack = resolve;
    });
    await before;
    this.giveBack = giveBack;
    return this;
  }

  async releaseConnection(): Promise<void> {
    this.giveBack();
  }

  /** At once with the right to write: what is read here is still so when it writes. */
  async beginTransaction(): Promise<void> {
    this.wasInterrupted = false;
    this.sqlite.exec("BEGIN IMMEDIATE");
  }

  async commitTransaction(): Promise<void> {
    this.refuseInterrupted();
    this.sqlite.exec("COMMIT");
  }

  async rollbackTransaction(): Promise<void> {
    this.wasInterrupted = false;
    if (this.sqlite.inTransaction) this.sqlite.exec("ROLLBACK");
  }

  async executeQuery<Row>({ sql, parameters }: CompiledQuery): Promise<QueryResult<Row>> {
    this.refuseInterrupted();
    const statement = this.statement(sql);
    if (statement.reader) return { rows: statement.all(...parameters) as Row[] };
    const { changes } = statement.run(...parameters);
    return { rows: [], numAffectedRows: BigInt(changes) };
  }

  async *streamQuery<Row>({
    sql,
    parameters,
  }: CompiledQuery): AsyncIterableIterator<QueryResult<Row>> {
    for (const row of this.sqlite.prepare(sql).iterate(...parameters)) yield { rows: [row as Row] };
  }

  /** The file is closed by whoever opened it. */
  async destroy(): Promise<void> {}

  private refuseInterrupted(): void {
    if (this.wasInterrupted) throw new Interrupted("a run wrote meanwhile");
  }

  private statement(sql: string): Sqlite.Statement {
    const known = this.statements.get(sql);
    if (known !== undefined) return known;
    const statement = this.sqlite.prepare(sql);
    this.statements.set(sql, statement);
    return statement;
  }
}
