// Which change brings a measured unit into its band: posts, stop and springs of the drawer, fewest parts first.
import { type DrawerSpring, rateOf } from "../drawer/drawer.ts";
import { springLoadN } from "../drawer/spring.ts";
import type { Band } from "../unit.ts";
import { AS_IT_IS, type Change } from "./change.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";
import {
  chanceOf,
  cutsOf,
  type ForecastRow,
  forecastRows,
  marginDeg,
  worstMargin,
} from "./target.ts";

/** A spring that is in the unit, and the lengths between its posts; null where not measured. */
export interface Fitted {
  readonly spring: DrawerSpring;
  /** With the weights at rest. */
  readonly restLengthM: number | null;
  /** With the cam turned to its stop. */
  readonly stopLengthM: number | null;
}

export interface Installed {
  readonly first: Fitted | null;
  readonly second: Fitted | null;
}

export type Step =
  | { readonly kind: "spring"; readonly which: "first" | "second"; readonly name: string }
  /** The first spring's load at rest over what it is: bend its post apart (above 1) or together. */
  | { readonly kind: "first post"; readonly loadRatio: number; readonly bendM: number | null }
  /** The second spring is to take up so many degrees later (+) or earlier. */
  | { readonly kind: "second post"; readonly kneeDeg: number }
  /** Travel to be given (+) or taken away: file, bush or the other slot. */
  | { readonly kind: "stop"; readonly deg: number };

export interface Advice {
  /** None: leave it as it is. */
  readonly steps: readonly Step[];
  /** Chance to land within the band, as far as the forecast's error is known. */
  readonly chance: number;
  readonly forecast: readonly ForecastRow[];
}

/** Springs that would do where none in the drawer does, over those that are in. */
export interface Wanted {
  readonly firstRate: number;
  /** Load at rest. */
  readonly firstLoad: number;
  readonly secondRate: number;
  readonly chance: number;
}

export interface Refit {
  /** The best first: likely to do with few parts and steps that can be undone. */
  readonly advice: readonly Advice[];
  /** Null where an advice is good enough, or nothing would do. */
  readonly wanted: Wanted | null;
}

const GOOD = 0.9;
/** Bending a post farther than this share of the load cracks it or spoils the lever. An assumption, no source. */
const MOST_BENT = 0.2;
const BEND_STEP = 0.02;
const MOST_KNEE_DEG = 2;
const KNEE_STEP_DEG = 0.25;
/** Springs of another length hang otherwise; without the length between the posts only like ones can be told. */
const LIKE_LENGTH_M = 0.3e-3;
const TOP = 25;
const MOST_ADVICE = 6;

interface Candidate {
  readonly steps: readonly Step[];
  readonly change: Change;
}

/** Purely by calculation: pairs are gone through by sums, and the best few looked at closely. */
export function advise(
  unit: MeasuredUnit,
  band: Band,
  drawer: readonly DrawerSpring[],
  installed: Installed,
): Refit {
  const stop = stopStep(unit, band);
  const base: Candidate = stop ?? { steps: [], change: AS_IT_IS };
  const firsts = firstChoices(unit, installed.first, drawer);
  // Levers that bend the curve look like a second spring: only one that is there can be changed.
  const hasSecond = unit.kneeDeg !== null && installed.second !== null;
  const seconds = hasSecond ? secondChoices(installed.second, drawer) : [];
  const cuts = cutsOf(unit, base.change, band);
  const springs = bestSprings(cuts, firsts, seconds);
  const candidates = [
    base,
    ...posts(unit, band, base, installed.first, hasSecond),
    ...springs
      .map((pair) => withSprings(base, pair))
      .flatMap((one) => [one, ...posts(unit, band, one, null, hasSecond)]),
  ];
  const advice = candidates.map(({ steps, change }): Advice => {
    const forecast = forecastRows(unit, change, band);
    return { steps, forecast, chance: chanceOf(forecast) };
  });
  const ranked = distinct(advice.sort((a, b) => rankOf(b) - rankOf(a))).slice(0, MOST_ADVICE);
  const isGood = ranked.some(({ chance }) => chance >= GOOD);
  return { advice: ranked, wanted: isGood ? null : wantedSprings(unit, band, base.change) };
}

/** A margin beyond this many standard uncertainties is worth no further part. */
const ENOUGH = 2;
/** What a new spring or a bent post must gain, in standard uncertainties. */
const COST = { spring: 0.4, "first post": 0.2, "second post": 1.5, stop: 0 } as const;

