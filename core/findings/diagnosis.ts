// Which faults explain a measured curve, of weights or of a capsule, each with its probability.
import { combined, ownOf, sharedOf } from "../angles/budget.ts";
import type { CurvePoint } from "../documents.ts";
import type { CurveFault } from "./curveFaults.ts";
import { type Explained, explain, shares, type Whitened, whitened } from "./evidence.ts";
import type { FindingKind } from "./finding.ts";
import type { Misreading } from "./misreadings.ts";
import type { Nominal } from "./nominal.ts";
import { type Place, readings, type Shape, soundShape } from "./shape.ts";

export interface Curve {
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly referenceX: number;
  /** Standard uncertainty of what stands in all readings alike beyond their budgets. */
  readonly commonDeg: number;
  /** Each read by eye: errors that are each reading's own, larger than what is not known of units. */
  readonly isByEye: boolean;
}

/** One way to explain the whole curve. */
export interface Explanation {
  /** None, one or two; null where the curve is off in a way that none of them explains. */
  readonly faults: readonly CurveFault[] | null;
  /** How the specification was misread, or null. */
  readonly misread: string | null;
  readonly probability: number;
  /** Of each fault, in its own unit; 0 for one that is there or not. */
  readonly sizes: readonly number[];
  readonly predictedDeg: readonly number[];
}

type Point = CurvePoint & Place;

/** In the order of the probability, the likeliest first. They sum to 1. */
export interface Diagnosis {
  readonly explanations: readonly Explanation[];
  readonly places: readonly Place[];
}

/** How sound units differ from the middle of their band, as a share of its half width. An assumption, no source. */
const SOUND_SHARE = 0.3;
/** Between two printed rows, as a share of the advance from one to the next: a specification does not tell. */
const BETWEEN_SHARE = 0.12;
const BETWEEN_MAX_DEG = 0.8;
/** A curve that no fault explains differs by so many times that. */
const UNEXPLAINED = 5;
const UNEXPLAINED_PRIOR = 0.01;
const SOUND_PRIOR = 0.5;
/** Below this advance a sound unit has no room to differ. */
const FULL_FROM_DEG = 2;
/** What no budget has: the shape of the specification between its rows is not known. */
const SHAPE_DEG = 0.05;
/** Friction of sound units: half the gap as a share of the load. An assumption, no source. */
const FRICTION = { median: 0.012, spread: 0.7 } as const;
const MOST_FRICTION = 0.9;
/** Not known of a sound unit either: its friction, and how steep its first spring is by itself. */
const UNKNOWNS = 2;
/** An assumption, no source: at least so much of the slope that the rows show. */
const LEAST_LEAD = 0.35;
const MOST_LEAD = 1.3;

function leadOf(standard: number): number {
  return LEAST_LEAD + (MOST_LEAD - LEAST_LEAD) / (1 + Math.exp(1.5 * standard));
}

interface Candidate {
  readonly faults: readonly CurveFault[] | null;
  readonly part: string | null;
  readonly prior: number;
}

type Weighed = Candidate & Explained;

/** Null without at least three readings. */
export function diagnose(
  nominal: Nominal,
  curve: Curve,
  faults: readonly CurveFault[],
  misreadings: readonly Misreading[],
): Diagnosis | null {
  const points = (["rising", "falling"] as const).flatMap((branch) =>
    curve[branch].map((point) => ({ ...point, branch })),
  );
  if (points.length < 3) return null;
  const asPrinted = new Comparison(nominal, points, curve);
  const explainedBy = (some: readonly CurveFault[]): Weighed => ({
    faults: some,
    part: null,
    prior: some.reduce((product, { prior }) => product * prior, SOUND_PRIOR),
    ...asPrinted.explain(some),
  });
  const sound = explainedBy([]);
  const singles = faults.map((fault) => explainedBy([fault]));
  const countsFor = curve.isByEye ? 1 : COUNTS_FOR;
  const weightOf = ({ prior, logEvidence }: Weighed) => Math.log(prior) + countsFor * logEvidence;
  const isSound = singles.every((one) => weightOf(one) < weightOf(sound) - MUCH_LESS);
  const explained: readonly Weighed[] = [
    sound,
    ...singles,
    ...(isSound ? [] : pairs(faults, likeliest(singles, weightOf)).map(explainedBy)),
    ...misreadings.map(
      ({ part, prior, nominal: meant }): Weighed => ({
        faults: [],
        part,
        prior: SOUND_PRIOR * prior,
        ...new Comparison(meant, points, curve).explain([]),
      }),
    ),
    { faults: null, part: null, prior: UNEXPLAINED_PRIOR, ...asPrinted.leaveUnexplained() },
  ];
  const probabilities = shares(explained.map(weightOf));
  const explanations = explained
    .map((one, i) => ({
      faults: one.faults,
      misread: one.part,
      probability: probabilities[i] as number,
      sizes: (one.faults ?? []).map((fault, k) => sizeOf(fault, one.sizes[k] ?? 0)),
      predictedDeg: one.predicted,
    }))
    .sort((x, y) => y.probability - x.probability);
  return { explanations, places: points };
}

