// Jobs in the store: cards with every edit kept, photos, and which records go with a job.

import { BobweightError } from "../../core/errors.ts";
import { type JobCard, nextNumber } from "../../core/jobs/card.ts";
import { cardSchema } from "../../core/jobs/cardSchema.ts";
import { isFound, type Job, type JobHead } from "../../core/jobs/job.ts";
import type { PictureType } from "../../core/jobs/photo.ts";
import type { RecordHead } from "../../core/messages.ts";
import { type Said, said } from "../../core/said.ts";
import type { Database } from "./database.ts";
import { guard } from "./guard.ts";
import { newKey } from "./keys.ts";
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

/** Of records by their ids, the oldest first. */
type HeadsOf = (recordIds: readonly string[]) => RecordHead[];

/** All methods are synchronous. Any of them throws STORE_FAILED. */
export class JobStore {
  private readonly database: Database;
  private readonly headsOf: HeadsOf;
  private readonly nowUtc: () => string;

  constructor(database: Database, headsOf: HeadsOf, nowUtc: () => string) {
    this.database = database;
    this.headsOf = headsOf;
    this.nowUtc = nowUtc;
  }

  /** The job that was changed last comes first. */
  list({ search, archived }: JobSearch): JobHead[] {
    return guard(said("the jobs cannot be listed"), () =>
      this.latest()
        .filter((state) => (state.archived === 1) === archived)
        .map((state) => ({ state, card: cardOf(state) }))
        .filter(({ card }) => isFound(card, search))
        .sort((a, b) => (a.state.saved_utc < b.state.saved_utc ? 1 : -1))
        .map(({ state, card }) => this.headOf(state, card)),
    );
  }

  /** @throws JOB_UNKNOWN */
  job(id: string): Job {
    return guard(said("job {} cannot be read", id), () => {
      const state = this.state(id);
      const { jobs, job_photos } = this.tables();
      const created = this.database.rows(jobs.select("created_utc").where("id", "=", id))[0];
      const photos = this.database.rows(
        job_photos
          .select(["id", "name", "added_utc"])
          .where("job_id", "=", id)
          .where("taken_off_utc", "is", null)
          .orderBy("id"),
      );
      return {
        id,
        createdUtc: created?.created_utc ?? state.saved_utc,
        changedUtc: state.saved_utc,
        isArchived: state.archived === 1,
        card: cardOf(state),
        canUndo: sequenceBefore(state) >= 0,
        records: this.headsOf(this.recordIds(id)),
        photos: photos.map(({ id, name, added_utc }) => ({ id, name, addedUtc: added_utc })),
      };
    });
  }

  /** Of the job that has the number on its card. @throws JOB_UNKNOWN */
  idOfNumber(number: string): string {
    return guard(said("job {} cannot be read", number), () => {
      const state = this.latest().find((one) => cardOf(one).number === number);
      if (state === undefined)
        throw unknown(said("job with the number {}", JSON.stringify(number)));
      return state.job_id;
    });
  }

  /** A card without a number gets the next one of the year. @throws JOB_INVALID */
  add(card: JobCard): string {
    return guard(said("the job cannot be kept"), () => {
      const id = newKey();
      const savedUtc = this.nowUtc();
      const taken = this.latest().map((state) => cardOf(state).number);
      const number = card.number || nextNumber(Number(savedUtc.slice(0, 4)), taken);
      this.refuseTaken(number, null);
      this.database.atomically(() => {
        const row = { id, created_utc: savedUtc };
        this.database.run(this.database.build.insertInto("jobs").values(row));
        this.append({ ...stateOf(id, { ...card, number }), sequence: 0, saved_utc: savedUtc });
      });
      return id;
    });
  }

  /** @throws JOB_UNKNOWN, JOB_INVALID */
  edit(id: string, card: JobCard): void {
    guard(said("job {} cannot be kept", id), () => {
      const state = this.state(id);
      this.refuseTaken(card.number, id);
      this.follow(state, { card_json: JSON.stringify(card) });
    });
  }

  /** Takes the last edit back, and the one before it when asked again. @throws JOB_UNKNOWN, JOB_INVALID */
  undo(id: string): void {
    guard(said("job {} cannot be kept", id), () => {
      const state = this.state(id);
      const before = sequenceBefore(state);
      const { job_states } = this.tables();
      const [to] = this.database.rows(
        job_states.selectAll().where("job_id", "=", id).where("sequence", "=", before),
      );
      if (to === undefined)
        throw new BobweightError("JOB_INVALID", said("There is no edit to take back."));
      const { card_json, archived } = to;
      // An undo of an undone state is the state it restored: its own past goes on from there.
      this.follow(state, { card_json, archived, restores: to.restores ?? before });
    });
  }

  /** @throws JOB_UNKNOWN */
  archive(id: string, archived: boolean): void {
    guard(said("job {} cannot be kept", id), () =>
      this.follow(this.state(id), { archived: archived ? 1 : 0 }),
    );
  }

  /** The record goes with this job from now on, whatever it went with before. @throws JOB_UNKNOWN */
  attach(id: string, recordId: string): void {
    guard(said("record {} cannot be put to job {}", recordId, id), () => {
      this.state(id);
      this.headsOf([recordId]);
      const row = { record_id: recordId, job_id: id };
      this.database.run(
        this.database.build
          .insertInto("job_records")
          .values(row)
          .onConflict((conflict) => conflict.column("record_id").doUpdateSet({ job_id: id })),
      );
    });
  }

