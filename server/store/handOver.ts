// Brings what waits in the outbox to the workshop's database: each record in one transaction, by its id, and out of
// the outbox only when it is known to be there. Tried again until it is, whatever became of server and database.

import { BobweightError } from "../../core/errors.ts";
import type { HandOverState } from "../../core/messages.ts";
import { said } from "../../core/said.ts";
import type { Asked, Tabled } from "./asked.ts";
import { storeFailed } from "./database.ts";
import { attaching } from "./jobRecords.ts";
import type { Outbox } from "./outbox.ts";
import { digestOfRows, insertMissing, type RowsOfRecord, readRows } from "./wholeRecord.ts";

const FIRST_PAUSE_MS = 500;
const PAUSE_MS_MAX = 30_000;
/** A run that has not ended after so long never will: its program died. What it wrote is handed over before already. */
const DEAD_AFTER_MS = 24 * 3_600_000;

export class HandOver {
  private readonly outbox: Outbox;
  private readonly asked: Asked;
  private readonly tellOf: Set<(state: HandOverState) => void> = new Set();
  /** Of those that stay here, the digest of what was brought. */
  private readonly handed = new Map<string, string>();
  private state: HandOverState = { waiting: 0, trouble: null };
  private timer: NodeJS.Timeout | null = null;
  private pauseMs = FIRST_PAUSE_MS;
  private going: Promise<void> | null = null;
  private again = false;
  private isOver = false;

  constructor(outbox: Outbox, asked: Asked) {
    this.outbox = outbox;
    this.asked = asked;
  }

  now(): HandOverState {
    return this.state;
  }

  /** Told at every change from now on. */
  onChange(tell: (state: HandOverState) => void): void {
    this.tellOf.add(tell);
  }

  /** There may be something to hand over. Settles after all was tried, and never rejects: what fails is tried again later. */
  wake(): Promise<void> {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
    this.again = true;
    this.going ??= this.go().finally(() => {
      this.going = null;
    });
    return this.going;
  }

  /** Nothing is tried again by itself from now on. */
  end(): void {
    this.isOver = true;
    if (this.timer !== null) clearTimeout(this.timer);
  }

  private async go(): Promise<void> {
    while (this.again) {
      this.again = false;
      const trouble = await this.handAll();
      if (trouble === null) {
        this.pauseMs = FIRST_PAUSE_MS;
      } else if (!this.isOver) {
        // No reason to keep the process: whoever comes next finds what waits.
        this.timer = setTimeout(() => void this.wake(), this.pauseMs).unref();
        this.pauseMs = Math.min(2 * this.pauseMs, PAUSE_MS_MAX);
      }
    }
  }

  /** What went wrong; null: nothing. */
  private async handAll(): Promise<BobweightError | null> {
    let trouble: BobweightError | null = null;
    let waiting = this.state.waiting;
    try {
      const ids = await this.outbox.waiting();
      waiting = ids.length;
      for (const id of ids) {
        try {
          await this.handOne(id);
          waiting--;
        } catch (cause) {
          trouble = storeFailed(said("record {} cannot be handed over", id), cause);
          // What is wrong with one record alone keeps no other back.
          if (trouble.code === "DATABASE_AWAY") break;
        }
      }
    } catch (cause) {
      trouble = storeFailed(said("the records that wait cannot be read"), cause);
    }
    this.state = { waiting, trouble: trouble?.told ?? null };
    for (const tell of this.tellOf) tell(this.state);
    return trouble;
  }

  /** Twice does no harm: what is there already is compared. @throws RECORD_OTHER_CONTENT */
  private async handOne(id: string): Promise<void> {
    const rows = await this.outbox.rowsOf(id);
    if (rows === null) return;
    const digest = digestOfRows(rows);
    // What was written of a run that is on, or was broken off, stays here too, until its end.
    if (this.handed.get(id) === digest) return;
    await this.asked.atomically((db) => bringOver(db, rows));
    const ageMs = Date.now() - Date.parse(rows.record.started_utc);
    if (rows.ending !== null || ageMs > DEAD_AFTER_MS) {
      await this.outbox.takeOut(id);
      this.handed.delete(id);
    } else {
      this.handed.set(id, digest);
    }
  }
}

async function bringOver(db: Tabled, rows: RowsOfRecord): Promise<void> {
  const { id } = rows.record;
  const there = await readRows(db, id);
  // What has its end takes nothing more.
  if (there === null || there.ending === null) await insertMissing(db, rows, there);
  const now = await readRows(db, id);
  if (now === null || digestOfRows(now) !== digestOfRows(rows)) {
    throw new BobweightError(
      "RECORD_OTHER_CONTENT",
      said("Record {} is in the database with other content.", id),
    );
  }
  if (rows.jobId !== null && there === null) await attaching(db, id, rows.jobId).execute();
}
