// The units whose specification the workshop has: files and folders named, or all that its data folder knows.
import { readdirSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { BobweightError } from "../core/errors.ts";
import type { UnitOnFile } from "../core/nearest/nearest.ts";
import { parseJsonFile } from "../core/unitFile/jsonText.ts";
import { unitFromFile } from "../core/unitFile.ts";
import { readJsonFile } from "./files.ts";
import type { Store } from "./store/store.ts";

export interface UnitsOnFile {
  readonly units: readonly UnitOnFile[];
  /** Files of a folder that cannot be read, with the reason. */
  readonly passedOver: readonly string[];
}

const SUFFIX = ".unit.json";

/** @throws FILE_UNREADABLE, FILE_NOT_JSON, FILE_INVALID for a file that was named itself */
export function unitsIn(paths: readonly string[]): UnitsOnFile {
  const folders = paths.filter(isFolder);
  const named = paths
    .filter((path) => !folders.includes(path))
    .map((path) => onFile(basename(path), readJsonFile(path)));
  return gathered([...named.map((one) => () => one), ...folders.flatMap(filesIn)]);
}

/** Unit files in the data folder, those added on the page, and those that records were made with. */
export function unitsKnown(folder: string, store: Store): UnitsOnFile {
  return gathered([
    ...filesIn(folder),
    ...store.units.current().map(
      ({ id, fileText }) =>
        () =>
          onFile(`unit ${id}`, parseJsonFile(fileText, `unit ${id}`)),
    ),
    ...store.measuredUnitFiles().map(
      ({ recordId, unitFile }) =>
        () =>
          onFile(`record ${recordId}`, unitFile),
    ),
  ]);
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

interface Found extends UnitOnFile {
  readonly content: string;
}

function onFile(place: string, file: unknown): Found {
  return { place, unit: unitFromFile(file, place), content: JSON.stringify(file) };
}

function filesIn(folder: string): (() => Found)[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(SUFFIX))
    .sort()
    .map((name) => () => onFile(name, readJsonFile(join(folder, name))));
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
