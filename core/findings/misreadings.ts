// A specification read on another scale than it was printed for: the curves that it would truly mean.
import type { PrintedScales } from "../unit.ts";
import { pascalsFrom } from "../units.ts";
import type { Nominal } from "./nominal.ts";

export interface Misreading {
  /** What was meant, against what the unit file says. */
  readonly part: string;
  /** Probability before anything is known. An assumption, no source. */
  readonly prior: number;
  readonly nominal: Nominal;
}

/** That it was read on a wrong scale: shared among all that it may truly be. */
const PRIOR = 0.01;

/** Vacuums whose figures are of a size, so that one may be taken for the other. */
const TAKEN_FOR = { kPa: "inHg", inHg: "kPa", mbar: "mmHg", mmHg: "mbar" } as const;
const VACUUM_WORDS = {
  inHg: "the vacuums are inches of mercury",
  kPa: "the vacuums are kilopascals",
  mmHg: "the vacuums are millimetres of mercury",
  mbar: "the vacuums are millibars",
} as const;
const VACUUM_UNITS = ["kPa", "inHg", "mbar", "mmHg"] as const;

/** Initial timing that may be in printed figures, at the distributor. */
const INITIAL_DEG = [1.5, 2, 3, 4, 5, 6, 8, 10, 12] as const;

type Meant = Omit<Misreading, "prior">;

/** @param scales as said in the unit file: what was meant is another one than that; null: any */
export function speedMisreadings(
  nominal: Nominal,
  scales: PrintedScales | null,
  driveRatio: number,
): readonly Misreading[] {
  const scaled = (part: string, x: number, angle: number): Meant => ({
    part,
    nominal: rescaled(nominal, x, angle),
  });
  const meant: Meant[] = [];
  if (driveRatio !== 1) {
    const byCrank = 1 / driveRatio;
    if (scales?.degrees !== "crankshaft") {
      meant.push(scaled("the degrees are crankshaft degrees", 1, byCrank));
    }
    if (scales?.degrees !== "distributor") {
      meant.push(scaled("the degrees are distributor degrees", 1, driveRatio));
    }
    if (scales?.x !== "crankshaft") meant.push(scaled("the speeds are engine speeds", byCrank, 1));
    if (scales?.x !== "distributor") {
      meant.push(scaled("the speeds are distributor speeds", driveRatio, 1));
    }
    const both = scales === null || scales.degrees === scales.x;
    if (both && scales?.x !== "crankshaft") {
      meant.push(scaled("all figures are the crankshaft's", byCrank, byCrank));
    }
    if (both && scales?.x !== "distributor") {
      meant.push(scaled("all figures are the distributor's", driveRatio, driveRatio));
    }
  }
  const lowered =
    scales?.includesInitial === true
      ? []
      : INITIAL_DEG.flatMap((deg): Meant[] => {
          const without = loweredBy(nominal, deg);
          return without === null ? [] : [{ part: "initial timing is included", nominal: without }];
        });
  const share = PRIOR / (meant.length + (lowered.length === 0 ? 0 : 1));
  return [
    ...meant.map((one) => ({ ...one, prior: share })),
    ...lowered.map((one) => ({ ...one, prior: share / lowered.length })),
  ];
}

/** @param scales likewise */
export function vacuumMisreadings(
  nominal: Nominal,
  scales: PrintedScales | null,
  driveRatio: number,
): readonly Misreading[] {
  const said = VACUUM_UNITS.filter((unit) => scales === null || scales.x === unit);
  const meant = said.map((unit): Meant => {
    const other = TAKEN_FOR[unit];
    return {
      part: VACUUM_WORDS[other],
      nominal: rescaled(nominal, pascalsFrom(1, other) / pascalsFrom(1, unit), 1),
    };
  });
  if (driveRatio !== 1 && scales?.degrees !== "crankshaft") {
    meant.push({
      part: "the degrees are crankshaft degrees",
      nominal: rescaled(nominal, 1, 1 / driveRatio),
    });
  }
  if (driveRatio !== 1 && scales?.degrees !== "distributor") {
    meant.push({
      part: "the degrees are distributor degrees",
      nominal: rescaled(nominal, 1, driveRatio),
    });
  }
  return meant.map((one) => ({ ...one, prior: PRIOR / meant.length }));
}

function rescaled(nominal: Nominal, x: number, angle: number): Nominal {
  const { knots, stopDeg, endX, halfWidthDeg, startDoubt, power } = nominal;
  return {
    ...nominal,
    knots: knots.map(({ advanceDeg, load }) => ({
      advanceDeg: angle * advanceDeg,
      load: x ** power * load,
    })),
    stopDeg: stopDeg === null ? null : angle * stopDeg,
    endX: endX === null ? null : x * endX,
    halfWidthDeg: angle * halfWidthDeg,
    startDoubt: x * startDoubt,
  };
}

/** Null where nothing would be left. */
function loweredBy(nominal: Nominal, deg: number): Nominal | null {
  const { knots, stopDeg } = nominal;
  const start = knots[0];
  const left = knots
    .map(({ advanceDeg, load }) => ({ advanceDeg: advanceDeg - deg, load }))
    .filter(({ advanceDeg }) => advanceDeg > 0);
  const first = left[0];
  if (start === undefined || first === undefined || left.length < 2) return null;
  // The printed figures begin at the timing itself, so that the start stands as printed or is led to.
  return {
    ...nominal,
    knots: [{ advanceDeg: 0, load: start.load }, ...left],
    stopDeg: stopDeg === null ? null : stopDeg - deg,
  };
}
