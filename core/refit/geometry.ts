// Lever arms, lever, drag and friction that a unit with springs of known dimensions may have, by its curves.
import type { CurvePoint } from "../documents.ts";
import type { DrawerSpring } from "../drawer/drawer.ts";
import { explain, whitened } from "../findings/evidence.ts";
import { sharedDeg } from "../mechanism/branchReading.ts";
import type { Branch } from "../unit.ts";
import {
  BEND_AT,
  countOf,
  DRAG_AT,
  FIRST_ARM_AT,
  GROWTH_AT,
  geometryBy,
  isSame,
  type Known,
  type Lengths,
  SCALE_AT,
  type Springs,
  STOP_AT,
  standWith,
} from "./cam.ts";
import type { Fitted, Installed } from "./installed.ts";
import { type Density, Sequence, walked } from "./walk.ts";

/** A curve as it was read, and the springs that were in when it was measured. */
export interface Curve {
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly installed: Installed;
  /** Where its readings count from. */
  readonly referenceRpm: number;
}

/** What a specification says of a sound unit; null where it does not. */
export interface Specified {
  readonly stopDeg: number | null;
  readonly startRpm: number | null;
}

/** What a spring carries at an advance in degrees: rpm², the square of the speed that it holds. */
export type Load = (advanceDeg: number) => number;

/** Where one spring hangs. */
export interface Place {
  /** What a spring there carries with its posts so much farther apart than they stand. */
  readonly loadOf: (spring: DrawerSpring, bendM: number) => Load;
  /** Between its posts. */
  readonly lengthM: (advanceDeg: number) => number;
  /** By how much its posts part for each degree. */
  readonly armM: (advanceDeg: number) => number;
}

export interface Geometry {
  readonly first: Place;
  readonly second: Place | null;
  /** What is no spring's, speed rising: the rubbing block's drag, and friction. */
  readonly rest: Load;
  /** What friction carries less of a load at an advance, coming back. */
  readonly gap: (advanceDeg: number, load: number) => number;
  readonly stopDeg: number;
}

export interface Geometries {
  readonly likeliest: Geometry;
  /** Each as likely as any other by what is measured. */
  readonly likely: readonly Geometry[];
  /** Share of the likely ones whose cam stood at rest at the reference. */
  readonly restShare: number;
  /** How far the likeliest one's curve lies off the readings, degrees, beyond their own uncertainty. */
  readonly modelErrorDeg: number;
}

/** Of the stop about the middle of what is specified, and about the measured travel where nothing is. */
const STOP_SPREAD_DEG = { specified: 0.35, measured: 1 };
/** What starts a sound unit where nothing is specified. An assumption, no source. */
const START_RPM = 450;
/** There are several likely places to search from. */
const STARTS: readonly (readonly (readonly [number, number])[])[] = [
  [],
  [[FIRST_ARM_AT, 1]],
  [[DRAG_AT, -1]],
  [[STOP_AT, 1.2]],
  [[STOP_AT, -1.2]],
  [
    [STOP_AT, 1.2],
    [GROWTH_AT, -1],
  ],
  [
    [STOP_AT, -1.2],
    [BEND_AT, 1],
  ],
];
/** In steps of the lever's spread. */
const SCALES = [-3, -2.4, -1.8, -1.2, -0.6, 0, 0.6, 1.2, 1.8, 2.4, 3] as const;
/** Own error of a reading, degrees, and of its speed, as a share of the load. */
const OWN_DEG = 0.03;
const OWN_SHARE = 0.006;
/** Cams that move less tell of no spring. */
const LEAST_TRAVEL_DEG = 0.5;
const AT_REST_DEG = 0.05;

/** Of one unit that was measured with several springs in turn, the latest first. */
interface Reading {
  readonly state: number;
  readonly branch: Branch;
  readonly x: number;
  readonly deg: number;
  readonly ownDeg: number;
  readonly sharedDeg: number;
}

