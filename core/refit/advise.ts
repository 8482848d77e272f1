// Which change brings a measured unit into its band: posts, stop and springs of the drawer, fewest parts first.
import type { DrawerSpring } from "../drawer/drawer.ts";
import { normalQuantile } from "../uncertainty/coverage.ts";
import type { Band } from "../unit.ts";
import { AS_IT_IS, type Change, type Hung } from "./change.ts";
import { type Bent, type Choice, firstHook, type Hook, range, secondHook } from "./hooks.ts";
import type { Installed } from "./installed.ts";
import type { MeasuredUnit } from "./measuredUnit.ts";
import type { Step } from "./step.ts";
import { type Cut, cutsOf, type ForecastRow, forecast, marginDeg, worstMargin } from "./target.ts";

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
const TOP = 25;
const MOST_ADVICE = 6;

/** One of so many likely geometries is enough to see which changes are worth a closer look. */
const FEW = 5;

interface Candidate {
  readonly steps: readonly Step[];
  readonly change: Change;
}

type Looked = Candidate & Advice;

/** Purely by calculation: pairs are gone through by sums, and the best few looked at closely. */
export function advise(
  unit: MeasuredUnit,
  band: Band,
  drawer: readonly DrawerSpring[],
  installed: Installed,
): Refit {
  const base = stopStep(unit, band);
  const cuts = cutsOf(unit, base.change, band);
  const first = firstHook(unit, installed.first, drawer);
  const second = secondHook(unit, installed.second, drawer);
  const candidates = [
    base,
    ...bestPairs(cuts, first, second, unit).flatMap((pair) => bestBends(pair)),
  ];
  function bestBends(pair: Pair): Candidate[] {
    return [
      withParts(base, pair, asItHangs(pair.first), asItHangs(pair.second)),
      ...bends(cuts, pair, first, second, unit).map(([one, other]) =>
        withParts(base, pair, one, other),
      ),
    ];
  }
  const looked = (candidate: Candidate, at: MeasuredUnit): Looked => {
    const { rows, chance } = forecast(at, candidate.change, band);
    return { ...candidate, forecast: rows, chance };
  };
  // All by some of the likely geometries, and the best by all of them.
  const few = { ...unit, likely: unit.likely.filter((_, i) => i % FEW === 0) };
  const worthAll = best(candidates.map((one) => looked(one, few))).slice(0, 2 * MOST_ADVICE);
  const ranked = best(worthAll.map((one) => looked(one, unit)))
    .slice(0, MOST_ADVICE)
    .map(({ steps, chance, forecast: rows }): Advice => ({ steps, chance, forecast: rows }));
  const isGood = ranked.some(({ chance }) => chance >= GOOD);
  return { advice: ranked, wanted: isGood ? null : wantedSprings(unit, band, base.change) };
}

/** A margin beyond this many standard uncertainties is worth no further part. */
const ENOUGH = 2;
/** What a new spring or a bent post must gain, in standard uncertainties. */
const COST = { spring: 0.4, "first post": 0.2, "second post": 0.4, stop: 0 } as const;

/** Far enough inside the band first, then fewer parts; else the nearest to it. */
function rankOf({ steps, chance, forecast: rows }: Advice): number {
  const cost = steps.reduce((sum, { kind }) => sum + COST[kind], 0);
  const sure = normalQuantile(Math.min(1 - LEAST_CHANCE, Math.max(LEAST_CHANCE, chance)));
  // Where nothing has a chance, the nearest.
  return Math.min(sure, ENOUGH) - cost + NEARNESS * Math.min(0, worstMargin(rows));
}

const LEAST_CHANCE = 1e-6;
const NEARNESS = 1e-3;

