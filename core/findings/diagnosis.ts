// Which faults explain a measured curve, of weights or of a capsule, each with its probability.
import type { CurvePoint } from "../documents.ts";
import type { CurveFault } from "./curveFaults.ts";
import {
  changeCovariance,
  errorsOf,
  formCovariance,
  type KnownChange,
  type Point,
  sum,
} from "./doubts.ts";
import { type Explained, explain, shares, type Whitened, whitened } from "./evidence.ts";
import type { FindingKind } from "./finding.ts";
import type { Misreading } from "./misreadings.ts";
import type { Nominal } from "./nominal.ts";
import { type Place, readings, type Shape } from "./shape.ts";
import { lognormal, rowReadings, type SoundUnits, soundUnits } from "./soundUnits.ts";

export interface Curve {
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly referenceX: number;
  /** Standard uncertainty of what stands in all readings alike beyond their budgets. */
  readonly commonDeg: number;
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

/** In the order of the probability, the likeliest first. They sum to 1. */
export interface Diagnosis {
  readonly explanations: readonly Explanation[];
  readonly places: readonly Place[];
}

/** A curve that no fault explains may lie so far from a sound one. */
const UNEXPLAINED_DEG = 1.5;
const UNEXPLAINED_PRIOR = 0.0005;
const SOUND_PRIOR = 0.5;
const MOVES_DEG = 0.05;
const MOST_PASSES = 4;
const SAME_DEG = 0.2;
/** Along the curve: geometry bends it otherwise than springs and lever of this form. Read off simulated units. */
const FORM_DEG = 0.1;

/** A reading so near the reference's speed tells of the return; and where the cam then is may be anywhere. */
const NEAR_SHARE = 1.1;
const ANYWHERE_DEG = 5;

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
  hasSecond: boolean,
  faults: readonly CurveFault[],
  misreadings: readonly Misreading[],
): Diagnosis | null {
  const points = pointsOf(curve);
  if (points.length < 3) return null;
  const asPrinted = new Comparison(soundUnits(nominal, hasSecond), points, curve);
  const explainedBy = (some: readonly CurveFault[], starts: readonly (readonly number[])[]) => ({
    faults: some,
    part: null,
    prior: some.reduce((product, { prior }) => product * prior, SOUND_PRIOR),
    ...asPrinted.explain(some, starts),
  });
  const { starts } = asPrinted.units;
  const firstLook = explainedBy([], starts);
  const singles = new Map<CurveFault, Weighed>(
    faults.map((one) => {
      const sizes = one.size === null ? [0] : SIZE_STARTS;
      const from = sizes.flatMap((size) =>
        [firstLook.sizes, ...starts].map((start) => [size, ...start]),
      );
      return [one, explainedBy([one], from)];
    }),
  );
  const ordered = [...singles.values()].sort((a, b) => weightOf(b) - weightOf(a));
  // What is sound of the likeliest faulty units may be all there is.
  const soundParts = ordered.slice(0, PAIRED).map(({ sizes }) => sizes.slice(1));
  const sound: Weighed = explainedBy([], [firstLook.sizes, ...soundParts]);
  const explainedByPair = (pair: readonly [CurveFault, CurveFault]): Weighed => {
    const [a = [], b = []] = pair.map((one) => singles.get(one)?.sizes);
    const [[sizeA = 0, ...soundA], [sizeB = 0, ...soundB]] = [a, b];
    return explainedBy(pair, [
      [sizeA, 0, ...soundA],
      [0, sizeB, ...soundB],
      [sizeA, sizeB, ...soundA],
      [sizeA, sizeB, ...soundB],
    ]);
  };
  const isSound = ordered.every((one) => weightOf(one) < weightOf(sound) - MUCH_LESS);
  const explained: readonly Weighed[] = [
    sound,
    ...ordered,
    ...(isSound ? [] : pairs(faults, likeliest(ordered)).map(explainedByPair)),
    ...misreadings.map(
      ({ part, prior, nominal: meant }): Weighed => ({
        faults: [],
        part,
        prior: SOUND_PRIOR * prior,
        ...new Comparison(soundUnits(meant, hasSecond), points, curve).explain([], starts),
      }),
    ),
    { faults: null, part: null, prior: UNEXPLAINED_PRIOR, ...asPrinted.leaveUnexplained(starts) },
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

/**
 * How likely readings are for a sound unit of a specification, its printed rows known: the natural
 * logarithm of their density, to be compared between specifications. A unit that is none bounds how
 * unlikely they can be. Null without at least three readings.
 */
export function soundDensity(nominal: Nominal, curve: Curve, hasSecond: boolean): number | null {
  const points = pointsOf(curve);
  if (points.length < 3) return null;
  const units = soundUnits(nominal, hasSecond);
  const read = new Comparison(units, points, curve);
  const sound = read.explain([], units.starts).logEvidence;
  const otherwise = read.leaveUnexplained(units.starts).logEvidence + Math.log(UNEXPLAINED_PRIOR);
  const rowsAlone = new Comparison(units, [], curve).explain([], units.starts).logEvidence;
  const most = Math.max(sound, otherwise);
  const either = most + Math.log(Math.exp(sound - most) + Math.exp(otherwise - most));
  return COUNTS_FOR * (either - rowsAlone);
}

function pointsOf(curve: Curve): readonly Point[] {
  return (["rising", "falling"] as const).flatMap((branch) =>
    curve[branch].map((point) => ({ ...point, branch })),
  );
}

/** One specification against the readings: what it asks for of the sound unit is one more thing that is read. */
class Comparison {
  readonly units: SoundUnits;
  private readonly points: readonly Point[];
  private readonly referenceX: number;
  private readonly values: readonly number[];
  private readonly errors: readonly (readonly number[])[];
  /** Of a cam that nothing draws home. */
  private readonly withReturnOpen: readonly (readonly number[])[];

  constructor(
    units: SoundUnits,
    points: readonly Point[],
    { referenceX, commonDeg }: Pick<Curve, "referenceX" | "commonDeg">,
  ) {
    this.units = units;
    this.points = points;
    this.referenceX = referenceX;
    this.values = [...points.map(({ advanceDeg }) => advanceDeg), ...units.rows.degrees];
    this.errors = errorsOf(points, commonDeg);
    const isReturn = ({ x, branch }: Point) => branch === "falling" && x <= NEAR_SHARE * referenceX;
    this.withReturnOpen = this.errors.map((row, i) =>
      isReturn(points[i] as Point) ? row.with(i, (row[i] as number) + ANYWHERE_DEG ** 2) : row,
    );
  }

  /** Again and again, each time by how exactly it is known what the faults change: the more the less. */
  explain(faults: readonly CurveFault[], starts: readonly (readonly number[])[]): Explained {
    const predict = (sizes: readonly number[]) => this.predict(faults, sizes);
    const isJerky = faults.some((fault) => fault.isJerky);
    const errors = faults.some((fault) => fault.isLoose) ? this.withReturnOpen : this.errors;
    let found = explain(this.whitened(errors, FORM_DEG, null), starts, predict);
    if (faults.length === 0) return found;
    for (let pass = 0; pass < MOST_PASSES; pass++) {
      const { predicted, sizes } = found;
      const curve = predicted.slice(0, this.points.length);
      // No change is known better than that nothing moves.
      if (curve.every((deg) => Math.abs(deg) < MOVES_DEG)) return found;
      const sound = this.predict([], sizes.slice(faults.length));
      const changes = predicted.map((deg, i) => deg - (sound[i] as number));
      const known = { predicted, changes, isJerky };
      found = explain(this.whitened(errors, FORM_DEG, known), [sizes], predict);
      const isSame = (deg: number, i: number) => Math.abs(deg - (curve[i] as number)) < SAME_DEG;
      if (found.predicted.slice(0, curve.length).every(isSame)) return found;
    }
    return found;
  }

  leaveUnexplained(starts: readonly (readonly number[])[]): Explained {
    return explain(this.whitened(this.errors, UNEXPLAINED_DEG, null), starts, (sizes) =>
      this.predict([], sizes),
    );
  }

  private whitened(
    errors: readonly (readonly number[])[],
    formDeg: number,
    known: KnownChange | null,
  ): Whitened {
    const curve = sum(errors, formCovariance(this.points, formDeg));
    const ofPoints = known === null ? curve : sum(curve, changeCovariance(known));
    const { doubtDeg } = this.units.rows;
    const count = this.points.length;
    return whitened(
      this.values,
      this.values.map((_, i) =>
        this.values.map((__, j) => {
          if (i < count && j < count) return ofPoints[i]?.[j] as number;
          return i === j ? doubtDeg ** 2 : 0;
        }),
      ),
    );
  }

  private predict(faults: readonly CurveFault[], sizes: readonly number[]): number[] {
    const ofUnit = sizes.slice(faults.length);
    return [
      ...readings(this.shapeWith(faults, sizes), this.points, this.referenceX),
      ...rowReadings(this.units, ofUnit),
    ];
  }

  private shapeWith(faults: readonly CurveFault[], sizes: readonly number[]): Shape {
    return faults.reduce<Shape>(
      (before, fault, k) => fault.change(before, sizeOf(fault, sizes[k] ?? 0)),
      this.units.shapeOf(sizes.slice(faults.length)),
    );
  }
}

function sizeOf({ size }: CurveFault, standard: number): number {
  return size === null ? 0 : lognormal(size, standard);
}

/** Where no single fault comes within this of a sound unit, in logarithms of weight, no pair is looked for. */
const MUCH_LESS = 2;
/** Pairs are looked for among those that alone explain most. */
const PAIRED = 4;

function likeliest(singles: readonly Weighed[]): ReadonlySet<CurveFault> {
  const ordered = [...singles].sort((a, b) => weightOf(b) - weightOf(a));
  return new Set(ordered.slice(0, PAIRED).flatMap(({ faults }) => faults ?? []));
}

/** Readings err together in ways that no covariance here has: they count for less. An assumption, no source. */
const COUNTS_FOR = 0.8;

function weightOf({ prior, logEvidence }: Weighed): number {
  return Math.log(prior) + COUNTS_FOR * logEvidence;
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

function goTogether(one: CurveFault, other: CurveFault): boolean {
  if (one.kind === other.kind && (one.part === other.part || !isSpring(one.kind))) return false;
  const both = [one, other];
  // A cam that is stuck hides all but what is not the unit's.
  if (both.some(({ kind }) => kind === "weights-stuck")) {
    return both.some(({ subject }) => subject === "rig");
  }
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
