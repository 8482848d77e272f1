// One unit as it may be: lever of the weights, arms of the springs, drag, friction and stop, and where its cam stands.
import { type DrawerSpring, rateOf } from "../drawer/drawer.ts";
import { springLoadN } from "../drawer/spring.ts";
import { lognormal } from "../findings/soundUnits.ts";
import type { Branch } from "../unit.ts";
import type { Geometry, Load, Place } from "./geometry.ts";

/** What is measured of the posts, and thought of the stop and of the start of a sound unit. */
export interface Known {
  /** First and second spring's posts; null where none hangs. */
  readonly lengths: readonly [Lengths, Lengths | null];
  readonly stop: { readonly deg: number; readonly spreadDeg: number };
  readonly startRpm: number;
  /** Those that were in when a curve was measured: what is off in their dimensions shows in it. */
  readonly springs: readonly DrawerSpring[];
}

/** Between the posts, in metres. */
export type Lengths = readonly [rest: number, stop: number];

/** First and second; null for none. */
export type Springs = readonly (DrawerSpring | null)[];

/**
 * What the springs' dimensions leave open, with what to expect of it beforehand; assumptions, no
 * source, wide enough for simulated geometry. The logarithm of the weights' lever (kg m² at rest) grows
 * by degree and by degree squared, and strays from that at places along the travel; a spring's arm grows
 * from the first degree to the last. Drag and friction by the load that starts a sound unit.
 */
const LEVER = { kgM2: 8e-6, spread: 0.7 };
const GROWTH = { perDeg: 0.001, spread: 0.016 };
const BEND = { perDeg2: 0.0006, spread: 0.0008 };
const STRAY_SPREAD = 0.01;
const STRAY_PLACES = [0.1, 0.37, 0.63, 0.9] as const;
const ARM_GROWTH = { mean: 0.03, spread: 0.055 };
const MOST_DRAG = 0.1;
const FRICTION = { median: 0.012, spread: 0.8 };
/** Of friction at rest, added at 1000 rpm. */
const ADDED = { median: 0.65, spread: 0.5 };

/** The numbers, in their order; those of the straying last. */
export const SCALE_AT = 0;
export const [GROWTH_AT, BEND_AT, STOP_AT] = [1, 2, 3] as const;
export const [FIRST_ARM_AT, SECOND_ARM_AT, DRAG_AT] = [4, 5, 6] as const;
const [FRICTION_AT, ADDED_AT, STRAY_AT] = [7, 8, 9] as const;
const LENGTHS_AT = STRAY_AT + STRAY_PLACES.length;
/** Two lengths on either pair of posts, then rate and free length of each spring. */
const SPRINGS_AT = LENGTHS_AT + 4;

export function countOf({ springs }: Known): number {
  return SPRINGS_AT + 2 * springs.length;
}

/** Standard uncertainty of a length by calliper, hooks and posts being round. An assumption, no source. */
const LENGTH_M = 0.05e-3;
/** Of a stated expanded uncertainty; k = 2. */
const COVERAGE = 2;

/** rpm² for each newton metre at a lever of one kg m². */
const RPM2 = (30 / Math.PI) ** 2;
const DEG_PER_RAD = 180 / Math.PI;
const LEAST_ARM = 0.05;

/** A spring's errors as standard normal numbers. */
interface SpringErrors {
  readonly rate: number;
  readonly length: number;
}

/**
 * By what is open as standard normal numbers.
 * @param unseen errors of springs that were not in yet
 */
