// What lists, jobs, units and notes are asked of: queries by kysely, and transactions that are done over where
// another's write came between.

import type { Kysely, Transaction } from "kysely";
import type { Tables } from "./tables.ts";

export type Tabled = Kysely<Tables> | Transaction<Tables>;

export interface Asked {
  readonly db: Kysely<Tables>;
  /** All of `work` or none of it, as if nobody else were there; it may be called more than once. */
  atomically<T>(work: (db: Transaction<Tables>) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

const TRIES = 50;

/** @param isCollision whether the transaction failed of another's write alone */
export async function atomically<T>(
  transaction: () => Promise<T>,
  isCollision: (error: unknown) => boolean,
  pause: () => Promise<void> = async () => {},
): Promise<T> {
  for (let tries = 1; ; tries++) {
    try {
      return await transaction();
    } catch (error) {
      if (tries === TRIES || !isCollision(error)) throw error;
    }
    await pause();
  }
}
