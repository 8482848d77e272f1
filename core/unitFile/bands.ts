// Bands of a unit file: its rows, or lines typed as printed, on the scales that file or line names.
import { said } from "../said.ts";
import type { Band, PrintedScales, Shaft } from "../unit.ts";
import { distributorFromCrankshaft, pascalsFrom, type VacuumUnit } from "../units.ts";
import { type PrintedLine, printedLines } from "./lines.ts";
import type { Place } from "./place.ts";
import { convertRows, type RowScales, type ScaledRow } from "./rows.ts";
import type { CapsuleFile, RowFile, SpeedFile } from "./schema.ts";

const SPEED_MAX_RPM = 20000;
/** Standard atmosphere (ISO 2533, from memory): no pump draws more. */
export const ATMOSPHERE_PA = 101325;

/**
 * @param tolerance the workshop's, in distributor degrees
 * @throws FILE_INVALID also where a scale is in doubt: it is asked for, never assumed
 */
export function speedBand(
  file: SpeedFile,
  driveRatio: number,
  tolerance: number,
  place: Place,
): Band {
  const initialDeg = file.includesInitialDeg ?? 0;
  const scales = (degrees: Shaft, rpm: Shaft): RowScales => ({
    ...degreeScales(degrees, driveRatio),
    printed: { degrees, x: rpm, includesInitial: initialDeg !== 0 },
    xWords: `${rpm} rpm`,
    xMax: SPEED_MAX_RPM,
    toX: (x) => (rpm === "crankshaft" ? distributorFromCrankshaft(x, driveRatio) : x),
    retard: false,
    initialDeg,
    toleranceDeg: file.toleranceDeg ?? null,
    workshopToleranceDeg: tolerance,
  });
  const ofLine = (line: PrintedLine, here: Place) => {
    if (line.vacuum !== null) here.fail(said("this is a vacuum. Put it into the capsule's lines"));
    if (line.acts === "retard") here.fail(said("weights that retard are not known"));
    if (line.beforeTopDeadCentre && file.includesInitialDeg === undefined) {
      here.fail(
        said(
          "degrees before top dead centre include the initial timing. How much is it? Say so in `includesInitialDeg`",
        ),
      );
    }
    const degrees = degreesOf(line, file, here);
    const rpm = line.row.endBy === null ? "distributor" : rpmOf(line, file, here);
    return scales(degrees, rpm);
  };
  const scaled = scaledRows(file, place, ofLine, () => {
    const { degrees, rpm } = file;
    if (degrees === undefined) return place.in("degrees").fail(MISSING_SHAFT);
    if (rpm === undefined) return place.in("rpm").fail(MISSING_SHAFT);
    return scales(degrees, rpm);
  });
  return bandOf(file, file.source, scaled, tolerance, place);
}

/** @throws FILE_INVALID likewise */
export function capsuleBand(
  file: CapsuleFile,
  driveRatio: number,
  tolerance: number,
  place: Place,
): Band | null {
  if (file.rows === undefined && file.lines === undefined) return null;
  const scales = (degrees: Shaft, vacuum: VacuumUnit): RowScales => ({
    ...degreeScales(degrees, driveRatio),
    printed: { degrees, x: vacuum, includesInitial: false },
    xWords: vacuum,
    xMax: ATMOSPHERE_PA,
    toX: (x) => pascalsFrom(x, vacuum),
    retard: file.acts === "retard",
    initialDeg: 0,
    toleranceDeg: file.toleranceDeg ?? null,
    workshopToleranceDeg: tolerance,
  });
  const ofLine = (line: PrintedLine, here: Place) => {
    if (line.isSpeed) here.fail(said("this is a speed. Put it into the lines of `speed`"));
    if (line.beforeTopDeadCentre) here.fail(said("a capsule's degrees are without initial timing"));
    if (line.acts !== null && line.acts !== (file.acts ?? "advance")) {
      here.fail(said("the line says {}, `acts` does not. Which is right?", line.acts));
    }
    const degrees = degreesOf(line, file, here);
    const vacuum = line.row.endBy === null ? "Pa" : vacuumOf(line, file, here);
    return scales(degrees, vacuum);
  };
  const scaled = scaledRows(file, place, ofLine, () => {
    const { degrees, vacuum } = file;
    if (degrees === undefined) return place.in("degrees").fail(MISSING_SHAFT);
    if (vacuum === undefined)
      return place.in("vacuum").fail(said("is missing: the unit of its vacuums"));
    return scales(degrees, vacuum);
  });
  if (file.source === undefined) {
    return place.in("source").fail(said("is missing: where are the rows printed"));
  }
  return bandOf(file, file.source, scaled, tolerance, place);
}

