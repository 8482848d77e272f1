// The units whose specification the workshop has: files and folders named, or all that its data folder knows.
import { readdirSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { BobweightError } from "../core/errors.ts";
import type { UnitOnFile } from "../core/nearest/nearest.ts";
import type { Settings } from "../core/settings/settings.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { readJsonFile } from "./files.ts";
import { withTolerance } from "./settings.ts";
import type { Store } from "./store/store.ts";

export interface UnitsOnFile {
  readonly units: readonly UnitOnFile[];
  /** Files of a folder that cannot be read, with the reason. */
  readonly passedOver: readonly string[];
}

const SUFFIX = ".unit.json";

/** @throws FILE_UNREADABLE, FILE_NOT_JSON, FILE_INVALID for a file that was named itself */
export function unitsIn(paths: readonly string[], settings: Settings): UnitsOnFile {
  const folders = paths.filter(isFolder);
  const named = paths
    .filter((path) => !folders.includes(path))
    .map((path) => onFile(basename(path), readJsonFile(path), settings));
  return gathered([
    ...named.map((one) => () => one),
    ...folders.flatMap((folder) => filesIn(folder, settings)),
  ]);
}

/** Unit files in the data folder, those added on the page, and those that records were made with. */
export async function unitsKnown(
  folder: string,
  store: Store,
  settings: Settings,
): Promise<UnitsOnFile> {
  return gathered([
    ...filesIn(folder, settings),
    ...(await store.units.current()).map(
      ({ id, fileText }) =>
        () =>
          onFile(`unit ${id}`, parseJsonFile(fileText, `unit ${id}`), settings),
    ),
    ...(await store.measuredUnitFiles()).map(
      ({ recordId, unitFile }) =>
        () =>
          onFile(`record ${recordId}`, unitFile, settings),
    ),
  ]);
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

interface Found extends UnitOnFile {
  readonly content: string;
}

/** With the workshop's tolerance of now, so that a unit and the record of it are the same one. */
function onFile(name: string, file: unknown, settings: Settings): Found {
  const { content } = withTolerance({ name, content: file }, settings);
  return { place: name, unit: unitFromFile(content, name), content: JSON.stringify(content) };
}

function filesIn(folder: string, settings: Settings): (() => Found)[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(SUFFIX))
    .sort()
    .map((name) => () => onFile(name, readJsonFile(join(folder, name)), settings));
}

/** The same content twice is one unit. */
function gathered(readers: readonly (() => Found)[]): UnitsOnFile {
  const units = new Map<string, UnitOnFile>();
  const passedOver: string[] = [];
  for (const read of readers) {
    try {
      const { content, ...one } = read();
      if (!units.has(content)) units.set(content, one);
    } catch (error) {
      if (!(error instanceof BobweightError)) throw error;
      passedOver.push(error.message);
    }
  }
  return { units: [...units.values()], passedOver };
}