/** In order, and of those that differ by how far a post is bent the first alone. */
function best(looked: readonly Looked[]): Looked[] {
  const seen = new Set<string>();
  const ordered = [...looked].sort((a, b) => rankOf(b) - rankOf(a));
  return ordered.filter(({ steps }) => {
    const key = steps.map((step) => `${step.kind} ${"name" in step ? step.name : ""}`).join();
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function stopStep(unit: MeasuredUnit, band: Band): Candidate {
  const end = band.rows.find((row) => row.kind === "end");
  const { min, max } = end?.limitsDeg ?? { min: null, max: null };
  const isMet = (max === null || unit.stopDeg <= max) && (min === null || unit.stopDeg >= min);
  const change = AS_IT_IS;
  // Where the rest was not seen the travel is not known.
  if (isMet || !unit.isRestSeen) return { steps: [], change };
  const deg = ((min ?? max ?? 0) + (max ?? min ?? 0)) / 2 - unit.stopDeg;
  return { steps: [{ kind: "stop", deg }], change: { ...change, stopDeg: deg } };
}

interface Pair {
  readonly first: Choice;
  readonly second: Choice;
}

/** The pair that is in, the best few of either spring alone, and of all pairs. */
function bestPairs(
  cuts: readonly Cut[],
  first: Hook,
  second: Hook | null,
  unit: MeasuredUnit,
): Pair[] {
  // Without a second spring that can be changed the one there is, or the levers' bend, stays.
  const seconds = second?.choices ?? [{ spring: null, hung: AS_IT_IS.second }];
  const loaded = (choices: readonly Choice[]) =>
    choices.map((choice) => ({ choice, loads: loadsAt(cuts, unit, choice.hung) }));
  const best = (ones: ReturnType<typeof loaded>, others: ReturnType<typeof loaded>) => {
    const top: { margin: number; pair: Pair }[] = [];
    let least = Number.NEGATIVE_INFINITY;
    for (const one of ones) {
      for (const other of others) {
        const margin = marginDeg(cuts, one.loads, other.loads);
        if (margin <= least) continue;
        top.push({ margin, pair: { first: one.choice, second: other.choice } });
        if (top.length < 2 * TOP) continue;
        top.sort((a, b) => b.margin - a.margin).length = TOP;
        least = (top[TOP - 1] as { margin: number }).margin;
      }
    }
    return top.sort((a, b) => b.margin - a.margin).slice(0, TOP / 5);
  };
  const [all, rest] = [loaded(first.choices), loaded(seconds)];
  const [own, ownSecond] = [all.slice(0, 1), rest.slice(0, 1)];
  return [
    ...best(own, ownSecond),
    ...best(all, ownSecond),
    ...best(own, rest),
    ...best(all, rest),
  ].map(({ pair }) => pair);
}

function loadsAt(cuts: readonly Cut[], unit: MeasuredUnit, hung: Hung): readonly number[] {
  const load = hung(unit);
  return cuts.map(({ deg }) => load(deg));
}

function asItHangs({ hung }: Choice): Bent {
  return { step: null, hung };
}

/** The best bend of the first post, of the second, and of both. */
function bends(
  cuts: readonly Cut[],
  pair: Pair,
  first: Hook,
  second: Hook | null,
  unit: MeasuredUnit,
): (readonly [Bent, Bent])[] {
  const loaded = (bents: readonly Bent[]) =>
    bents.map((bent) => ({ bent, loads: loadsAt(cuts, unit, bent.hung) }));
  const firsts = loaded(first.bent(pair.first));
  const seconds = loaded(second === null ? [asItHangs(pair.second)] : second.bent(pair.second));
  const straight = (ones: ReturnType<typeof loaded>) =>
    ones.filter(({ bent }) => bent.step === null);
  const best = (ones: ReturnType<typeof loaded>, others: ReturnType<typeof loaded>) => {
    let found: readonly [Bent, Bent] = [asItHangs(pair.first), asItHangs(pair.second)];
    let most = Number.NEGATIVE_INFINITY;
    for (const one of ones) {
      for (const other of others) {
        const margin = marginDeg(cuts, one.loads, other.loads);
        if (margin > most) {
          most = margin;
          found = [one.bent, other.bent];
        }
      }
    }
    return found;
  };
  return [best(firsts, straight(seconds)), best(straight(firsts), seconds), best(firsts, seconds)];
}

function withParts(from: Candidate, pair: Pair, first: Bent, second: Bent): Candidate {
  const spring = (which: "first" | "second", { spring: one }: Choice): Step[] =>
    one === null ? [] : [{ kind: "spring", which, name: one.name }];
  return {
    steps: [
      ...from.steps,
      ...spring("first", pair.first),
      ...spring("second", pair.second),
      ...[first, second].flatMap(({ step }) => (step === null ? [] : [step])),
    ],
    change: {
      ...from.change,
      first: first.hung,
      second: second.hung,
      isKneeMoved: second.step !== null,
    },
  };
}

/** Null where no springs at all would do. */
function wantedSprings(unit: MeasuredUnit, band: Band, from: Change): Wanted | null {
  const cuts = cutsOf(unit, from, band);
  const ratios = range(Math.log(0.25), Math.log(4), 0.06).map(Math.exp);
  const firstWith =
    (rate: number, load: number): Hung =>
    (one) => {
      const atRest = Math.max(0, one.first(0));
      return (deg) => load * atRest + rate * (one.first(deg) - atRest);
    };
  const seconds = (unit.kneeDeg === null ? [1] : ratios).map((rate) => ({
    rate,
    loads: cuts.map(({ deg }) => rate * unit.second(deg)),
  }));
  let best = { margin: Number.NEGATIVE_INFINITY, firstRate: 1, firstLoad: 1, secondRate: 1 };
  for (const firstRate of ratios) {
    for (const firstLoad of ratios) {
      const loads = loadsAt(cuts, unit, firstWith(firstRate, firstLoad));
      for (const { rate, loads: others } of seconds) {
        const margin = marginDeg(cuts, loads, others);
        if (margin > best.margin) best = { margin, firstRate, firstLoad, secondRate: rate };
      }
    }
  }
  const { firstRate, firstLoad, secondRate } = best;
  const change = {
    ...from,
    first: firstWith(firstRate, firstLoad),
    second: (one: MeasuredUnit) => (deg: number) => secondRate * one.second(deg),
  };
  const { chance } = forecast(unit, change, band);
  return chance < GOOD / 2 ? null : { firstRate, firstLoad, secondRate, chance };
}
