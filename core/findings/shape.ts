// A curve as springs, stop and friction make it, ready to be changed by faults; and what it reads at a speed.
import type { Branch } from "../unit.ts";
import type { Nominal } from "./nominal.ts";

/** Loads by advance in degrees, friction apart, in the unit of the nominal's knots. */
export interface Shape {
  readonly power: 1 | 2;
  readonly first: (advanceDeg: number) => number;
  readonly second: (advanceDeg: number) => number;
  /** Of the weights' pull: what load does at an advance over what it does at rest. */
  readonly lever: (advanceDeg: number) => number;
  readonly stopDeg: number;
  /** Half the gap between rising and falling, as a share of the load. */
  readonly friction: number;
  /** The same of a sound unit: the specification is met with that much friction, speed rising. */
  readonly soundFriction: number;
  readonly isStuck: boolean;
  /** Advance that the cam does not come back from once it has been there. */
  readonly leftDeg: number;
  /** Every firing edge comes late by this. */
  readonly delayUs: number;
}

export interface Place {
  /** Distributor rpm or pascals. */
  readonly x: number;
  readonly branch: Branch;
}

/** Evenly spaced from rest to stop. */
const PLACES = 32;

/**
 * The first spring carries what rises evenly all the way, the second what is more than that: before
 * the knee nothing.
 */
export function soundShape({ knots, stopDeg, power }: Nominal): Shape {
  const start = knots[0] ?? { advanceDeg: 0, load: 1 };
  const slopes = knots
    .filter(({ advanceDeg }) => advanceDeg > 0)
    .map(({ advanceDeg, load }) => (load - start.load) / advanceDeg);
  const slope = slopes.length === 0 ? 0 : Math.min(...slopes);
  const first = (deg: number) => start.load + slope * deg;
  const knee = kneeOf(knots, first, slope);
  const bent = knee === null ? knots : [start, knee, ...knots.slice(1)];
  return {
    power,
    first,
    second: (deg) => Math.max(0, loadBetween(bent, deg) - first(deg)),
    lever: () => 1,
    stopDeg: stopDeg ?? 2 * (knots.at(-1)?.advanceDeg ?? 0),
    friction: 0,
    soundFriction: 0,
    isStuck: false,
    leftDeg: 0,
    delayUs: 0,
  };
}

/** Where the second stretch, gone back beyond its first row, meets the first spring's line; null where it does not. */
function kneeOf(
  knots: Nominal["knots"],
  first: (deg: number) => number,
  slope: number,
): Nominal["knots"][number] | null {
  const [, row, next] = knots;
  if (row === undefined || next === undefined) return null;
  const steeper = (next.load - row.load) / (next.advanceDeg - row.advanceDeg);
  if (steeper <= slope) return null;
  const backDeg = (row.load - first(row.advanceDeg)) / (steeper - slope);
  const advanceDeg = row.advanceDeg - backDeg;
  if (backDeg <= 0 || advanceDeg <= 0) return null;
  return { advanceDeg, load: first(advanceDeg) };
}

/** Straight between knots and on beyond the last as the last stretch goes. */
function loadBetween(knots: Nominal["knots"], deg: number): number {
  const found = knots.findIndex(({ advanceDeg }) => advanceDeg > deg);
  const above = found < 0 ? knots.length - 1 : Math.max(1, found);
  const [low, high] = [knots[above - 1], knots[above]];
  if (low === undefined || high === undefined) return knots[0]?.load ?? 0;
  const share = (deg - low.advanceDeg) / (high.advanceDeg - low.advanceDeg);
  return low.load + share * (high.load - low.load);
}

/** Advance in degrees at each place, as read against a reference at `referenceX`. */
export function readings(shape: Shape, places: readonly Place[], referenceX: number): number[] {
  const loads = loadsOf(shape);
  const rising = carried(shape, loads, 1);
  const hasFalling = places.some(({ branch }) => branch === "falling");
  const falling = hasFalling ? carried(shape, loads, -1) : rising;
  // At a standstill nothing pulls, not even at a cam without springs.
  const restDeg = referenceX === 0 ? 0 : camDeg(shape, rising, referenceX, "rising");
  return places.map(({ x, branch }) => {
    const late = 6e-6 * shape.delayUs * (x - referenceX);
    const deg = camDeg(shape, branch === "rising" ? rising : falling, x, branch);
    return deg - restDeg - late;
  });
}

function camDeg(shape: Shape, carriedLoad: Float64Array, x: number, branch: Branch): number {
  if (shape.isStuck) return 0;
  const deg = placeOf(carriedLoad, shape.power === 2 ? x * x : x, shape.stopDeg);
  return branch === "falling" ? Math.max(deg, shape.leftDeg) : deg;
}

/** At evenly spaced advances, without friction. */
function loadsOf({ first, second, lever, stopDeg }: Shape): Float64Array {
  const step = stopDeg / PLACES;
  const loads = new Float64Array(PLACES + 1);
  for (let i = 0; i <= PLACES; i++) {
    const deg = i * step;
    loads[i] = Math.max(0, (first(deg) + second(deg)) / lever(deg));
  }
  return loads;
}

/**
 * With friction, made to ascend: where it would not, the cam snaps on. Rising it stays where the
 * highest load so far holds it; falling where the lowest still to come does.
 */
function carried(shape: Shape, bare: Float64Array, sign: 1 | -1): Float64Array {
  const share = (sign * shape.friction - shape.soundFriction) / 2;
  const constant = share * (bare[PLACES / 2] as number);
  const loads = new Float64Array(bare.length);
  if (sign > 0) {
    let most = 0;
    for (let i = 0; i <= PLACES; i++) {
      const load = (bare[i] as number) * (1 + share) + constant;
      if (load > most) most = load;
      loads[i] = most;
    }
    return loads;
  }
  let least = Number.POSITIVE_INFINITY;
  for (let i = PLACES; i >= 0; i--) {
    const load = Math.max(0, (bare[i] as number) * (1 + share) + constant);
    if (load < least) least = load;
    loads[i] = least;
  }
  return loads;
}

/** The farthest advance whose load `load` carries. */
function placeOf(loads: Float64Array, load: number, reachDeg: number): number {
  let low = 0;
  let high = loads.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((loads[middle] as number) <= load) low = middle + 1;
    else high = middle;
  }
  if (low === 0) return 0;
  if (low === loads.length) return reachDeg;
  const [below, above] = [loads[low - 1] as number, loads[low] as number];
  const share = (load - below) / (above - below);
  return (reachDeg * (low - 1 + share)) / (loads.length - 1);
}