/** One specification against the readings. */
class Comparison {
  private readonly nominal: Nominal;
  private readonly points: readonly Point[];
  private readonly referenceX: number;
  private readonly values: readonly number[];
  private readonly doubts: readonly Doubt[];
  private readonly errors: readonly (readonly number[])[];
  private readonly measured: Whitened;

  constructor(
    nominal: Nominal,
    points: readonly Point[],
    { referenceX, commonDeg }: Pick<Curve, "referenceX" | "commonDeg">,
  ) {
    this.nominal = nominal;
    this.points = points;
    this.referenceX = referenceX;
    this.values = points.map(({ advanceDeg }) => advanceDeg);
    this.doubts = points.map((point) => soundDoubt(nominal, soundShape(nominal), point));
    this.errors = errorsOf(points, commonDeg);
    this.measured = whitened(this.values, sum(this.errors, soundCovariance(this.doubts, 1)));
  }

  /**
   * Twice, the second time by how units with that fault differ: alike sound ones, and the more a fault
   * changes the curve the less exactly it is known how.
   */
  explain(faults: readonly CurveFault[]): Explained {
    const predict = (sizes: readonly number[]) => this.predict(faults, sizes);
    const count = faults.length + UNKNOWNS;
    const first = explain(this.measured, count, predict);
    const shape = this.shapeWith(faults, first.sizes);
    const soundDeg = this.predict([], first.sizes.slice(faults.length));
    // No change is known better than that nothing moves.
    const changes = first.predicted.map((deg, i) =>
      shape.isStuck ? 0 : deg - (soundDeg[i] as number),
    );
    const doubts = this.points.map((point) => soundDoubt(this.nominal, shape, point));
    const doubtful = whitened(
      this.values,
      sum(sum(this.errors, soundCovariance(doubts, 1)), changeCovariance(first.predicted, changes)),
    );
    return explain(doubtful, count, predict, first.sizes);
  }

  leaveUnexplained(): Explained {
    const loose = sum(this.errors, soundCovariance(this.doubts, UNEXPLAINED));
    return explain(whitened(this.values, loose), UNKNOWNS, (sizes) => this.predict([], sizes));
  }

  private predict(faults: readonly CurveFault[], sizes: readonly number[]): number[] {
    return readings(this.shapeWith(faults, sizes), this.points, this.referenceX);
  }

  private shapeWith(faults: readonly CurveFault[], sizes: readonly number[]): Shape {
    const [frictionSize = 0, leadSize = 0] = sizes.slice(faults.length);
    const friction = Math.min(MOST_FRICTION, lognormal(FRICTION, frictionSize));
    const sound = soundShape(this.nominal, leadOf(leadSize));
    return faults.reduce<Shape>(
      (before, fault, k) => fault.change(before, sizeOf(fault, sizes[k] ?? 0)),
      { ...sound, friction, soundFriction: friction },
    );
  }
}

/** How well a fault's change of the curve is known, as a share of it. An assumption, no source. */
const CHANGE_SHARE = 0.07;
const CHANGE_REACH_DEG = 2.5;

function changeCovariance(predicted: readonly number[], changes: readonly number[]): number[][] {
  return changes.map((one, i) =>
    changes.map((other, j) => {
      const apart = (predicted[i] as number) - (predicted[j] as number);
      const alike = Math.exp(-((apart / CHANGE_REACH_DEG) ** 2) / 2);
      return CHANGE_SHARE ** 2 * one * other * (i === j ? 1 : 0.9 * alike);
    }),
  );
}

function sizeOf({ size }: CurveFault, standard: number): number {
  return size === null ? 0 : lognormal(size, standard);
}

function lognormal({ median, spread }: { median: number; spread: number }, standard: number) {
  return median * Math.exp(spread * Math.max(-8, Math.min(8, standard)));
}

interface Doubt {
  readonly advanceDeg: number;
  /** Standard deviation of sound units here: by their springs, and by where they begin. */
  readonly byShapeDeg: number;
  readonly byStartDeg: number;
}

function soundDoubt(nominal: Nominal, shape: Shape, { x, branch }: Place): Doubt {
  const { halfWidthDeg, startDoubt } = nominal;
  const at = (place: number) =>
    readings(shape, [{ x: Math.max(1, place), branch }], 0)[0] as number;
  const advanceDeg = at(x);
  return {
    advanceDeg,
    byShapeDeg:
      Math.hypot(SOUND_SHARE * halfWidthDeg, betweenDeg(nominal, advanceDeg)) *
      Math.min(1, advanceDeg / FULL_FROM_DEG),
    byStartDeg: ((at(x + startDoubt) - at(x - startDoubt)) / 2) * fading(advanceDeg),
  };
}