/** Null where a spring's lengths are not known, or no cam moved. */
export function geometriesOf(states: readonly Curve[], specified: Specified): Geometries | null {
  const [latest] = states;
  const lengths = latest === undefined ? null : lengthsOf(latest.installed);
  const travelDeg = Math.max(
    ...states.flatMap(({ rising }) => rising.map(({ advanceDeg }) => advanceDeg)),
  );
  if (lengths === null || !(travelDeg > LEAST_TRAVEL_DEG)) return null;
  const known: Known = {
    lengths,
    stop: {
      deg: specified.stopDeg ?? travelDeg,
      spreadDeg: STOP_SPREAD_DEG[specified.stopDeg === null ? "measured" : "specified"],
    },
    startRpm: specified.startRpm ?? START_RPM,
    springs: seenIn(states),
  };
  const readings = states.flatMap(readingsOf);
  const predict = (standard: readonly number[]) => predicted(known, states, standard);
  const values = readings.map(({ deg }) => deg);
  const centred = (factor: number) => whitened(values, covarianceOf(readings, factor));
  const plain = centred(1);
  const misfit = (standard: readonly number[]) => {
    const off = plain.whiten(predict(standard));
    return off.reduce((sum, one, i) => sum + (one - (plain.values[i] as number)) ** 2, 0);
  };
  const nothing = new Array<number>(countOf(known)).fill(0);
  const starts = STARTS.map((changes) => {
    const from = changes.reduce((all, [number, at]) => all.with(number, at), nothing);
    const scaled = SCALES.map((scale) => from.with(SCALE_AT, scale));
    return scaled.reduce((best, one) => (misfit(one) < misfit(best) ? one : best));
  });
  const found = starts.map((start) => explain(plain, [start], predict).sizes);
  const best = found.reduce((one, other) => (misfit(other) < misfit(one) ? other : one));
  // What the form cannot meet makes all readings worth less.
  const factor = Math.max(1, Math.sqrt(misfit(best) / readings.length));
  const judged = centred(factor);
  const density: Density = (standard) => {
    const off = judged.whiten(predict(standard));
    let sum = 0;
    for (let i = 0; i < off.length; i++)
      sum += ((off[i] as number) - (judged.values[i] as number)) ** 2;
    for (const size of standard) sum += size ** 2;
    return -sum / 2;
  };
  const likely = walked(density, found).map((standard, i) =>
    geometryBy(known, standard, (name) => drawn(`${i} ${name}`)),
  );
  const likeliest = geometryBy(
    known,
    found.reduce((one, other) => (density(other) > density(one) ? other : one)),
    AS_READ,
  );
  const { installed, referenceRpm } = latest as Curve;
  const springs = springsOf(installed);
  const atRest = likely.filter(
    (one) => standWith(one, springs).at(referenceRpm, "rising") < AT_REST_DEG,
  );
  return {
    likeliest,
    likely,
    restShare: atRest.length / likely.length,
    modelErrorDeg: factor > 1 ? OWN_DEG * factor : 0,
  };
}

/** Dimensions without error. */
const AS_READ = () => ({ rate: 0, length: 0 });

/** Errors that no curve has shown: always the same ones for a name. */
function drawn(name: string) {
  const chance = new Sequence(name);
  return { rate: chance.normal(), length: chance.normal() };
}

function seenIn(states: readonly Curve[]): readonly DrawerSpring[] {
  const springs = states.flatMap(({ installed }) =>
    springsOf(installed).flatMap((spring) => (spring === null ? [] : [spring])),
  );
  return springs.filter((spring, i) => springs.findIndex((other) => isSame(spring, other)) === i);
}

/** First and second spring's; null where one that is in was not measured. */
function lengthsOf({ first, second }: Installed): readonly [Lengths, Lengths | null] | null {
  const of = (fitted: Fitted | null): Lengths | null =>
    fitted === null || fitted.restLengthM === null || fitted.stopLengthM === null
      ? null
      : [fitted.restLengthM, fitted.stopLengthM];
  const [own, other] = [of(first), of(second)];
  return own === null || (second !== null && other === null) ? null : [own, other];
}

function springsOf({ first, second }: Installed): Springs {
  return [first?.spring ?? null, second?.spring ?? null];
}

function readingsOf({ rising, falling, referenceRpm }: Curve, state: number): readonly Reading[] {
  const on = (points: readonly CurvePoint[], branch: Branch) => {
    const ordered = [...points].sort((a, b) => a.x - b.x);
    return ordered.map((point, i): Reading => {
      const { x, advanceDeg } = point;
      const [low, high] = [ordered[i - 1] ?? point, ordered[i + 1] ?? point];
      const logLoads = 2 * Math.log(high.x / low.x);
      const perLog = logLoads > 0 ? Math.abs(high.advanceDeg - low.advanceDeg) / logLoads : 0;
      return {
        state,
        branch,
        x,
        deg: advanceDeg,
        ownDeg: Math.hypot(OWN_DEG, OWN_SHARE * perLog),
        sharedDeg: x === referenceRpm ? 0 : sharedDeg(point),
      };
    });
  };
  return [...on(rising, "rising"), ...on(falling, "falling")];
}

/** In the order of the readings. */
function predicted(
  known: Known,
  states: readonly Curve[],
  standard: readonly number[],
): readonly number[] {
  const geometry = geometryBy(known, standard, AS_READ);
  return states.flatMap(({ rising, falling, installed, referenceRpm }) => {
    const stand = standWith(geometry, springsOf(installed));
    const fromDeg = stand.at(referenceRpm, "rising");
    // Coming back it starts from where it had got to.
    const topRpm = Math.max(...rising.map(({ x }) => x), ...falling.map(({ x }) => x));
    const topDeg = stand.at(topRpm, "rising");
    const inOrder = (points: readonly CurvePoint[]) => [...points].sort((a, b) => a.x - b.x);
    return [
      ...inOrder(rising).map(({ x }) => stand.at(x, "rising") - fromDeg),
      ...inOrder(falling).map(({ x }) => Math.min(topDeg, stand.at(x, "falling")) - fromDeg),
    ];
  });
}

/** What readings of one state share moves them together. */
function covarianceOf(readings: readonly Reading[], factor: number): number[][] {
  return readings.map((one, i) =>
    readings.map((other, j) => {
      const shared = one.state === other.state ? one.sharedDeg * other.sharedDeg : 0;
      return shared + (i === j ? (factor * one.ownDeg) ** 2 : 0);
    }),
  );
}
