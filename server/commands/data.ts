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

/** @throws STORE_FAILED */
export async function openData(
  folder: string | undefined,
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
  return { store: await openStore(place), folder: place };
}

/** The record asked for; the newest where none is named, or by `newest`. @throws RECORD_UNKNOWN where there is none at all */
export async function recordIdOf(store: Store, record: string | undefined): Promise<string> {
  const isNamed = record !== undefined && record !== "newest";
  const id = isNamed ? record : (await store.heads({ limit: 1, before: null }))[0]?.id;
  if (id === undefined) throw new BobweightError("RECORD_UNKNOWN", "There are no records on file.");
  return id;
}
