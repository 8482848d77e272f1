// Lever arms, lever and drag of a unit whose springs are known by their dimensions, read off its curves.
import type { CurvePoint } from "../documents.ts";
import { type DrawerSpring, rateOf } from "../drawer/drawer.ts";
import { springLoadN } from "../drawer/spring.ts";
import { explain, whitened } from "../findings/evidence.ts";
import { lognormal } from "../findings/soundUnits.ts";
import type { Fitted, Installed } from "./installed.ts";

/** A curve by advance from the cam's rest, and the springs that were in when it was measured. */
export interface MeasuredState {
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly installed: Installed;
  /** Where readings count from: its rest, or an advance that is thought to be so. */
  readonly reference: { readonly speedRpm: number; readonly advanceDeg: number };
  /** Whether the cam's rest was seen; else advance is counted from where it is thought to be. */
  readonly isRestSeen: boolean;
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
  /** What friction carries less, coming back. */
  readonly gap: Load;
  readonly stopDeg: number;
}

/**
 * What the springs' dimensions leave open, with what to expect of it beforehand; assumptions, no
 * source, wide enough for simulated geometry. The logarithm of the weights' lever grows over the travel,
 * and a spring's arm from the first degree to the last.
 */
const LEVER = { growth: { mean: 0.05, spread: 0.3 }, bend: { mean: 0.12, spread: 0.25 } };
const ARM_GROWTH = { mean: 0.13, spread: 0.08 };
/** At most, as a share of the springs' moment at the stop; in the middle of what is likely a sixth of it. */
const MOST_DRAG = 0.05;
const FRICTION = { median: 0.012, spread: 0.7 };
const SCALE_SPREAD = 0.4;
/** Of where the cam is thought to stand at rest, where that was not seen. */
const REST_SPREAD_DEG = 0.35;
const COUNT = 8;
/** There are several likely places: by the lever, the first spring's arm, and where the cam rests. */
const STARTS = [
  [1, 0],
  [1, -1],
  [1, 1],
  [5, -1.5],
  [5, 1.5],
  [7, -1],
  [7, 1],
] as const;
/** Of the load at an advance: along the curve by the form, and by each reading itself. */
const FORM_SHARE = 0.015;
const OWN_SHARE = 0.006;
const REACH_SHARE = 0.3;
const LEAST_OWN_DEG = { seen: 0.03, unseen: 0.06 };
/** Closer to rest or stop a reading tells nothing of the load. */
const FROM_END_DEG = 0.15;
/** Where the model is farther off it is the place on the curve, and not the load, that is. */
const MOST_OFF = 1.1;
const LEAST_READINGS = 4;
/** Standard uncertainty of the load at the reference, whose advance is part of all others. */
const REFERENCE_SHARE = 0.05;

/** A reading on the slope: which load holds the cam there. */
interface Reading {
  readonly state: number;
  readonly isRestSeen: boolean;
  readonly isReference: boolean;
  readonly sign: 1 | -1;
  readonly deg: number;
  readonly logLoad: number;
  /** Standard uncertainty of the logarithm. */
  readonly own: number;
}

/**
 * Of one unit that was measured with several springs in turn, the latest first.
 * Null where a spring's lengths are not known, or too few readings lie on the slope.
 */
export function geometryOf(states: readonly MeasuredState[], stopDeg: number): Geometry | null {
  const [latest] = states;
  const lengths = latest === undefined ? null : lengthsOf(latest.installed);
  if (latest === undefined || lengths === null) return null;
  const readings = states.flatMap((state, i) => readingsOf(state, i, stopDeg));
  if (readings.length < LEAST_READINGS) return null;
  const springs = states.map(({ installed: { first, second } }) => [
    first?.spring ?? null,
    second?.spring ?? null,
  ]);
  const modelAt = (standard: readonly number[], scale: number) =>
    new Model(lengths, springs[0] ?? [], stopDeg, latest, standard, scale);
  const logsOf = (model: Model) =>
    readings.map((reading) => {
      const at = model.placeOf(reading);
      const log = Math.log(model.loadOf(springs[reading.state] ?? [], at, reading.sign));
      // A cam at rest need not be in balance: it is held back by as much as its spring likes.
      return reading.isReference && at === 0 ? Math.min(log, reading.logLoad) : log;
    });
  const nothing = new Array<number>(COUNT).fill(0);
  const bare = logsOf(modelAt(nothing, 1));
  const scale = Math.exp(median(readings.map(({ logLoad }, i) => logLoad - (bare[i] as number))));
  const { sizes } = explain(
    whitened(
      readings.map(({ logLoad }) => logLoad),
      covarianceOf(readings, stopDeg),
    ),
    STARTS.map(([number, at]) => nothing.with(number, at)),
    (standard) => logsOf(modelAt(standard, scale)),
  );
  const model = modelAt(sizes, scale);
  const rising = readings.filter(({ state, sign }) => state === 0 && sign > 0);
  return model.geometryThrough(rising, latest.isRestSeen);
}

