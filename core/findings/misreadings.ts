// A specification read on another scale than it was printed for: the curves that it would truly mean.
import type { Nominal } from "./nominal.ts";

export interface Misreading {
  /** What was meant, against what the unit file says. */
  readonly part: string;
  /** Probability before anything is known. An assumption, no source. */
  readonly prior: number;
  readonly nominal: Nominal;
}

const PRIOR = 0.006;

/** Truly meant over read. */
const SCALES = [
  { part: "the degrees are crankshaft degrees", x: 1, angle: 0.5 },
  { part: "the degrees are distributor degrees", x: 1, angle: 2 },
  { part: "the speeds are engine speeds", x: 0.5, angle: 1 },
  { part: "the speeds are distributor speeds", x: 2, angle: 1 },
  { part: "all figures are the crankshaft's", x: 0.5, angle: 0.5 },
  { part: "all figures are the distributor's", x: 2, angle: 2 },
] as const;

const INCH_PER_KPA = 3.386;
const MILLIMETRE_PER_MBAR = 1.333;
const VACUUM_UNITS = [
  { part: "the vacuums are inches of mercury", x: INCH_PER_KPA },
  { part: "the vacuums are kilopascals", x: 1 / INCH_PER_KPA },
  { part: "the vacuums are millimetres of mercury", x: MILLIMETRE_PER_MBAR },
  { part: "the vacuums are millibars", x: 1 / MILLIMETRE_PER_MBAR },
] as const;

/** Initial timing that may be in printed figures, at the distributor. */
const INITIAL_DEG = [1.5, 2, 3, 4, 5, 6, 8, 10, 12] as const;

export function speedMisreadings(nominal: Nominal): readonly Misreading[] {
  const scaled = SCALES.map(({ part, x, angle }) => ({
    part,
    prior: PRIOR,
    nominal: rescaled(nominal, x, angle),
  }));
  const lowered = INITIAL_DEG.flatMap((deg): Misreading[] => {
    const without = loweredBy(nominal, deg);
    return without === null
      ? []
      : [
          {
            part: "initial timing is included",
            prior: PRIOR / INITIAL_DEG.length,
            nominal: without,
          },
        ];
  });
  return [...scaled, ...lowered];
}

export function vacuumMisreadings(nominal: Nominal): readonly Misreading[] {
  return [
    ...SCALES.filter(({ x }) => x === 1).map(({ part, angle }) => ({
      part,
      prior: PRIOR,
      nominal: rescaled(nominal, 1, angle),
    })),
    ...VACUUM_UNITS.map(({ part, x }) => ({
      part,
      prior: PRIOR,
      nominal: rescaled(nominal, x, 1),
    })),
  ];
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
