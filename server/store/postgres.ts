// A workshop's own PostgreSQL server, which several benches and desks share. Its tables are made by whoever comes first.

import { performance } from "node:perf_hooks";
import { setTimeout as pause } from "node:timers/promises";
import {
  type DatabaseConnection,
  Kysely,
  Migrator,
  PostgresDialect,
  PostgresDriver,
  type Transaction,
} from "kysely";
import pg from "pg";
import { type Asked, atomically } from "./asked.ts";
import { isAway } from "./away.ts";
import { migrationProvider } from "./migrations.ts";
import type { Tables } from "./tables.ts";

const CONNECTIONS_MAX = 8;
const CONNECT_MS_MAX = 5000;
/** A server that fell silent is as good as away. */
const ANSWER_MS_MAX = 30_000;
/** Where a server did not even refuse to be reached, whoever asks next does not wait for it as long once more. */
const SILENT_MS_MIN = 1000;
const SILENT_FOR_MS = 10_000;

/** SQLSTATE serialization_failure and deadlock_detected. */
const COLLISIONS: ReadonlySet<unknown> = new Set(["40001", "40P01"]);

export class PostgresDatabase implements Asked {
  readonly db: Kysely<Tables>;
  private readonly pool: pg.Pool;
  private made: Promise<void> | null = null;
  /** Why the server could not be reached, and until when nobody tries again; null: it may be there. */
  private silent: { readonly cause: unknown; readonly untilMs: number } | null = null;

  /** Nothing is asked of the server yet. */
  constructor(connectionString: string) {
    this.pool = new pg.Pool({
      connectionString,
      max: CONNECTIONS_MAX,
      connectionTimeoutMillis: CONNECT_MS_MAX,
      query_timeout: ANSWER_MS_MAX,
      keepAlive: true,
      application_name: "bobweight",
    });
    // A connection may break while nothing is asked of it, also within a transaction: whoever asks next is told, and
    // without listeners it would take the program down.
    this.pool.on("error", () => {});
    this.pool.on("connect", (client) => client.on("error", () => {}));
    const { pool } = this;
    const dialect = new PostgresDialect({ pool });
    const reached = <T>(connect: () => Promise<T>) => this.reached(connect);
    class MadeFirst extends PostgresDriver {
      override acquireConnection(): Promise<DatabaseConnection> {
        return reached(() => super.acquireConnection());
      }
    }
    this.db = new Kysely<Tables>({
      dialect: {
        createAdapter: () => dialect.createAdapter(),
        createDriver: () => new MadeFirst({ pool }),
        createIntrospector: (db) => dialect.createIntrospector(db),
        createQueryCompiler: () => dialect.createQueryCompiler(),
      },
    });
  }

  atomically<T>(work: (db: Transaction<Tables>) => Promise<T>): Promise<T> {
    return atomically(
      () => this.db.transaction().setIsolationLevel("serializable").execute(work),
      (error) => error instanceof Error && "code" in error && COLLISIONS.has(error.code),
      // Whoever it collided with is to be through first.
      () => pause(Math.random() * 50),
    );
  }

  async close(): Promise<void> {
    await this.pool.end();
  }

  private async reached<T>(connect: () => Promise<T>): Promise<T> {
    const askedMs = performance.now();
    if (this.silent !== null && askedMs < this.silent.untilMs) throw this.silent.cause;
    try {
      await this.tablesMade();
      const connection = await connect();
      this.silent = null;
      return connection;
    } catch (cause) {
      const nowMs = performance.now();
      if (nowMs - askedMs >= SILENT_MS_MIN && isAway(cause)) {
        this.silent = { cause, untilMs: nowMs + SILENT_FOR_MS };
      }
      throw cause;
    }
  }

  private tablesMade(): Promise<void> {
    this.made ??= this.makeTables().catch((error) => {
      this.made = null;
      throw error;
    });
    return this.made;
  }

  private async makeTables(): Promise<void> {
    const { pool } = this;
    const db = new Kysely<unknown>({ dialect: new PostgresDialect({ pool }) });
    const { error } = await new Migrator({ db, provider: migrationProvider }).migrateToLatest();
    if (error !== undefined) throw error;
  }
}
