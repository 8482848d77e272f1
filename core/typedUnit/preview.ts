// A typed unit as it is read: line by line, with what is wrong with each and what looks odd. Pure.
import { BobweightError } from "../errors.ts";
import { type Said, said } from "../said.ts";
import type { Band, BandRow, Unit } from "../unit.ts";
import { capsuleBand, speedBand } from "../unitFile/bands.ts";
import { Place, PlaceError } from "../unitFile/place.ts";
import type { CapsuleFile, SpeedFile } from "../unitFile/schema.ts";
import { unitFromFile } from "../unitFile.ts";
import { type Hint, hintsOf } from "./hints.ts";
import { linesIn, type TypedUnit, unitFileOf } from "./typed.ts";

export interface LineRead {
  /** As it stands in the field, from 1. */
  readonly number: number;
  readonly text: string;
  /** In distributor figures; none where it cannot be read. */
  readonly rows: readonly BandRow[];
  /** What is wrong with it and what to do; null: nothing. */
  readonly problem: Said | null;
}

export interface UnitPreview {
  readonly speed: readonly LineRead[];
  readonly capsules: readonly (readonly LineRead[])[];
  /** Null while something is wrong. */
  readonly unit: Unit | null;
  /** What is wrong with the whole, naming the field; null where it is a line's fault, or nothing is. */
  readonly problem: Said | null;
  readonly hints: readonly Hint[];
}

const DRIVE_RATIO = 2;
const WORKSHOP_TOLERANCE_DEG = 1;
const NAME = said("The unit");

type Fields = Readonly<Record<string, unknown>>;

/** @param base the unit file that is edited; null: a new unit */
export function previewOf(typed: TypedUnit, base: Fields | null): UnitPreview {
  const file = unitFileOf(typed, base);
  const driveRatio = numberOr(file.driveRatio, DRIVE_RATIO);
  const tolerance = numberOr(file.workshopToleranceDeg, WORKSHOP_TOLERANCE_DEG);
  const speed = linesRead(typed.speed.lines, (lines) =>
    speedBand(onlyLines<SpeedFile>(file.speed, lines), driveRatio, tolerance, new Place(NAME)),
  );
  const capsules = typed.capsules.map((capsule, i) => {
    const own = (file.capsules as readonly unknown[] | undefined)?.[i];
    return linesRead(capsule.lines, (lines) =>
      capsuleBand(onlyLines<CapsuleFile>(own, lines), driveRatio, tolerance, new Place(NAME)),
    );
  });
  const linesAreGood = [speed, ...capsules].flat().every(({ problem }) => problem === null);
  const { unit, problem } = wholeOf(file);
  return {
    speed,
    capsules,
    unit: linesAreGood ? unit : null,
    problem: linesAreGood ? problem : null,
    hints: unit === null ? [] : hintsOf(unit),
  };
}

function wholeOf(file: Fields): Pick<UnitPreview, "unit" | "problem"> {
  try {
    return { unit: unitFromFile(file, NAME), problem: null };
  } catch (error) {
    return { unit: null, problem: complaintOf(error) };
  }
}

/** Each line by itself, and then among those before it that are good. */
function linesRead(
  text: string,
  band: (lines: readonly string[]) => Band | null,
): readonly LineRead[] {
  const good: string[] = [];
  return linesIn(text).map((line) => {
    try {
      const rows = band([line.text])?.rows ?? [];
      band([...good, line.text]);
      good.push(line.text);
      return { ...line, rows, problem: null };
    } catch (error) {
      return { ...line, rows: [], problem: complaintOf(error) };
    }
  });
}

/**
 * A band's file with these lines and no others. A source is asked for of the whole, not of a line, and
 * so is what a figure beside the lines should be.
 */
function onlyLines<File extends SpeedFile | CapsuleFile>(
  file: unknown,
  lines: readonly string[],
): File {
  const own = file as Fields | undefined;
  const numbers = Object.fromEntries(
    ["toleranceDeg", "includesInitialDeg"].map((field) => [
      field,
      typeof own?.[field] === "number" ? own[field] : undefined,
    ]),
  );
  return { source: "–", ...own, ...numbers, rows: undefined, lines } as unknown as File;
}

/** Without the place that the page shows anyway. */
function complaintOf(error: unknown): Said {
  if (!(error instanceof BobweightError) || error.said === null) throw error;
  const isShown =
    error instanceof PlaceError && (error.path === "lines" || error.path.startsWith('lines."'));
  return isShown ? said("{}.", error.complaint) : error.said;
}

function numberOr(value: unknown, other: number): number {
  return typeof value === "number" ? value : other;
}
