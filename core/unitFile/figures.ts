// The figures of one row: single, range or with a tolerance, and their wording as it was written.
import { said } from "../said.ts";
import { type Figure, parseFigure } from "../units.ts";
import type { Place } from "./place.ts";
import type { FigureFile } from "./schema.ts";

/** @throws FILE_INVALID where it cannot be read, is negative or runs backwards. */
export function figureAt(file: FigureFile, place: Place): Figure {
  const read: Figure | null =
    typeof file === "number" ? { kind: "single", value: file } : parseFigure(file);
  if (read === null) {
    return place.fail(
      said(
        '{} is not a figure. Write 5.25, "5¼", "5 1/4", "5¼ to 7" or "5 ± 1"',
        JSON.stringify(file),
      ),
    );
  }
  if (read.kind === "single" && read.value < 0) place.fail(said("{} is negative", read.value));
  if (read.kind === "range" && read.from > read.to) {
    place.fail(said("the range runs backwards, from {} to {}", read.from, read.to));
  }
  return read;
}

/** @throws FILE_INVALID where it is a range. */
export function singleAt(file: FigureFile, place: Place): number {
  const read = figureAt(file, place);
  return read.kind === "single"
    ? read.value
    : place.fail(said("one figure is wanted here, not a range"));
}

/** The two ends of a range or a ± figure. A single figure is both ends. */
export function endsOf(figure: Figure): readonly [number, number] {
  if (figure.kind === "single") return [figure.value, figure.value];
  if (figure.kind === "range") return [figure.from, figure.to];
  return [figure.value - figure.tolerance, figure.value + figure.tolerance];
}

/** As it was written. */
export function wordingOf(file: FigureFile): string {
  return typeof file === "number" ? String(file) : file.trim();
}
