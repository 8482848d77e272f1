// Unit files on hand, as they were given. An edit is a further row, which takes the other's place.

import { BobweightError } from "../../core/errors.ts";
import { said } from "../../core/said.ts";
import type { Database } from "./database.ts";
import { guard } from "./guard.ts";
import { newKey } from "./keys.ts";
import type { UnitsTable } from "./tables.ts";

export interface StoredUnit {
  readonly id: string;
  readonly addedUtc: string;
  readonly fileText: string;
}

/** All methods are synchronous. Any of them throws STORE_FAILED. */
export class UnitStore {
  private readonly database: Database;
  private readonly nowUtc: () => string;

  constructor(database: Database, nowUtc: () => string) {
    this.database = database;
    this.nowUtc = nowUtc;
  }

  /** Those that nothing has taken the place of, the newest first. */
  current(): StoredUnit[] {
    return guard(said("the units cannot be listed"), () => {
      const rows = this.rows();
      const replaced = new Set(rows.map(({ replaces_id }) => replaces_id));
      return rows.filter(({ id }) => !replaced.has(id)).map(unitFrom);
    });
  }

  /** Current or not. @throws UNIT_UNKNOWN */
  unit(id: string): StoredUnit {
    return guard(said("unit {} cannot be read", id), () => {
      const found = this.rows().find((row) => row.id === id);
      if (found === undefined) throw unknown(id);
      return unitFrom(found);
    });
  }

  /** What a unit was before, the newest first. */
  versionsBefore(id: string): StoredUnit[] {
    return guard(said("the versions of unit {} cannot be listed", id), () => {
      const rows = new Map(this.rows().map((row) => [row.id, row]));
      const versions: StoredUnit[] = [];
      let before = rows.get(id)?.replaces_id ?? null;
      // A unit is only ever written after the one that it replaces, so this ends.
      while (before !== null) {
        const row = rows.get(before);
        if (row === undefined) break;
        versions.push(unitFrom(row));
        before = row.replaces_id;
      }
      return versions;
    });
  }

  /**
   * Keeps a unit file's text and returns its key; a text that is on hand keeps its key.
   * @param replacesId the unit that it is a new version of; null: of none
   * @throws UNIT_UNKNOWN, UNIT_REPLACED where another version has taken its place already
   */
  add(fileText: string, replacesId: string | null = null): string {
    return guard(said("the unit cannot be kept"), () => {
      const current = this.current();
      if (replacesId !== null && !current.some(({ id }) => id === replacesId)) {
        this.unit(replacesId);
        throw new BobweightError(
          "UNIT_REPLACED",
          said("Unit {} has been edited elsewhere meanwhile.", replacesId),
        );
      }
      const known = current.find(
        (unit) => unit.fileText === fileText && (replacesId ?? unit.id) === unit.id,
      );
      if (known !== undefined) return known.id;
      const id = newKey();
      const row = { id, added_utc: this.nowUtc(), file_text: fileText, replaces_id: replacesId };
      this.database.run(this.database.build.insertInto("units").values(row));
      return id;
    });
  }

  private rows(): UnitsTable[] {
    return this.database.rows(
      this.database.build.selectFrom("units").selectAll().orderBy("id", "desc"),
    );
  }
}

function unitFrom(row: UnitsTable): StoredUnit {
  return { id: row.id, addedUtc: row.added_utc, fileText: row.file_text };
}

function unknown(id: string): BobweightError {
  return new BobweightError("UNIT_UNKNOWN", said("There is no unit {}.", JSON.stringify(id)));
}