/** Far enough inside the band first, then fewer parts; else the nearest to it. */
function rankOf({ steps, forecast }: Advice): number {
  const cost = steps.reduce((sum, { kind }) => sum + COST[kind], 0);
  return Math.min(worstMargin(forecast), ENOUGH) - cost;
}

function distinct(advice: readonly Advice[]): Advice[] {
  const seen = new Set<string>();
  return advice.filter(({ steps }) => {
    const key = steps.map((step) => `${step.kind} ${"name" in step ? step.name : ""}`).join();
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function stopStep(unit: MeasuredUnit, band: Band): Candidate | null {
  const end = band.rows.find((row) => row.kind === "end");
  const { min, max } = end?.limitsDeg ?? { min: null, max: null };
  const isMet = (max === null || unit.stopDeg <= max) && (min === null || unit.stopDeg >= min);
  if (isMet) return null;
  const deg = ((min ?? max ?? 0) + (max ?? min ?? 0)) / 2 - unit.stopDeg;
  return { steps: [{ kind: "stop", deg }], change: { ...AS_IT_IS, stopDeg: deg } };
}

/** The best bend of the first post, of the second, and of both. */
function posts(
  unit: MeasuredUnit,
  band: Band,
  from: Candidate,
  fitted: Fitted | null,
  hasSecond: boolean,
): Candidate[] {
  const restLoad = unit.first(0) + from.change.firstLoad;
  const firstRatios = range(1 - MOST_BENT, 1 + MOST_BENT, BEND_STEP);
  const kneeShifts = hasSecond ? range(-MOST_KNEE_DEG, MOST_KNEE_DEG, KNEE_STEP_DEG) : [0];
  const best = (ratios: readonly number[], shifts: readonly number[]) => {
    let found = { margin: Number.NEGATIVE_INFINITY, ratio: 1, kneeDeg: 0 };
    for (const kneeDeg of shifts) {
      const cuts = cutsOf(unit, { ...from.change, kneeDeg }, band);
      for (const ratio of ratios) {
        const firstLoad = from.change.firstLoad + (ratio - 1) * restLoad;
        const margin = marginDeg(cuts, { ...from.change, firstLoad });
        if (margin > found.margin) found = { margin, ratio, kneeDeg };
      }
    }
    return candidate(found.ratio, found.kneeDeg);
  };
  const candidate = (ratio: number, kneeDeg: number): Candidate => ({
    steps: [
      ...from.steps,
      ...(ratio === 1
        ? []
        : [{ kind: "first post" as const, loadRatio: ratio, bendM: bendFor(ratio, fitted) }]),
      ...(kneeDeg === 0 ? [] : [{ kind: "second post" as const, kneeDeg }]),
    ],
    change: { ...from.change, firstLoad: from.change.firstLoad + (ratio - 1) * restLoad, kneeDeg },
  });
  return [best(firstRatios, [0]), best([1], kneeShifts), best(firstRatios, kneeShifts)];
}

/** By how much farther apart the posts are to stand; null where the spring in it is not known. */
function bendFor(ratio: number, fitted: Fitted | null): number | null {
  if (fitted === null || fitted.restLengthM === null) return null;
  const { spring, restLengthM } = fitted;
  const rate = rateOf(spring).rateNPerM;
  return ((ratio - 1) * springLoadN(spring, rate, restLengthM - spring.freeLengthM)) / rate;
}

interface Choice {
  readonly name: string;
  readonly rateRatio: number;
  /** More load at rest, in rpm²; 0 of a second spring, which carries none there. */
  readonly moreLoad: number;
}

/** By how much a spring is stretched for each degree, where it was not measured. An assumption, no source. */
const STRETCH_M_PER_DEG = 0.25e-3;

function firstChoices(
  unit: MeasuredUnit,
  fitted: Fitted | null,
  drawer: readonly DrawerSpring[],
): Choice[] {
  if (fitted === null) return [];
  const { spring: old, restLengthM, stopLengthM } = fitted;
  const oldRate = rateOf(old).rateNPerM;
  const atRest = unit.first(0);
  const stretchPerDeg =
    restLengthM === null || stopLengthM === null
      ? STRETCH_M_PER_DEG
      : (stopLengthM - restLengthM) / unit.stopDeg;
  const load = (one: DrawerSpring) =>
    restLengthM === null
      ? null
      : springLoadN(one, rateOf(one).rateNPerM, restLengthM - one.freeLengthM);
  const was = load(old);
  // rpm² for one newton: by the load that starts the weights, or where the spring is slack by its rate.
  const scale =
    was !== null && was > 0 && unit.isRestSeen
      ? atRest / was
      : (unit.first(1) - atRest) / (oldRate * stretchPerDeg);
  return others(old, drawer).flatMap((spring): Choice[] => {
    const rateRatio = rateOf(spring).rateNPerM / oldRate;
    const is = load(spring);
    if (is !== null && was !== null) {
      return [{ name: spring.name, rateRatio, moreLoad: scale * (is - was) }];
    }
    return isAsLong(spring, old)
      ? [{ name: spring.name, rateRatio, moreLoad: (rateRatio - 1) * atRest }]
      : [];
  });
}

/** Of one that takes up as far on. */
function secondChoices(fitted: Fitted | null, drawer: readonly DrawerSpring[]): Choice[] {
  if (fitted === null) return [];
  const { spring: old } = fitted;
  return others(old, drawer)
    .filter((spring) => isAsLong(spring, old))
    .map((spring) => ({
      name: spring.name,
      rateRatio: rateOf(spring).rateNPerM / rateOf(old).rateNPerM,
      moreLoad: 0,
    }));
}

function others(old: DrawerSpring, drawer: readonly DrawerSpring[]): readonly DrawerSpring[] {
  return drawer.filter(({ quantity, name }) => quantity > 0 && name !== old.name);
}

function isAsLong(one: DrawerSpring, other: DrawerSpring): boolean {
  const length = ({ freeLengthM, loopLengthM }: DrawerSpring) => freeLengthM + loopLengthM;
  return Math.abs(length(one) - length(other)) <= LIKE_LENGTH_M;
}

interface Pair {
  readonly first: Choice | null;
  readonly second: Choice | null;
}

/** The best few of either spring alone, and of all pairs. */
function bestSprings(
  cuts: ReturnType<typeof cutsOf>,
  firsts: readonly Choice[],
  seconds: readonly Choice[],
): Pair[] {
  const best = (ones: readonly (Choice | null)[], others: readonly (Choice | null)[]) => {
    const top: { margin: number; pair: Pair }[] = [];
    let least = Number.NEGATIVE_INFINITY;
    for (const first of ones) {
      for (const second of others) {
        const margin = marginDeg(cuts, {
          firstRate: first?.rateRatio ?? 1,
          firstLoad: first?.moreLoad ?? 0,
          secondRate: second?.rateRatio ?? 1,
        });
        if (margin <= least) continue;
        top.push({ margin, pair: { first, second } });
        if (top.length < 2 * TOP) continue;
        top.sort((a, b) => b.margin - a.margin).length = TOP;
        least = (top[TOP - 1] as { margin: number }).margin;
      }
    }
    return top.sort((a, b) => b.margin - a.margin).slice(0, TOP / 5);
  };
  return [...best(firsts, [null]), ...best([null], seconds), ...best(firsts, seconds)].map(
    ({ pair }) => pair,
  );
}

function withSprings(from: Candidate, { first, second }: Pair): Candidate {
  return {
    steps: [
      ...from.steps,
      ...(first === null
        ? []
        : [{ kind: "spring" as const, which: "first" as const, name: first.name }]),
      ...(second === null
        ? []
        : [{ kind: "spring" as const, which: "second" as const, name: second.name }]),
    ],
    change: {
      ...from.change,
      firstRate: first?.rateRatio ?? 1,
      firstLoad: first?.moreLoad ?? 0,
      secondRate: second?.rateRatio ?? 1,
    },
  };
}

/** Null where no springs at all would do. */
function wantedSprings(unit: MeasuredUnit, band: Band, from: Change): Wanted | null {
  const cuts = cutsOf(unit, from, band);
  const ratios = range(Math.log(0.25), Math.log(4), 0.06).map(Math.exp);
  let best = { margin: Number.NEGATIVE_INFINITY, change: from };
  for (const firstRate of ratios) {
    for (const loadRatio of ratios) {
      const firstLoad = (loadRatio - 1) * unit.first(0);
      for (const secondRate of unit.kneeDeg === null ? [1] : ratios) {
        const change = { ...from, firstRate, firstLoad, secondRate };
        const margin = marginDeg(cuts, change);
        if (margin > best.margin) best = { margin, change };
      }
    }
  }
  const chance = chanceOf(forecastRows(unit, best.change, band));
  const { firstRate, firstLoad, secondRate } = best.change;
  return chance < GOOD / 2
    ? null
    : { firstRate, firstLoad: 1 + firstLoad / unit.first(0), secondRate, chance };
}

function range(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => {
    const value = from + i * step;
    return Math.abs(value) < step / 10 ? 0 : Math.round(value * 1e9) / 1e9;
  });
}
