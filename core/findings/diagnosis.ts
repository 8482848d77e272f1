// Which faults explain a measured curve, of weights or of a capsule, each with its probability.
import { Comparison, type Curve, pointsOf, sizeOf } from "./comparison.ts";
import type { CurveFault } from "./curveFaults.ts";
import { type Reach, shares } from "./evidence.ts";
import type { FindingKind } from "./finding.ts";
import type { Misreading } from "./misreadings.ts";
import type { Nominal } from "./nominal.ts";
import type { Place } from "./shape.ts";
import { soundUnits } from "./soundUnits.ts";
import { goTogether, unseenBeside } from "./together.ts";
import { UNEXPLAINED_PRIOR, type Weighed, weightOf } from "./weight.ts";

/** One way to explain the whole curve. */
export interface Explanation {
  /** None, one or two. */
  readonly faults: readonly CurveFault[];
  /** False where the curve is off besides in a way that no fault explains. */
  readonly isExplained: boolean;
  /** How the specification was misread, or null. */
  readonly misread: string | null;
  readonly probability: number;
  /** Of each fault, in its own unit; 0 for one that is there or not. */
  readonly sizes: readonly number[];
}

/** In the order of the probability, the likeliest first. They sum to 1. */
export interface Diagnosis {
  readonly explanations: readonly Explanation[];
  readonly places: readonly Place[];
  /** What these readings would not show beside the faults that explain them best. */
  readonly unseen: readonly FindingKind[];
}

const SOUND_PRIOR = 0.5;
/** Null without at least three readings. */
export function diagnose(
  nominal: Nominal,
  curve: Curve,
  hasSecond: boolean,
  faults: readonly CurveFault[],
  misreadings: readonly Misreading[],
): Diagnosis | null {
  const points = pointsOf(curve);
  if (points.length < 3) return null;
  const asPrinted = new Comparison(soundUnits(nominal, hasSecond), points, curve);
  const explainedBy = (
    some: readonly CurveFault[],
    starts: readonly (readonly number[])[],
    reach: Reach,
  ) => ({
    faults: some,
    isExplained: true,
    part: null,
    prior: some.reduce((product, { prior }) => product * prior, SOUND_PRIOR),
    ...asPrinted.explain(some, starts, reach),
  });
  const { starts } = asPrinted.units;
  const firstLook = explainedBy([], starts, "wide");
  const singles = new Map<CurveFault, Weighed>(
    faults.map((one) => {
      const sizes = one.size === null ? [0] : SIZE_STARTS;
      const from = sizes.flatMap((size) =>
        [firstLook.sizes, ...starts].map((start) => [size, ...start]),
      );
      return [one, explainedBy([one], from, "wide")];
    }),
  );
  const ordered = [...singles.values()].sort((a, b) => weightOf(b) - weightOf(a));
  // What is sound of the likeliest faulty units may be all there is.
  const soundParts = ordered.slice(0, PAIRED).map(({ sizes }) => sizes.slice(1));
  const sound: Weighed = explainedBy([], [firstLook.sizes, ...soundParts], "near");
  const beginningsOf = (pair: readonly CurveFault[]) => {
    const [a = [], b = []] = pair.map((one) => singles.get(one)?.sizes);
    const [[sizeA = 0, ...soundA], [sizeB = 0, ...soundB]] = [a, b];
    return [
      [sizeA, 0, ...soundA],
      [0, sizeB, ...soundB],
      [sizeA, sizeB, ...soundA],
      [sizeA, sizeB, ...soundB],
    ];
  };
  const explainedByPairs = (all: readonly (readonly CurveFault[])[]): Weighed[] => {
    const glanced = all
      .map((pair) => ({ pair, weighed: explainedBy(pair, beginningsOf(pair), "glance") }))
      .sort((one, other) => weightOf(other.weighed) - weightOf(one.weighed));
    return glanced.map(({ pair, weighed }, i) =>
      i < PAIRS_FOLLOWED
        ? explainedBy(pair, [weighed.sizes, ...beginningsOf(pair)], "wide")
        : weighed,
    );
  };
  const isSound = ordered.every((one) => weightOf(one) < weightOf(sound) - MUCH_LESS);
  const meant = misreadings.map(({ part, prior, nominal: other }) => {
    const comparison = new Comparison(soundUnits(other, hasSecond), points, curve);
    const weighed: Weighed = {
      faults: [],
      isExplained: true,
      part,
      prior: SOUND_PRIOR * prior,
      ...comparison.explain([], starts),
    };
    return { comparison, sound: weighed };
  });
  const likeliestMeant = [...meant]
    .sort((a, b) => weightOf(b.sound) - weightOf(a.sound))
    .slice(0, MEANT);
  const explainedAsMeant = ({
    comparison,
    sound: { part, prior, sizes },
  }: (typeof meant)[number]) =>
    faults.map((one): Weighed => {
      const from = (one.size === null ? [0] : SIZE_STARTS).map((size) => [size, ...sizes]);
      return {
        faults: [one],
        isExplained: true,
        part,
        prior: prior * one.prior,
        ...comparison.explain([one], from),
      };
    });
  const paired = isSound ? [] : explainedByPairs(pairs(faults, likeliest(ordered)));
  const readAsPrinted = [sound, ...ordered, ...paired];
  const isWellExplained =
    Math.max(...readAsPrinted.map(({ logEvidence }) => logEvidence)) > WELL * points.length;
  const leftUnexplained = [
    [],
    ...faults
      .filter(({ kind, isJerky }) => SEEN_ANYHOW.includes(kind) && !isJerky)
      .map((one) => [one]),
  ].map(
    (some): Weighed => ({
      faults: some,
      isExplained: false,
      part: null,
      prior: some.reduce((product, { prior }) => product * prior, UNEXPLAINED_PRIOR),
      ...asPrinted.leaveUnexplained(
        some.length === 0
          ? starts
          : starts.flatMap((start) => SIZE_STARTS.map((size) => [size, ...start])),
        some,
      ),
    }),
  );
  const explained: readonly Weighed[] = [
    ...readAsPrinted,
    ...meant.map(({ sound: asMeant }) => asMeant),
    ...(isSound || isWellExplained ? [] : likeliestMeant.flatMap(explainedAsMeant)),
    ...leftUnexplained,
  ];
  const probabilities = shares(explained.map(weightOf));
  const explanations = explained
    .map((one, i) => ({
      faults: one.faults,
      isExplained: one.isExplained,
      misread: one.part,
      probability: probabilities[i] as number,
      sizes: one.faults.map((fault, k) => sizeOf(fault, one.sizes[k] ?? 0)),
    }))
    .sort((x, y) => y.probability - x.probability);
  const best = explained[probabilities.indexOf(Math.max(...probabilities))] as Weighed;
  const isStill = best.faults.some(({ kind }) => STILL.includes(kind));
  const unseen: FindingKind[] = [
    ...unseenBeside(best, explained, faults, asPrinted),
    ...(isStill && misreadings.length > 0 ? (["specification-misread"] as const) : []),
    ...(best.part === null
      ? []
      : BY_SPECIFICATION.filter((kind) => faults.some((one) => one.kind === kind))),
  ];
  return { explanations, places: points, unseen };
}

