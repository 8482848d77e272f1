// Unit files on hand, as they were given. An edit is a further row, which takes the other's place.

import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { Asked, Tabled } from "./asked.ts";
import { guard } from "./guard.ts";
import { newKey } from "./keys.ts";
import type { UnitsTable } from "./tables.ts";

export interface StoredUnit {
  readonly id: string;
  readonly addedUtc: string;
  readonly fileText: string;
}

/** Any of the methods throws STORE_FAILED. */
export class UnitStore {
  private readonly asked: Asked;
  private readonly nowUtc: () => string;

  constructor(asked: Asked, nowUtc: () => string) {
    this.asked = asked;
    this.nowUtc = nowUtc;
  }

  /** Those that nothing has taken the place of, the newest first. */
  current(): Promise<StoredUnit[]> {
    return guard(said("the units cannot be listed"), async () =>
      currentOf(await rowsOf(this.asked.db)).map(unitFrom),
    );
  }

  /** Current or not. @throws UNIT_UNKNOWN */
  unit(id: string): Promise<StoredUnit> {
    return guard(said("unit {} cannot be read", id), async () => {
      const found = (await rowsOf(this.asked.db)).find((row) => row.id === id);
      if (found === undefined) throw unknown(id);
      return unitFrom(found);
    });
  }

  /** What units were before, the newest first, by the unit; those that were nothing before are left out. */
  versionsBefore(): Promise<ReadonlyMap<string, readonly StoredUnit[]>> {
    return guard(said("the units cannot be listed"), async () => {
      const rows = new Map((await rowsOf(this.asked.db)).map((row) => [row.id, row]));
      const versions = new Map<string, StoredUnit[]>();
      // A unit is only ever written after the one that it replaces: with the oldest first, that one's are known.
      for (const [id, { replaces_id }] of [...rows].reverse()) {
        const before = replaces_id === null ? undefined : rows.get(replaces_id);
        if (before === undefined) continue;
        versions.set(id, [unitFrom(before), ...(versions.get(before.id) ?? [])]);
      }
      return versions;
    });
  }

  /**
   * Keeps a unit file's text and returns its key; a text that is on hand keeps its key.
   * @param replacesId the unit that it is a new version of; null: of none
   * @throws UNIT_UNKNOWN, UNIT_REPLACED where another version has taken its place already
   */
  add(fileText: string, replacesId: string | null = null): Promise<string> {
    return guard(said("the unit cannot be kept"), () =>
      this.asked.atomically(async (db) => {
        const rows = await rowsOf(db);
        const current = currentOf(rows);
        if (replacesId !== null && !current.some(({ id }) => id === replacesId)) {
          if (!rows.some(({ id }) => id === replacesId)) throw unknown(replacesId);
          throw new BobweightError(
            "UNIT_REPLACED",
            said("Unit {} has been edited elsewhere meanwhile.", replacesId),
          );
        }
        const known = current.find(
          (unit) => unit.file_text === fileText && (replacesId ?? unit.id) === unit.id,
        );
        if (known !== undefined) return known.id;
        const id = newKey();
        const row = { id, added_utc: this.nowUtc(), file_text: fileText, replaces_id: replacesId };
        await db.insertInto("units").values(row).execute();
        return id;
      }),
    );
  }
}

function rowsOf(db: Tabled): Promise<UnitsTable[]> {
  return db.selectFrom("units").selectAll().orderBy("id", "desc").execute();
}

function currentOf(rows: readonly UnitsTable[]): UnitsTable[] {
  const replaced = new Set(rows.map(({ replaces_id }) => replaces_id));
  return rows.filter(({ id }) => !replaced.has(id));
}

function unitFrom(row: UnitsTable): StoredUnit {
  return { id: row.id, addedUtc: row.added_utc, fileText: row.file_text };
}

function unknown(id: string): BobweightError {
  return new BobweightError("UNIT_UNKNOWN", said("There is no unit {}.", JSON.stringify(id)));
}
