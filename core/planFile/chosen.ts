// Sweeps that choose their own readings, from a plan file: their range, their printed rows, their limits.

import type { SweepChoice } from "../plan.ts";
import { said } from "../said.ts";
import type { Band } from "../unit.ts";
import type { Place } from "../unitFile/place.ts";
import { pascalsFrom } from "../units.ts";
import type { ChooseSpeedsFile, ChooseVacuumsFile } from "./schema.ts";
import { printedPlaces } from "./stations.ts";

const KNOWN_WITHIN_DEG = 0.1;
const READINGS_MAX = 90;
const SECONDS_MAX = 1200;

/** The places that get a reading whatever is known there, and how long to go on. */
export interface ChosenSweep {
  readonly places: readonly number[];
  readonly choice: SweepChoice;
}

/** `listed`: the places of the default plan, whose ends are the range where the file gives none. */
export function chosenSpeeds(
  file: ChooseSpeedsFile,
  listed: readonly number[],
  band: Band | null,
  place: Place,
): ChosenSweep {
  const range = { low: file.lowestRpm ?? listed[0], high: file.highestRpm ?? listed.at(-1) };
  return { places: placesIn(range, band, 10, place), choice: choiceOf(file) };
}

export function chosenVacuums(
  file: ChooseVacuumsFile,
  listed: readonly number[],
  band: Band | null,
  place: Place,
): ChosenSweep {
  const pascals = (value: number | undefined) =>
    value === undefined || file.unit === undefined ? undefined : pascalsFrom(value, file.unit);
  const range = {
    low: pascals(file.lowest) ?? listed.find((pa) => pa > 0),
    high: pascals(file.highest) ?? listed.at(-1),
  };
  return { places: placesIn(range, band, 1, place), choice: choiceOf(file) };
}

function choiceOf(file: ChooseSpeedsFile | ChooseVacuumsFile): SweepChoice {
  return {
    knownWithinDeg: file.knownWithinDeg ?? KNOWN_WITHIN_DEG,
    readingsMax: file.readingsMax ?? READINGS_MAX,
    secondsMax: file.secondsMax ?? SECONDS_MAX,
  };
}

/** Ends of the range and the printed rows within it, in rising order, as finely as the rig can be told. */
function placesIn(
  { low, high }: { readonly low: number | undefined; readonly high: number | undefined },
  band: Band | null,
  perUnit: number,
  place: Place,
): readonly number[] {
  if (low === undefined || high === undefined) return [];
  if (!(low < high)) place.fail(said("its lowest, {}, is not below its highest, {}", low, high));
  const rows = printedPlaces(band).filter((x) => x > low && x < high);
  const rounded = [low, ...rows, high].map((x) => Math.round(x * perUnit) / perUnit);
  return [...new Set(rounded)].sort((a, b) => a - b);
}