/** Seen between rising and falling, or at the return, whatever else the curve does. */
const SEEN_ANYHOW: readonly FindingKind[] = [
  "weights-dry",
  "weights-not-returning",
  "plate-sticking",
];
/** Where nothing moves there is nothing to hold a specification against. */
const STILL: readonly FindingKind[] = ["weights-stuck", "plate-not-following"];
/** Told by a specification alone: by a wrong one they may be said of a sound unit and not of a faulty one. */
const BY_SPECIFICATION: readonly FindingKind[] = ["stop-worn", "second-spring-missing"];
/** Where no single fault comes within this of a sound unit, in logarithms of weight, no pair is looked for. */
const MUCH_LESS = 2;
/**
 * Logarithm of the density that each reading has where a curve is explained as well as sound ones
 * are: then nobody looks for a fault together with a misreading. Read off simulated units.
 */
const WELL = 2.1;
/** So many of the likeliest misreadings are looked at with a fault besides. */
const MEANT = 2;
/** Pairs are looked for among those that alone explain most. */
const PAIRED = 4;
/** And so many of those pairs that explain most at a glance are searched for everywhere. */
const PAIRS_FOLLOWED = 12;

function likeliest(singles: readonly Weighed[]): ReadonlySet<CurveFault> {
  const ordered = [...singles].sort((a, b) => weightOf(b) - weightOf(a));
  return new Set(ordered.slice(0, PAIRED).flatMap(({ faults }) => faults));
}

const SIZE_STARTS = [0, -1.5, 1.5] as const;

/** One of the likeliest with each other that it does not hide. */
function pairs(
  faults: readonly CurveFault[],
  among: ReadonlySet<CurveFault>,
): (readonly [CurveFault, CurveFault])[] {
  return faults.flatMap((one, i) =>
    faults
      .slice(i + 1)
      .filter((other) => (among.has(one) || among.has(other)) && goTogether(one, other))
      .map((other): readonly [CurveFault, CurveFault] => [one, other]),
  );
}
