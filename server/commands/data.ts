// Where records, units and rig files are kept unless the user says otherwise.
import { mkdirSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { BobweightError } from "../../core/errors.ts";
import { openStore, type Store } from "../store/store.ts";

export function defaultDataFolder(): string {
  const { BOBWEIGHT_DATA, LOCALAPPDATA, XDG_DATA_HOME } = process.env;
  if (BOBWEIGHT_DATA) return BOBWEIGHT_DATA;
  if (process.platform === "win32") {
    return join(LOCALAPPDATA ?? join(homedir(), "AppData", "Local"), "bobweight");
  }
  if (process.platform === "darwin") {
    return join(homedir(), "Library", "Application Support", "bobweight");
  }
  return join(XDG_DATA_HOME || join(homedir(), ".local", "share"), "bobweight");
}

export const DATA_OPTION = [
  "--data <folder>",
  "folder of records, units and rig files (default: BOBWEIGHT_DATA, else the system's place for data)",
] as const;

export const AFTER_OPTION = [
  "--after <record>",
  "the record of this unit that a change came after: both are drawn on one chart, with the first one as received",
] as const;

export const JOB_OPTION = [
  "--job <number>",
  "the job that the record goes with, by the number on its card (see `bobweight jobs`)",
] as const;

/** Null where none is named. @throws USAGE without a store, JOB_UNKNOWN */
export async function jobIdNamed(
  number: string | undefined,
  store: Store | null,
): Promise<string | null> {
  if (number === undefined) return null;
  if (store === null) {
    throw new BobweightError("USAGE", "--job needs a record; with --no-record there is none.");
  }
  return store.jobs.idOfNumber(number);
}

/** Holds a connection string, which may carry a password: on a command line others would see it. */
export const DATABASE_VARIABLE = "BOBWEIGHT_DATABASE";

export const DATABASE_OPTION = [
  "--database <url>",
  `postgres:// address of the workshop's database, for several benches (default: ${DATABASE_VARIABLE}, which may carry a password; else all is kept in the data folder)`,
] as const;

/** Null: all is in the data folder. The address is never part of an error: it may carry a password. @throws USAGE */
export function databaseUrlFrom(option: string | undefined): string | null {
  const url = option ?? process.env[DATABASE_VARIABLE] ?? "";
  if (url === "") return null;
  if (/^postgres(ql)?:\/\//.test(url) && URL.canParse(url)) return url;
  throw new BobweightError(
    "USAGE",
    "The database's address has to be postgres://USER@HOST/DATABASE.",
  );
}

/** @throws STORE_FAILED, USAGE */
export async function openData(
  folder: string | undefined,
  database?: string,
): Promise<{ store: Store; folder: string }> {
  const place = folder ?? defaultDataFolder();
  try {
    mkdirSync(place, { recursive: true });
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new BobweightError("STORE_FAILED", `The folder ${place} cannot be made (${why}).`, {
      cause,
    });
  }
  return { store: await openStore(place, databaseUrlFrom(database)), folder: place };
}

/** The record asked for; the newest where none is named, or by `newest`. @throws RECORD_UNKNOWN where there is none at all */
export async function recordIdOf(store: Store, record: string | undefined): Promise<string> {
  const isNamed = record !== undefined && record !== "newest";
  const id = isNamed ? record : (await store.heads({ limit: 1, before: null }))[0]?.id;
  if (id === undefined) throw new BobweightError("RECORD_UNKNOWN", "There are no records on file.");
  return id;
}
