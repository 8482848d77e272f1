// Jobs in the store: cards with every edit kept, photos, and which records go with a job.

import { BobweightError } from "../../core/errors.ts";
import { type JobCard, nextNumber } from "../../core/jobs/card.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";
import { isFound, type Job, type JobHead } from "../../core/jobs/job.ts";
import type { PictureType } from "../../core/jobs/photo.ts";
import { type Said, said } from "../../core/said.ts";
import type { Asked, Tabled } from "./asked.ts";
import { guard } from "./guard.ts";
import { attaching } from "./jobRecords.ts";
import { newKey } from "./keys.ts";
import { headsOf } from "./recordRows.ts";
import type { JobStatesTable } from "./tables.ts";

export interface JobSearch {
  /** Empty: all. */
  readonly search: string;
  readonly archived: boolean;
}

export interface NewPhoto {
  readonly name: string;
  readonly type: PictureType;
  readonly bytes: Uint8Array;
}

/** Any of the methods throws STORE_FAILED. */
export class JobStore {
  private readonly asked: Asked;
  private readonly nowUtc: () => string;

  constructor(asked: Asked, nowUtc: () => string) {
    this.asked = asked;
    this.nowUtc = nowUtc;
  }

  /** The job that was changed last comes first. */
  list({ search, archived }: JobSearch): Promise<JobHead[]> {
    return guard(said("the jobs cannot be listed"), async () => {
      const { db } = this.asked;
      const found = (await latest(db))
        .filter((state) => (state.archived === 1) === archived)
        .map((state) => ({ state, card: cardOf(state) }))
        .filter(({ card }) => isFound(card, search))
        .sort((a, b) => (a.state.saved_utc < b.state.saved_utc ? 1 : -1));
      const heads: JobHead[] = [];
      for (const { state, card } of found) heads.push(await headOf(db, state, card));
      return heads;
    });
  }

  /** @throws JOB_UNKNOWN */
  job(id: string): Promise<Job> {
    return guard(said("job {} cannot be read", id), async () => {
      const { db } = this.asked;
      const state = await stateOf(db, id);
      const created = await db
        .selectFrom("jobs")
        .select("created_utc")
        .where("id", "=", id)
        .executeTakeFirst();
      const photos = await db
        .selectFrom("job_photos")
        .select(["id", "name", "added_utc"])
        .where("job_id", "=", id)
        .where("taken_off_utc", "is", null)
        .orderBy("id")
        .execute();
      return {
        id,
        createdUtc: created?.created_utc ?? state.saved_utc,
        changedUtc: state.saved_utc,
        isArchived: state.archived === 1,
        card: cardOf(state),
        canUndo: sequenceBefore(state) >= 0,
        records: await headsOf(db, await recordIds(db, id)),
        photos: photos.map(({ id, name, added_utc }) => ({ id, name, addedUtc: added_utc })),
      };
    });
  }

  /**
   * Whether there is such a job; taken on trust while the database is away, since its id came from there.
   * @throws JOB_UNKNOWN
   */
  async known(id: string): Promise<void> {
    await this.job(id).catch((cause) => {
      if (!(cause instanceof BobweightError) || cause.code !== "DATABASE_AWAY") throw cause;
    });
  }

  /** Of the job that has the number on its card. @throws JOB_UNKNOWN */
  idOfNumber(number: string): Promise<string> {
    return guard(said("job {} cannot be read", number), async () => {
      const state = (await latest(this.asked.db)).find((one) => cardOf(one).number === number);
      if (state === undefined)
        throw unknown(said("job with the number {}", JSON.stringify(number)));
      return state.job_id;
    });
  }

  /** A card without a number gets the next one of the year. @throws JOB_INVALID */
  add(card: JobCard): Promise<string> {
    return guard(said("the job cannot be kept"), () =>
      this.asked.atomically(async (db) => {
        const id = newKey();
        const savedUtc = this.nowUtc();
        const taken = (await latest(db)).map((state) => cardOf(state).number);
        const number = card.number || nextNumber(Number(savedUtc.slice(0, 4)), taken);
        await refuseTaken(db, number, null);
        await db.insertInto("jobs").values({ id, created_utc: savedUtc }).execute();
        await append(db, {
          ...newState(id, { ...card, number }),
          sequence: 0,
          saved_utc: savedUtc,
        });
        return id;
      }),
    );
  }