  /** The job that a record goes with; null: none. */
  jobIdOf(recordId: string): string | null {
    return guard(said("the job of record {} cannot be read", recordId), () => {
      const { job_records } = this.tables();
      const found = this.database.rows(
        job_records.select("job_id").where("record_id", "=", recordId),
      );
      return found[0]?.job_id ?? null;
    });
  }

  /** Numbers of the jobs that these records go with, by record; only of those that go with one. */
  numbersOf(recordIds: readonly string[]): ReadonlyMap<string, string> {
    return guard(said("the records' jobs cannot be read"), () => {
      if (recordIds.length === 0) return new Map();
      const { job_records } = this.tables();
      const found = this.database.rows(
        job_records.select(["record_id", "job_id"]).where("record_id", "in", recordIds),
      );
      const ids = [...new Set(found.map(({ job_id }) => job_id))];
      const numbers = new Map(ids.map((id) => [id, cardOf(this.state(id)).number]));
      return new Map(found.map(({ record_id, job_id }) => [record_id, numbers.get(job_id) ?? ""]));
    });
  }

  /** @throws JOB_UNKNOWN */
  addPhoto(id: string, { name, type, bytes }: NewPhoto): string {
    return guard(said("the photo cannot be kept with job {}", id), () => {
      this.state(id);
      const row = {
        id: newKey(),
        job_id: id,
        name,
        type,
        added_utc: this.nowUtc(),
        taken_off_utc: null,
        bytes,
      };
      this.database.run(this.database.build.insertInto("job_photos").values(row));
      return row.id;
    });
  }

  /** @throws JOB_UNKNOWN */
  photo(id: string, photoId: string): { type: string; bytes: Uint8Array } {
    return guard(said("a photo of job {} cannot be read", id), () => {
      const { job_photos } = this.tables();
      const found = this.database.rows(
        job_photos.select(["type", "bytes"]).where("job_id", "=", id).where("id", "=", photoId),
      );
      if (found[0] === undefined) throw unknown(said("photo {}", JSON.stringify(photoId)));
      return found[0];
    });
  }

  /** It stays in the store, and off the job. @throws JOB_UNKNOWN */
  takePhotoOff(id: string, photoId: string): void {
    guard(said("a photo of job {} cannot be taken off", id), () => {
      this.photo(id, photoId);
      this.database.run(
        this.database.build
          .updateTable("job_photos")
          .set({ taken_off_utc: this.nowUtc() })
          .where("id", "=", photoId),
      );
    });
  }

  private tables() {
    const { build } = this.database;
    return {
      jobs: build.selectFrom("jobs"),
      job_states: build.selectFrom("job_states"),
      job_photos: build.selectFrom("job_photos"),
      job_records: build.selectFrom("job_records"),
    };
  }

  private latest(): JobStatesTable[] {
    const { build } = this.database;
    const newest = build
      .selectFrom("job_states")
      .select(({ fn }) => ["job_id", fn.max("sequence").as("last")])
      .groupBy("job_id")
      .as("newest");
    return this.database.rows(
      build
        .selectFrom("job_states")
        .innerJoin(newest, (join) =>
          join
            .onRef("newest.job_id", "=", "job_states.job_id")
            .onRef("newest.last", "=", "job_states.sequence"),
        )
        .selectAll("job_states"),
    );
  }

  private state(id: string): JobStatesTable {
    const found = this.database.rows(
      this.tables()
        .job_states.selectAll()
        .where("job_id", "=", id)
        .orderBy("sequence", "desc")
        .limit(1),
    )[0];
    if (found === undefined) throw unknown(said("job {}", JSON.stringify(id)));
    return found;
  }

  private recordIds(id: string): string[] {
    const rows = this.database.rows(
      this.tables().job_records.select("record_id").where("job_id", "=", id),
    );
    return rows.map(({ record_id }) => record_id);
  }

  private headOf(state: JobStatesTable, card: JobCard): JobHead {
    const { number, owner, vehicle, unit, stampedNumber } = card;
    const ids = this.recordIds(state.job_id).sort();
    const last = ids.length === 0 ? undefined : this.headsOf(ids.slice(-1))[0];
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

  private refuseTaken(number: string, ownId: string | null): void {
    const taken = this.latest().some(
      (state) => state.job_id !== ownId && number !== "" && cardOf(state).number === number,
    );
    if (taken)
      throw new BobweightError("JOB_INVALID", said("Another job has the number {}.", number));
  }

  /** The next state of a job, like the last one but for `changes`. */
  private follow(state: JobStatesTable, changes: Partial<JobStatesTable>): void {
    const sequence = state.sequence + 1;
    this.append({ ...state, restores: null, saved_utc: this.nowUtc(), ...changes, sequence });
  }

  private append(row: JobStatesTable): void {
    this.database.run(this.database.build.insertInto("job_states").values(row));
  }
}

/** Of the state that an undo of this one goes back to; below 0: there is none. */
function sequenceBefore({ sequence, restores }: JobStatesTable): number {
  return (restores ?? sequence) - 1;
}

function stateOf(id: string, card: JobCard): Omit<JobStatesTable, "sequence" | "saved_utc"> {
  return { job_id: id, archived: 0, card_json: JSON.stringify(card), restores: null };
}

/** Through the schema, so that a card of an older version has what came later. */
function cardOf({ card_json }: JobStatesTable): JobCard {
  return cardSchema.parse(JSON.parse(card_json));
}

function unknown(what: Said): BobweightError {
  return new BobweightError("JOB_UNKNOWN", said("There is no {}.", what));
}
