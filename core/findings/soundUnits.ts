// What sound units there may be by a specification: springs, lever and stop, none of them known exactly.
import type { Nominal } from "./nominal.ts";
import { leverAt, type Place, read, type Shape } from "./shape.ts";

/** All that a specification leaves open of a sound unit, each a standard normal number beforehand. */
export interface SoundUnits {
  /** Where a search may begin: there are several likely places. */
  readonly starts: readonly (readonly number[])[];
  /** The numbers stand in `standard` from place `from` on. */
  readonly shapeOf: (standard: readonly number[], from?: number) => Shape;
  /** Advance in degrees that printed rows between start and end ask for, and by how much sound units differ there. */
  readonly rows: {
    readonly places: readonly Place[];
    readonly degrees: readonly number[];
    readonly doubtDeg: number;
  };
}

/** How sound units differ from the middle of their band, as a share of its half width. An assumption, no source. */
const SOUND_SHARE = 0.3;
/**
 * Where no largest advance is printed: the stop beyond the last row, as a share of its advance. Most
 * last rows are printed near the stop. An assumption, no source.
 */
const BEYOND_LAST = { median: 0.08, spread: 1.6 } as const;
/** Friction of sound units: half the gap as a share of the load. An assumption, no source. */
const FRICTION = { median: 0.012, spread: 0.7 } as const;
const MOST_FRICTION = 0.9;
const LEAST_RISE_SHARE = 0.05;
/**
 * How the lever of the weights' pull changes, by a degree of advance; of the moment's whole rise
 * what the first spring makes; where the second takes up as a share of the travel. Assumptions, no
 * source; wide enough for simulated geometry (npm run evaluate).
 */
const LEVER = {
  weights: { perDeg: { mean: 0.005, spread: 0.025 }, bend: { median: 0.12, spread: 0.9 } },
  capsule: { perDeg: { mean: 0, spread: 0.01 }, bend: { median: 0.02, spread: 0.9 } },
} as const;
const FIRST_SHARE_SPREAD = 0.8;
const KNEE_SPREAD = 0.6;
const KNEE_STARTS = [-1.2, 0, 1.2] as const;

/** The numbers, in their order; the last two only with a second spring. */
const [FRICTION_AT, START_AT, END_AT, STOP_AT, LEVER_AT, BEND_AT, KNEE_AT, FIRST_SHARE_AT] = [
  0, 1, 2, 3, 4, 5, 6, 7,
] as const;

export function soundUnits(nominal: Nominal, hasSecond: boolean): SoundUnits {
  const { knots, power, halfWidthDeg } = nominal;
  const stopDeg = nominal.stopDeg ?? Number.POSITIVE_INFINITY;
  const rows = [
    ...knots
      .filter(({ advanceDeg }) => advanceDeg > 0 && advanceDeg < stopDeg)
      .map(({ load, advanceDeg }) => ({ x: rootOf(load, power), advanceDeg })),
    ...(nominal.endX === null ? [] : [{ x: nominal.endX, advanceDeg: stopDeg }]),
  ];
  const count = hasSecond ? 8 : 6;
  const nothing = new Array<number>(count).fill(0);
  return {
    starts: hasSecond ? KNEE_STARTS.map((at) => nothing.with(KNEE_AT, at)) : [nothing],
    shapeOf: (standard, from = 0) => shapeOf(nominal, standard, from, hasSecond),
    rows: {
      places: rows.map(({ x }) => ({ x, branch: "rising" })),
      degrees: rows.map(({ advanceDeg }) => advanceDeg),
      doubtDeg: SOUND_SHARE * halfWidthDeg,
    },
  };
}

function shapeOf(
  nominal: Nominal,
  standard: readonly number[],
  from: number,
  hasSecond: boolean,
): Shape {
  const { knots, power, startDoubt, endDoubtShare } = nominal;
  const at = (index: number) => standard[from + index] ?? 0;
  const end = endOf(nominal, at(STOP_AT));
  const stopDeg = Math.max(0.5, end.advanceDeg);
  const startX = rootOf(knots[0]?.load ?? 1, power);
  const fromX = softAbove(startX + startDoubt * at(START_AT), 0.1 * startX);
  const startLoad = power === 2 ? fromX * fromX : fromX;
  const endLoad = Math.max(
    (1 + LEAST_RISE_SHARE) * startLoad,
    end.load * Math.exp(power * endDoubtShare * at(END_AT)),
  );
  const { perDeg, bend } = power === 2 ? LEVER.weights : LEVER.capsule;
  const grown = perDeg.mean + perDeg.spread * at(LEVER_AT);
  // Seldom much, and the more the weights swing out: as far below none as half its median.
  const bent = (lognormal(bend, at(BEND_AT)) - bend.median / 2) / stopDeg ** 2;
  const lever = { perDeg: grown, perDeg2: bent };
  const rise = Math.max(
    LEAST_RISE_SHARE * startLoad,
    endLoad * leverAt(lever, stopDeg) - startLoad,
  );
  const kneeDeg = stopDeg * logistic(KNEE_SPREAD * at(KNEE_AT));
  const firstShare = hasSecond ? logistic(FIRST_SHARE_SPREAD * at(FIRST_SHARE_AT)) : 1;
  const firstSlope = (firstShare * rise) / stopDeg;
  const secondSlope = ((1 - firstShare) * rise) / (stopDeg - kneeDeg);
  const friction = Math.min(MOST_FRICTION, lognormal(FRICTION, at(FRICTION_AT)));
  return {
    power,
    first: { restLoad: startLoad, fromDeg: 0, loadPerDeg: firstSlope, leastLoad: 0 },
    second: { restLoad: 0, fromDeg: kneeDeg, loadPerDeg: secondSlope, leastLoad: 0 },
    lever,
    stopDeg,
    friction,
    soundFriction: friction,
    isStuck: false,
    leftDeg: 0,
    delayUs: 0,
  };
}

/** Where the stop is met: about where it is printed, else at the last row or anywhere beyond. */
function endOf(
  { knots, stopDeg, halfWidthDeg }: Nominal,
  standard: number,
): Nominal["knots"][number] {
  const [first, last] = [knots[0], knots.at(-1)];
  if (first === undefined || last === undefined) throw new Error("a nominal curve without places");
  const advanceDeg =
    stopDeg === null
      ? last.advanceDeg * (1 + lognormal(BEYOND_LAST, standard))
      : stopDeg + SOUND_SHARE * halfWidthDeg * standard;
  if (stopDeg !== null && last.advanceDeg >= stopDeg) return { advanceDeg, load: last.load };
  const share = (stopDeg ?? advanceDeg) / last.advanceDeg;
  return { advanceDeg, load: first.load + share * (last.load - first.load) };
}

function rootOf(load: number, power: 1 | 2): number {
  return power === 2 ? Math.sqrt(load) : load;
}

function logistic(value: number): number {
  return 1 / (1 + Math.exp(-value));
}

/** As it is, but never at or below the least. */
function softAbove(value: number, least: number): number {
  return value > 2 * least ? value : least * (1 + Math.exp(value / least - 2));
}

export function lognormal(
  { median, spread }: { readonly median: number; readonly spread: number },
  standard: number,
): number {
  return median * Math.exp(spread * Math.max(-8, Math.min(8, standard)));
}

/** What the rows between start and end would read of one of these sound units, into `degrees` from `at` on. */
export function readRows(
  { rows }: SoundUnits,
  sound: Shape,
  degrees: Float64Array,
  at: number,
): void {
  read({ ...sound, friction: 0, soundFriction: 0 }, rows.places, 0, degrees, at);
}