  /** @throws JOB_UNKNOWN, JOB_INVALID */
  edit(id: string, card: JobCard): Promise<void> {
    return this.follow(id, async (db) => {
      await refuseTaken(db, card.number, id);
      return { card_json: JSON.stringify(card) };
    });
  }

  /** Takes the last edit back, and the one before it when asked again. @throws JOB_UNKNOWN, JOB_INVALID */
  undo(id: string): Promise<void> {
    return this.follow(id, async (db, state) => {
      const before = sequenceBefore(state);
      const to = await db
        .selectFrom("job_states")
        .selectAll()
        .where("job_id", "=", id)
        .where("sequence", "=", before)
        .executeTakeFirst();
      if (to === undefined)
        throw new BobweightError("JOB_INVALID", said("There is no edit to take back."));
      const { card_json, archived } = to;
      // An undo of an undone state is the state it restored: its own past goes on from there.
      return { card_json, archived, restores: to.restores ?? before };
    });
  }

  /** @throws JOB_UNKNOWN */
  archive(id: string, archived: boolean): Promise<void> {
    return this.follow(id, async () => ({ archived: archived ? 1 : 0 }));
  }

  /** The record goes with this job from now on, whatever it went with before. @throws JOB_UNKNOWN */
  attach(id: string, recordId: string): Promise<void> {
    return guard(said("record {} cannot be put to job {}", recordId, id), () =>
      this.asked.atomically(async (db) => {
        await stateOf(db, id);
        await headsOf(db, [recordId]);
        await attaching(db, recordId, id).execute();
      }),
    );
  }

  /** The job that a record goes with; null: none. */
  jobIdOf(recordId: string): Promise<string | null> {
    return guard(said("the job of record {} cannot be read", recordId), async () => {
      const found = await this.asked.db
        .selectFrom("job_records")
        .select("job_id")
        .where("record_id", "=", recordId)
        .executeTakeFirst();
      return found?.job_id ?? null;
    });
  }

  /** Numbers of the jobs that these records go with, by record; only of those that go with one. */
  numbersOf(recordIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
    return guard(said("the records' jobs cannot be read"), async () => {
      if (recordIds.length === 0) return new Map();
      const { db } = this.asked;
      const found = await db
        .selectFrom("job_records")
        .select(["record_id", "job_id"])
        .where("record_id", "in", recordIds)
        .execute();
      const numbers = new Map<string, string>();
      for (const id of new Set(found.map(({ job_id }) => job_id))) {
        numbers.set(id, cardOf(await stateOf(db, id)).number);
      }
      return new Map(found.map(({ record_id, job_id }) => [record_id, numbers.get(job_id) ?? ""]));
    });
  }

  /** @throws JOB_UNKNOWN */
  addPhoto(id: string, { name, type, bytes }: NewPhoto): Promise<string> {
    return guard(said("the photo cannot be kept with job {}", id), async () => {
      const { db } = this.asked;
      await stateOf(db, id);
      const row = {
        id: newKey(),
        job_id: id,
        name,
        type,
        added_utc: this.nowUtc(),
        taken_off_utc: null,
        bytes,
      };
      await db.insertInto("job_photos").values(row).execute();
      return row.id;
    });
  }

  /** @throws JOB_UNKNOWN */
  photo(id: string, photoId: string): Promise<{ type: string; bytes: Uint8Array }> {
    return guard(said("a photo of job {} cannot be read", id), async () => {
      const found = await this.asked.db
        .selectFrom("job_photos")
        .select(["type", "bytes"])
        .where("job_id", "=", id)
        .where("id", "=", photoId)
        .executeTakeFirst();
      if (found === undefined) throw unknown(said("photo {}", JSON.stringify(photoId)));
      return found;
    });
  }

