// A curve as springs, stop and friction make it, ready to be changed by faults; and what it reads at a speed.
import type { Branch } from "../unit.ts";
import { DEG_PER_RPM_US } from "./delay.ts";

/** A spring: what it bears at rest, from where on more, how much more for each degree; never less than the least. */
export interface SpringLoad {
  readonly restLoad: number;
  readonly fromDeg: number;
  readonly loadPerDeg: number;
  readonly leastLoad: number;
}

/** Loads by advance in degrees, friction apart, in the unit of the nominal's knots. Plain numbers: a search asks for thousands of shapes. */
export interface Shape {
  readonly power: 1 | 2;
  readonly first: SpringLoad;
  readonly second: SpringLoad;
  /** Of the weights' pull, what load does at an advance over what it does at rest: 1 + perDeg deg + perDeg2 deg². */
  readonly lever: { readonly perDeg: number; readonly perDeg2: number };
  readonly stopDeg: number;
  /** Half the gap between rising and falling, as a share of the load. */
  readonly friction: number;
  /** The same of a sound unit: the specification is met with that much friction, speed rising. */
  readonly soundFriction: number;
  readonly isStuck: boolean;
  /** Advance that the cam does not come back from once it has been farther. */
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
const LEAST_LEVER = 0.2;

export function loadAt({ restLoad, fromDeg, loadPerDeg, leastLoad }: SpringLoad, deg: number) {
  return Math.max(leastLoad, restLoad + loadPerDeg * Math.max(0, deg - fromDeg));
}

export function leverAt({ perDeg, perDeg2 }: Shape["lever"], deg: number): number {
  return Math.max(LEAST_LEVER, 1 + perDeg * deg + perDeg2 * deg * deg);
}

/** Where loads by advance stand. One of each for all, since none outlives its call. */
const bare = new Float64Array(PLACES + 1);
const rising = new Float64Array(PLACES + 1);
const falling = new Float64Array(PLACES + 1);

/** Advance in degrees at each place, as read against a reference at `referenceX`, into `degrees` from `at` on. */
export function read(
  shape: Shape,
  places: readonly Place[],
  referenceX: number,
  degrees: Float64Array,
  at: number,
): void {
  layLoads(shape);
  layRising(shape);
  let hasFalling = false;
  let heldDeg = 0;
  // At a standstill nothing pulls, not even at a cam without springs.
  const restDeg = referenceX === 0 ? 0 : camDeg(shape, rising, referenceX);
  for (let i = 0; i < places.length; i++) {
    const { x, branch } = places[i] as Place;
    const late = DEG_PER_RPM_US * shape.delayUs * (x - referenceX);
    let deg: number;
    if (branch === "rising") deg = camDeg(shape, rising, x);
    else {
      if (!hasFalling) {
        layFalling(shape);
        heldDeg = heldIn(shape, places);
      }
      hasFalling = true;
      deg = shape.isStuck ? 0 : Math.max(camDeg(shape, falling, x), heldDeg);
    }
    degrees[at + i] = deg - restDeg - late;
  }
}

/** What holds the cam out does so only once it has gone by. */
function heldIn(shape: Shape, places: readonly Place[]): number {
  if (shape.leftDeg === 0) return 0;
  let most = 0;
  for (const { x } of places) if (x > most) most = x;
  return camDeg(shape, rising, most) > shape.leftDeg ? shape.leftDeg : 0;
}

/** The same by themselves. */
export function readings(shape: Shape, places: readonly Place[], referenceX: number): number[] {
  const degrees = new Float64Array(places.length);
  read(shape, places, referenceX, degrees, 0);
  return Array.from(degrees);
}

function camDeg(shape: Shape, carried: Float64Array, x: number): number {
  return shape.isStuck ? 0 : placeOf(carried, shape.power === 2 ? x * x : x, shape.stopDeg);
}

type Springs = Pick<Shape, "first" | "second" | "lever" | "stopDeg">;
let laid: Springs | null = null;

/** At evenly spaced advances, without friction; not anew for the springs that are laid already. */
function layLoads(shape: Shape): void {
  const { first, second, lever, stopDeg } = shape;
  const isLaid =
    laid?.first === first &&
    laid.second === second &&
    laid.lever === lever &&
    laid.stopDeg === stopDeg;
  if (isLaid) return;
  laid = shape;
  // The loop of all loops: numbers looked up once.
  const { restLoad: rest1, fromDeg: from1, loadPerDeg: per1, leastLoad: least1 } = first;
  const { restLoad: rest2, fromDeg: from2, loadPerDeg: per2, leastLoad: least2 } = second;
  const { perDeg, perDeg2 } = lever;
  const step = stopDeg / PLACES;
  for (let i = 0; i <= PLACES; i++) {
    const deg = i * step;
    const load1 = deg > from1 ? rest1 + per1 * (deg - from1) : rest1;
    const load2 = deg > from2 ? rest2 + per2 * (deg - from2) : rest2;
    const load = Math.max(load1, least1) + Math.max(load2, least2);
    const arm = 1 + deg * (perDeg + perDeg2 * deg);
    const carried = load / Math.max(arm, LEAST_LEVER);
    bare[i] = Math.max(0, carried);
  }
}

/** With friction, made to ascend: where it would not, the cam snaps on. It stays where the highest load so far holds it. */
function layRising({ friction, soundFriction }: Shape): void {
  const share = (friction - soundFriction) / 2;
  const constant = share * (bare[PLACES / 2] as number);
  let most = 0;
  for (let i = 0; i <= PLACES; i++) {
    const load = (bare[i] as number) * (1 + share) + constant;
    if (load > most) most = load;
    rising[i] = most;
  }
}

/** The same coming back: where the lowest load still to come holds it. */
function layFalling({ friction, soundFriction }: Shape): void {
  const share = (-friction - soundFriction) / 2;
  const constant = share * (bare[PLACES / 2] as number);
  let least = Number.POSITIVE_INFINITY;
  for (let i = PLACES; i >= 0; i--) {
    const load = Math.max(0, (bare[i] as number) * (1 + share) + constant);
    if (load < least) least = load;
    falling[i] = least;
  }
}

/** Where the last place was found: most often the next one is close by. */
let found = 0;

/** The farthest advance whose load `load` carries. */
function placeOf(loads: Float64Array, load: number, reachDeg: number): number {
  while (found < loads.length && (loads[found] as number) <= load) found++;
  while (found > 0 && (loads[found - 1] as number) > load) found--;
  if (found === 0) return 0;
  if (found === loads.length) return reachDeg;
  const [below, above] = [loads[found - 1] as number, loads[found] as number];
  const share = (load - below) / (above - below);
  return (reachDeg * (found - 1 + share)) / (loads.length - 1);
}