const MISSING_SHAFT = said('is missing: "distributor" or "crankshaft"');

interface RowsOrLines {
  readonly rows?: readonly RowFile[] | undefined;
  readonly lines?: string | readonly string[] | undefined;
}

function scaledRows(
  { rows, lines }: RowsOrLines,
  place: Place,
  ofLine: (line: PrintedLine, here: Place) => RowScales,
  ofRows: () => RowScales,
): readonly ScaledRow[] {
  if (rows !== undefined) {
    if (lines !== undefined)
      place.in("lines").fail(said("give either `rows` or `lines`, not both"));
    const scales = ofRows();
    return rows.map((file, i) => ({ file, scales, place: place.in("rows").in(i) }));
  }
  const here = place.in("lines");
  if (lines === undefined) return here.fail(said("is missing, and so is `rows`"));
  const text = typeof lines === "string" ? lines : lines.join("\n");
  return printedLines(text, here).map((line) => {
    const own = here.in(JSON.stringify(line.text));
    return { file: line.row, scales: ofLine(line, own), place: own };
  });
}

function bandOf(
  { judgedOn, ownTarget }: Pick<SpeedFile, "judgedOn" | "ownTarget">,
  source: string,
  scaled: readonly ScaledRow[],
  workshopToleranceDeg: number,
  place: Place,
): Band {
  if (scaled.length === 0) place.in("lines").fail(said("there is no line in it"));
  const converted = convertRows(scaled);
  return {
    rows: converted.rows,
    judgedOn: judgedOn ?? "both",
    source,
    workshopToleranceDeg: converted.workshopToleranceUsed ? workshopToleranceDeg : null,
    ...(ownTarget === true ? { isOwnTarget: true } : {}),
    scales: commonScales(scaled),
  };
}

function commonScales(scaled: readonly ScaledRow[]): PrintedScales | null {
  const [first, ...others] = scaled.map(({ scales }) => scales.printed);
  return first !== undefined &&
    others.every((one) => one.degrees === first.degrees && one.x === first.x)
    ? first
    : null;
}

/** Scales that the speed sweep and the vacuum sweep share. */
function degreeScales(
  degrees: Shaft,
  driveRatio: number,
): Pick<RowScales, "degreeWords" | "toDeg"> {
  return {
    degreeWords: `${degrees} degrees`,
    toDeg: (figure) =>
      degrees === "crankshaft" ? distributorFromCrankshaft(figure, driveRatio) : figure,
  };
}

interface DegreesFile {
  readonly degrees?: Shaft | undefined;
  readonly toleranceDeg?: number | undefined;
}

function degreesOf(line: PrintedLine, { degrees, toleranceDeg }: DegreesFile, here: Place): Shaft {
  const known = oneOfTwo("degrees", line.degrees, degrees, here);
  if (known !== null) return known;
  // A line without degrees, and without a tolerance in them, has nothing to be scaled.
  if (!line.hasDegrees && toleranceDeg === undefined) return "distributor";
  return here.fail(
    said(
      "are its degrees the distributor's or the crankshaft's? Say so in the line, \"14 crank at …\", or in `degrees`",
    ),
  );
}

function rpmOf(line: PrintedLine, { rpm }: SpeedFile, here: Place): Shaft {
  const known = oneOfTwo("rpm", line.rpm, rpm, here);
  return (
    known ??
    here.fail(
      said(
        "is its speed the distributor's or the engine's? Say so in the line, \"… at 2000 engine rpm\", or in `rpm`",
      ),
    )
  );
}

function vacuumOf(line: PrintedLine, { vacuum }: CapsuleFile, here: Place): VacuumUnit {
  const known = oneOfTwo("vacuum", line.vacuum, vacuum, here);
  return (
    known ??
    here.fail(
      said('which unit is its vacuum in? Say so in the line, "… at 250 mmHg", or in `vacuum`'),
    )
  );
}

/** What the line says or the file; null where neither does. */
function oneOfTwo<T extends string>(
  field: string,
  line: T | null,
  file: T | undefined,
  here: Place,
): T | null {
  if (line !== null && file !== undefined && line !== file) {
    here.fail(
      said(
        "the line says {}, `{}` says {}. Which is right? Change one, or take `{}` out",
        line,
        field,
        file,
        field,
      ),
    );
  }
  return line ?? file ?? null;
}