  /** It stays in the store, and off the job. @throws JOB_UNKNOWN */
  takePhotoOff(id: string, photoId: string): Promise<void> {
    return guard(said("a photo of job {} cannot be taken off", id), async () => {
      await this.photo(id, photoId);
      await this.asked.db
        .updateTable("job_photos")
        .set({ taken_off_utc: this.nowUtc() })
        .where("id", "=", photoId)
        .execute();
    });
  }

  /** The next state of a job, like the last one but for `changes`. */
  private follow(
    id: string,
    changes: (db: Tabled, state: JobStatesTable) => Promise<Partial<JobStatesTable>>,
  ): Promise<void> {
    return guard(said("job {} cannot be kept", id), () =>
      this.asked.atomically(async (db) => {
        const state = await stateOf(db, id);
        await append(db, {
          ...state,
          restores: null,
          saved_utc: this.nowUtc(),
          ...(await changes(db, state)),
          sequence: state.sequence + 1,
        });
      }),
    );
  }
}

function latest(db: Tabled): Promise<JobStatesTable[]> {
  const newest = db
    .selectFrom("job_states")
    .select(({ fn }) => ["job_id", fn.max("sequence").as("last")])
    .groupBy("job_id")
    .as("newest");
  return db
    .selectFrom("job_states")
    .innerJoin(newest, (join) =>
      join
        .onRef("newest.job_id", "=", "job_states.job_id")
        .onRef("newest.last", "=", "job_states.sequence"),
    )
    .selectAll("job_states")
    .execute();
}

async function stateOf(db: Tabled, id: string): Promise<JobStatesTable> {
  const found = await db
    .selectFrom("job_states")
    .selectAll()
    .where("job_id", "=", id)
    .orderBy("sequence", "desc")
    .limit(1)
    .executeTakeFirst();
  if (found === undefined) throw unknown(said("job {}", JSON.stringify(id)));
  return found;
}

async function recordIds(db: Tabled, id: string): Promise<string[]> {
  const rows = await db
    .selectFrom("job_records")
    .select("record_id")
    .where("job_id", "=", id)
    .orderBy("record_id")
    .execute();
  return rows.map(({ record_id }) => record_id);
}

async function headOf(db: Tabled, state: JobStatesTable, card: JobCard): Promise<JobHead> {
  const { number, owner, vehicle, unit, stampedNumber } = card;
  const ids = await recordIds(db, state.job_id);
  const [last] = await headsOf(db, ids.slice(-1));
  return {
    id: state.job_id,
    number,
    owner,
    vehicle,
    unit,
    stampedNumber,
    changedUtc: state.saved_utc,
    isArchived: state.archived === 1,
    recordCount: ids.length,
    last: last ?? null,
  };
}

async function refuseTaken(db: Tabled, number: string, ownId: string | null): Promise<void> {
  const taken = (await latest(db)).some(
    (state) => state.job_id !== ownId && number !== "" && cardOf(state).number === number,
  );
  if (taken)
    throw new BobweightError("JOB_INVALID", said("Another job has the number {}.", number));
}

async function append(db: Tabled, row: JobStatesTable): Promise<void> {
  await db.insertInto("job_states").values(row).execute();
}

/** Of the state that an undo of this one goes back to; below 0: there is none. */
function sequenceBefore({ sequence, restores }: JobStatesTable): number {
  return (restores ?? sequence) - 1;
}

function newState(id: string, card: JobCard): Omit<JobStatesTable, "sequence" | "saved_utc"> {
  return { job_id: id, archived: 0, card_json: JSON.stringify(card), restores: null };
}

/** Through the schema, so that a card of an older version has what came later. */
function cardOf({ card_json }: JobStatesTable): JobCard {
  return cardSchema.parse(JSON.parse(card_json));
}

function unknown(what: Said): BobweightError {
  return new BobweightError("JOB_UNKNOWN", said("There is no {}.", what));
}