type Lengths = readonly [rest: number, stop: number];

/** First and second spring's; null where one that is in was not measured. */
function lengthsOf({ first, second }: Installed): readonly [Lengths, Lengths | null] | null {
  const of = (fitted: Fitted | null): Lengths | null =>
    fitted === null || fitted.restLengthM === null || fitted.stopLengthM === null
      ? null
      : [fitted.restLengthM, fitted.stopLengthM];
  const [own, other] = [of(first), of(second)];
  return own === null || (second !== null && other === null) ? null : [own, other];
}

/** By the logarithms' centre, and what is open beforehand as standard normal numbers. */
class Model {
  /** By how much a rest that was not seen stands elsewhere than thought. */
  readonly shiftDeg: number;
  private readonly places: readonly [Place, Place | null];
  private readonly springs: Springs;
  private readonly lever: Load;
  private readonly stopDeg: number;
  private readonly friction: number;
  private readonly dragMoment: number;

  constructor(
    [first, second]: readonly [Lengths, Lengths | null],
    springs: Springs,
    thoughtStopDeg: number,
    { isRestSeen, reference: { advanceDeg: hiddenDeg } }: MeasuredState,
    standard: readonly number[],
    centre: number,
  ) {
    const [scaled = 0, grown = 0, bent = 0, dragged = 0, rubbed = 0, one = 0, two = 0, rest = 0] =
      standard;
    const scale = centre * Math.exp(SCALE_SPREAD * scaled);
    const growth = LEVER.growth.mean + LEVER.growth.spread * grown;
    const bend = LEVER.bend.mean + LEVER.bend.spread * bent;
    this.shiftDeg = Math.max(-hiddenDeg, REST_SPREAD_DEG * rest);
    const stopDeg = isRestSeen ? thoughtStopDeg : thoughtStopDeg + this.shiftDeg;
    this.stopDeg = stopDeg;
    this.springs = springs;
    this.friction = lognormal(FRICTION, rubbed);
    const lever = (deg: number) => {
      const share = deg / stopDeg;
      return Math.exp(growth * share + bend * share ** 2);
    };
    this.lever = lever;
    const place = ([restM, stopM]: Lengths, arm: number): Place => {
      const armGrowth = ARM_GROWTH.mean + ARM_GROWTH.spread * arm;
      const lengthM = (deg: number) => {
        const share = deg / stopDeg;
        return restM + (stopM - restM) * (share + armGrowth * share * (share - 1));
      };
      const armM = (deg: number) =>
        ((stopM - restM) / stopDeg) * Math.max(0.05, 1 + armGrowth * ((2 * deg) / stopDeg - 1));
      const loadOf = (spring: DrawerSpring, bendM: number): Load => {
        const rate = rateOf(spring).rateNPerM;
        return (deg) => {
          const stretchM = lengthM(deg) + bendM - spring.freeLengthM;
          return (scale * armM(deg) * springLoadN(spring, rate, stretchM)) / lever(deg);
        };
      };
      return { lengthM, armM, loadOf };
    };
    this.places = [place(first, one), second === null ? null : place(second, two)];
    const atStop = this.springsLoad(springs, stopDeg) * lever(stopDeg);
    this.dragMoment = (MOST_DRAG / (1 + 5 * Math.exp(-dragged))) * atStop;
  }

  /** From the cam's rest, which it cannot stand behind. */
  placeOf({ deg, isRestSeen }: Pick<Reading, "deg" | "isRestSeen">): number {
    return isRestSeen ? deg : Math.max(0, deg + this.shiftDeg);
  }

  loadOf(springs: Springs, deg: number, sign: 1 | -1): number {
    const load = this.springsLoad(springs, deg) + this.dragMoment / this.lever(deg);
    const middle = this.springsLoad(springs, this.stopDeg / 2);
    return Math.max(1, load + (sign * this.friction * (load + middle)) / 2);
  }