export function geometryBy(
  known: Known,
  standard: readonly number[],
  unseen: (name: string) => SpringErrors,
): Geometry {
  const errorsOf = (spring: DrawerSpring): SpringErrors => {
    const seen = known.springs.findIndex((one) => isSame(one, spring));
    if (seen < 0) return unseen(spring.name);
    return { rate: at(SPRINGS_AT + 2 * seen), length: at(SPRINGS_AT + 2 * seen + 1) };
  };
  const at = (number: number) => standard[number] ?? 0;
  const { deg, spreadDeg } = known.stop;
  const stopDeg = Math.max(0.2 * deg, deg + spreadDeg * at(STOP_AT));
  const growth = GROWTH.perDeg + GROWTH.spread * at(GROWTH_AT);
  const bend = BEND.perDeg2 + BEND.spread * at(BEND_AT);
  const strays = STRAY_PLACES.map((_, i) => STRAY_SPREAD * at(STRAY_AT + i));
  const lever = (advanceDeg: number) =>
    Math.exp(growth * advanceDeg + bend * advanceDeg ** 2 + between(strays, advanceDeg / stopDeg));
  const startLoad = known.startRpm ** 2;
  const drag = (MOST_DRAG / (1 + Math.exp(0.4 - 1.5 * at(DRAG_AT)))) * startLoad;
  const friction = lognormal(FRICTION, at(FRICTION_AT)) * startLoad;
  const lessLever = (friction * lognormal(ADDED, at(ADDED_AT))) / 1000 ** 2;
  const scale = RPM2 / (LEVER.kgM2 * Math.exp(LEVER.spread * at(SCALE_AT)));
  const pulls = (advanceDeg: number) => Math.max(0.05, lever(advanceDeg) - lessLever);
  const place = (read: Lengths, arm: number, lengthsAt: number): Place => {
    const restM = read[0] + LENGTH_M * at(lengthsAt);
    const endM = Math.max(restM + LENGTH_M, read[1] + LENGTH_M * at(lengthsAt + 1));
    const armGrowth = ARM_GROWTH.mean + ARM_GROWTH.spread * arm;
    const travelM = endM - restM;
    const lengthM = (advanceDeg: number) => {
      const share = advanceDeg / stopDeg;
      return restM + travelM * (share + armGrowth * share * (share - 1));
    };
    const armM = (advanceDeg: number) =>
      (travelM / stopDeg) * Math.max(LEAST_ARM, 1 + armGrowth * ((2 * advanceDeg) / stopDeg - 1));
    const loadOf = (spring: DrawerSpring, bendM: number): Load => {
      const { rateNPerM, expandedUncertaintyNPerM } = rateOf(spring);
      const errors = errorsOf(spring);
      const doubt = expandedUncertaintyNPerM / COVERAGE / rateNPerM;
      const rate = rateNPerM * Math.exp(doubt * errors.rate);
      const shorterM = bendM - spring.freeLengthM - LENGTH_M * errors.length;
      return (advanceDeg) => {
        const loadN = springLoadN(spring, rate, lengthM(advanceDeg) + shorterM);
        if (loadN === 0) return 0;
        return (scale * DEG_PER_RAD * armM(advanceDeg) * loadN) / pulls(advanceDeg);
      };
    };
    return { lengthM, armM, loadOf };
  };
  const [first, second] = known.lengths;
  return {
    first: place(first, at(FIRST_ARM_AT), LENGTHS_AT),
    second: second === null ? null : place(second, at(SECOND_ARM_AT), LENGTHS_AT + 2),
    rest: (advanceDeg) => (drag + friction) / pulls(advanceDeg),
    gap: (advanceDeg, load) => {
      const held = Math.max(0, load * pulls(advanceDeg) - 2 * friction);
      return load - held / (lever(advanceDeg) + lessLever);
    },
    stopDeg,
  };
}

/** The same one, however its post was bent since. */
export function isSame(one: DrawerSpring, other: DrawerSpring): boolean {
  return one.name === other.name && rateOf(one).rateNPerM === rateOf(other).rateNPerM;
}

/** Straight between the places of straying, and level beyond. */
function between(strays: readonly number[], share: number): number {
  const above = STRAY_PLACES.findIndex((place) => place > share);
  if (above < 0) return strays.at(-1) ?? 0;
  if (above === 0) return strays[0] ?? 0;
  const [low, high] = [STRAY_PLACES[above - 1] as number, STRAY_PLACES[above] as number];
  const part = (share - low) / (high - low);
  return (strays[above - 1] as number) * (1 - part) + (strays[above] as number) * part;
}

const CELLS = 64;

/** Where a cam stands at a speed. */
export class Stand {
  private readonly stopDeg: number;
  private readonly rising = new Float64Array(CELLS + 1);
  private readonly falling = new Float64Array(CELLS + 1);

  /**
   * @param load rpm² that hold an advance, speed rising
   * @param gap how much less coming back
   */
  constructor(stopDeg: number, load: Load, gap: Geometry["gap"]) {
    this.stopDeg = stopDeg;
    for (let i = 0; i <= CELLS; i++) {
      const deg = (i * stopDeg) / CELLS;
      const own = load(deg);
      this.falling[i] = own - gap(deg, own);
      this.rising[i] = i === 0 ? own : Math.max(own, this.rising[i - 1] as number);
    }
    // Coming back it stays where the lowest load still to come holds it.
    for (let i = CELLS - 1; i >= 0; i--) {
      this.falling[i] = Math.min(this.falling[i] as number, this.falling[i + 1] as number);
    }
  }

  /** Where it leaves its rest, or comes back to it. */
  startRpm(branch: Branch): number {
    const [load = 0] = branch === "rising" ? this.rising : this.falling;
    return Math.sqrt(load);
  }

  /** Advance in degrees from rest. */
  at(speedRpm: number, branch: Branch): number {
    const loads = branch === "rising" ? this.rising : this.falling;
    const load = speedRpm ** 2;
    let [low, high] = [0, CELLS + 1];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((loads[middle] as number) <= load) low = middle + 1;
      else high = middle;
    }
    if (low === 0) return 0;
    if (low > CELLS) return this.stopDeg;
    const [below, above] = [loads[low - 1] as number, loads[low] as number];
    return (this.stopDeg * (low - 1 + (load - below) / (above - below))) / CELLS;
  }
}

/** Of a geometry with springs on its posts. */
export function standWith(geometry: Geometry, [first, second]: Springs): Stand {
  const one = first ? geometry.first.loadOf(first, 0) : null;
  const two = second ? (geometry.second?.loadOf(second, 0) ?? null) : null;
  const load = (deg: number) => (one?.(deg) ?? 0) + (two?.(deg) ?? 0) + geometry.rest(deg);
  return new Stand(geometry.stopDeg, load, geometry.gap);
}