/** Largest halfway between two knots. */
function betweenDeg({ knots }: Nominal, advanceDeg: number): number {
  const above = knots.findIndex((knot) => knot.advanceDeg > advanceDeg);
  const [low, high] = [knots[above - 1], knots[above]];
  if (low === undefined || high === undefined) return 0;
  const gapDeg = high.advanceDeg - low.advanceDeg;
  const share = (advanceDeg - low.advanceDeg) / gapDeg;
  return Math.min(BETWEEN_MAX_DEG, BETWEEN_SHARE * gapDeg) * 4 * share * (1 - share);
}

/** Where a unit begins matters less the farther it has come. */
function fading(advanceDeg: number): number {
  return Math.exp(-((advanceDeg / 4) ** 2));
}

/** Of the readings: each by itself, and what stands in several alike. */
function errorsOf(points: readonly Pick<CurvePoint, "budget">[], commonDeg: number): number[][] {
  const shared = points.map(({ budget }) => sharedOf(budget));
  return points.map(({ budget }, i) =>
    points.map((_, j) => {
      const together = (shared[i] ?? []).reduce((total, one) => {
        const other = shared[j]?.find(({ name }) => name === one.name);
        return total + one.standardUncertainty * (other?.standardUncertainty ?? 0);
      }, 0);
      return (
        commonDeg ** 2 + together + (i === j ? combined(ownOf(budget)) ** 2 + SHAPE_DEG ** 2 : 0)
      );
    }),
  );
}

/** How far along the curve sound units differ alike, in degrees: as a share of the whole, and by small steps. */
const REACH_SHARE = 0.2;
const STEP_DEG = 0.7;
const STEP_SHARE = 0.3;

/** Sound units differ smoothly along the curve, alike on both branches. */
function soundCovariance(doubts: readonly Doubt[], factor: number): number[][] {
  const reachDeg = REACH_SHARE * Math.max(2, ...doubts.map(({ advanceDeg }) => advanceDeg));
  return doubts.map((one) =>
    doubts.map((other) => {
      const apart = one.advanceDeg - other.advanceDeg;
      const alike =
        (1 - STEP_SHARE) * Math.exp(-((apart / reachDeg) ** 2) / 2) +
        STEP_SHARE * Math.exp(-((apart / STEP_DEG) ** 2) / 2);
      return (
        factor ** 2 *
        alike *
        (one.byShapeDeg * other.byShapeDeg + one.byStartDeg * other.byStartDeg)
      );
    }),
  );
}

function sum(one: readonly (readonly number[])[], other: readonly (readonly number[])[]) {
  return one.map((row, i) => row.map((value, j) => value + (other[i]?.[j] ?? 0)));
}

/** Where no single fault comes within this of a sound unit, in logarithms of weight, no pair is looked for. */
const MUCH_LESS = 2;
/** Pairs are looked for among those that alone explain most. */
const PAIRED = 6;

function likeliest(
  singles: readonly Weighed[],
  weightOf: (one: Weighed) => number,
): ReadonlySet<CurveFault> {
  const ordered = [...singles].sort((a, b) => weightOf(b) - weightOf(a));
  return new Set(ordered.slice(0, PAIRED).flatMap(({ faults }) => faults ?? []));
}

/** A rig's readings err together in ways that no covariance here has: they count for less. An assumption, no source. */
const COUNTS_FOR = 0.5;

/** One of the likeliest with each other that it does not hide. */
function pairs(
  faults: readonly CurveFault[],
  among: ReadonlySet<CurveFault>,
): (readonly CurveFault[])[] {
  return faults.flatMap((one, i) =>
    faults
      .slice(i + 1)
      .filter((other) => (among.has(one) || among.has(other)) && goTogether(one, other))
      .map((other) => [one, other]),
  );
}

function goTogether(one: CurveFault, other: CurveFault): boolean {
  if (one.kind === other.kind && (one.part === other.part || !isSpring(one.kind))) return false;
  const both = [one, other];
  if (both.some(({ kind }) => kind === "weights-stuck")) return false;
  // Of one spring only one thing can be told, and a missing one has no load to lose.
  const onFirst = both.filter(({ kind, part }) => /first|both/.test(part ?? kind));
  const onSecond = both.filter(
    ({ kind, part }) => /second|both/.test(part ?? kind) || kind === "second-spring-loop-worn",
  );
  return onFirst.length < 2 && onSecond.length < 2;
}

function isSpring(kind: FindingKind): boolean {
  return kind.startsWith("spring-");
}
