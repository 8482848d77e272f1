// A specification read on another scale than it was printed for: the curves that it would truly mean.
import type { PrintedScales, Shaft } from "../unit.ts";
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

type Figures = "degrees" | "x" | "both";

/** Figures that may be another shaft's than was said. */
const SHAFT_PARTS: readonly { figures: Figures; meant: Shaft; part: string }[] = [
  { figures: "degrees", meant: "crankshaft", part: "the degrees are crankshaft degrees" },
  { figures: "degrees", meant: "distributor", part: "the degrees are distributor degrees" },
  { figures: "x", meant: "crankshaft", part: "the speeds are engine speeds" },
  { figures: "x", meant: "distributor", part: "the speeds are distributor speeds" },
  { figures: "both", meant: "crankshaft", part: "all figures are the crankshaft's" },
  { figures: "both", meant: "distributor", part: "all figures are the distributor's" },
];

/** Vacuums whose figures are of a size, so that one may be taken for the other. */
const VACUUM_PARTS = [
  { said: "kPa", meant: "inHg", part: "the vacuums are inches of mercury" },
  { said: "inHg", meant: "kPa", part: "the vacuums are kilopascals" },
  { said: "mbar", meant: "mmHg", part: "the vacuums are millimetres of mercury" },
  { said: "mmHg", meant: "mbar", part: "the vacuums are millibars" },
] as const;

/** Initial timing that may be in printed figures, at the distributor. */
const INITIAL_DEG = [1.5, 2, 3, 4, 5, 6, 8, 10, 12] as const;
const INITIAL_PART = "initial timing is included";

type Meant = Omit<Misreading, "prior">;

/** @param scales as said in the unit file: what was meant is another one than that; null: any */
export function speedMisreadings(
  nominal: Nominal,
  scales: PrintedScales | null,
  driveRatio: number,
): readonly Misreading[] {
  const lowered = scales?.includesInitial === true ? [] : INITIAL_DEG;
  return withPriors([
    ...otherShafts(nominal, scales, driveRatio, ["degrees", "x", "both"]),
    ...lowered.flatMap((deg): Meant[] => {
      const without = loweredBy(nominal, deg);
      return without === null ? [] : [{ part: INITIAL_PART, nominal: without }];
    }),
  ]);
}

/** @param scales likewise */
export function vacuumMisreadings(
  nominal: Nominal,
  scales: PrintedScales | null,
  driveRatio: number,
): readonly Misreading[] {
  const units = VACUUM_PARTS.filter(({ said }) => scales === null || scales.x === said);
  return withPriors([
    ...units.map(({ said, meant, part }): Meant => {
      const times = pascalsFrom(1, meant) / pascalsFrom(1, said);
      return { part, nominal: rescaled(nominal, times, 1) };
    }),
    ...otherShafts(nominal, scales, driveRatio, ["degrees"]),
  ]);
}

function otherShafts(
  nominal: Nominal,
  scales: PrintedScales | null,
  driveRatio: number,
  of: readonly Figures[],
): readonly Meant[] {
  if (driveRatio === 1) return [];
  const isPossible = (figures: Figures, meant: Shaft) => {
    if (scales === null) return true;
    const said = figures === "both" ? [scales.degrees, scales.x] : [scales[figures]];
    return !said.includes(meant);
  };
  return SHAFT_PARTS.filter(
    ({ figures, meant }) => of.includes(figures) && isPossible(figures, meant),
  ).map(({ figures, meant, part }) => {
    const times = meant === "crankshaft" ? 1 / driveRatio : driveRatio;
    const [x, angle] = [figures === "degrees" ? 1 : times, figures === "x" ? 1 : times];
    return { part, nominal: rescaled(nominal, x, angle) };
  });
}

/** Every part is as likely as any other, whatever sizes it comes in. */
function withPriors(meant: readonly Meant[]): readonly Misreading[] {
  const parts = new Set(meant.map(({ part }) => part)).size;
  return meant.map((one) => {
    const sizes = meant.filter(({ part }) => part === one.part).length;
    return { ...one, prior: PRIOR / parts / sizes };
  });
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