  /** All loads by the share that the readings of the latest curve lie off the model, between them and beyond. */
  geometryThrough(rising: readonly Reading[], isRestSeen: boolean): Geometry {
    const off = rising.map(({ deg, logLoad }) => {
      const at = this.placeOf({ deg, isRestSeen });
      const share = Math.exp(logLoad) / this.loadOf(this.springs, at, 1);
      return { deg: at, share: Math.min(MOST_OFF, Math.max(1 / MOST_OFF, share)) };
    });
    const through =
      (load: Load): Load =>
      (deg) =>
        shareAt(off, deg) * load(deg);
    const placed = (place: Place): Place => ({
      ...place,
      loadOf: (spring, bendM) => through(place.loadOf(spring, bendM)),
    });
    const [first, second] = this.places;
    const bare = (deg: number) => this.springsLoad(this.springs, deg);
    return {
      first: placed(first),
      second: second === null ? null : placed(second),
      rest: through((deg) => this.loadOf(this.springs, deg, 1) - bare(deg)),
      gap: through((deg) => this.loadOf(this.springs, deg, 1) - this.loadOf(this.springs, deg, -1)),
      stopDeg: this.stopDeg,
    };
  }

  private springsLoad([first = null, second = null]: Springs, deg: number): number {
    const of = (place: Place | null, spring: DrawerSpring | null) =>
      place === null || spring === null ? 0 : place.loadOf(spring, 0)(deg);
    return of(this.places[0], first) + of(this.places[1], second);
  }
}

/** First and second; null for none. */
type Springs = readonly (DrawerSpring | null)[];

/** Between readings in proportion, beyond them as at the last. */
function shareAt(off: readonly { readonly deg: number; readonly share: number }[], deg: number) {
  const above = off.findIndex((one) => one.deg > deg);
  const [low, high] = [off[above - 1], off[above]];
  if (above < 0) return off.at(-1)?.share ?? 1;
  if (low === undefined || high === undefined) return off[0]?.share ?? 1;
  const part = (deg - low.deg) / (high.deg - low.deg);
  return low.share + part * (high.share - low.share);
}

function readingsOf(
  { rising, falling, isRestSeen, reference }: MeasuredState,
  state: number,
  stopDeg: number,
): Reading[] {
  // Where the cam had left its rest it stood in balance at the reference too.
  const before: Reading = {
    state,
    isRestSeen,
    isReference: true,
    sign: 1,
    deg: reference.advanceDeg,
    logLoad: 2 * Math.log(reference.speedRpm),
    own: REFERENCE_SHARE,
  };
  const on = (points: readonly CurvePoint[], sign: 1 | -1): Reading[] => {
    const ordered = [...points].sort((a, b) => a.x - b.x);
    const mostDeg = Math.max(...ordered.map(({ advanceDeg }) => advanceDeg));
    return ordered.flatMap(({ x, advanceDeg, standardUncertaintyDeg }, i): Reading[] => {
      const isOnSlope =
        advanceDeg > FROM_END_DEG && advanceDeg < Math.min(mostDeg, stopDeg) - FROM_END_DEG;
      if (!isOnSlope) return [];
      const [low, high] = [ordered[i - 1], ordered[i + 1]];
      const gapDeg = (high?.advanceDeg ?? advanceDeg) - (low?.advanceDeg ?? advanceDeg);
      const perDeg =
        gapDeg > 0 ? (2 * Math.log((high?.x ?? x) / (low?.x ?? x))) / gapDeg : 1 / advanceDeg;
      const ownDeg = Math.max(
        isRestSeen ? LEAST_OWN_DEG.seen : LEAST_OWN_DEG.unseen,
        standardUncertaintyDeg,
      );
      return [
        {
          state,
          isRestSeen,
          isReference: false,
          sign,
          deg: advanceDeg,
          logLoad: 2 * Math.log(x),
          own: Math.hypot(OWN_SHARE, perDeg * ownDeg),
        },
      ];
    });
  };
  return [...(isRestSeen ? [] : [before]), ...on(rising, 1), ...on(falling, -1)];
}

/** The form is off alike at like advances, whatever springs are in. */
function covarianceOf(readings: readonly Reading[], stopDeg: number): number[][] {
  return readings.map((one, i) =>
    readings.map((other, j) => {
      const apart = (one.deg - other.deg) / (REACH_SHARE * stopDeg);
      return FORM_SHARE ** 2 * Math.exp(-(apart ** 2) / 2) + (i === j ? one.own ** 2 : 0);
    }),
  );
}

function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b);
  return ordered[Math.floor(ordered.length / 2)] ?? 0;
}
