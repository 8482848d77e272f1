// What stands in every reading of a run alike: error of the reference, delay not known, ripple not seen.
// Readings at speeds where the weights do not yet move tell of all three.
import type { UncertaintyPart } from "../documents.ts";
import { fitLinear } from "../fit/leastSquares.ts";
import { part } from "./budget.ts";
import { ASSUMED_DEG, rippleScale } from "./ripple.ts";
import { meanAndSpread } from "./statistics.ts";

/**
 * How a reading's advance follows the three. A delay of 1 µs retards by 6e-6° for each rpm; what
 * counts is the difference to the reference.
 */
export interface Follows {
  /** Degrees for one degree of ripple at 1000 rpm. */
  readonly ripple: number;
  /** Degrees for one microsecond. */
  readonly delay: number;
  /** 1, or 0 for the reference itself. */
  readonly reference: number;
}

/** `alike`: how far ripple that no pickup sees still shifts the lobes as at the reference. */
export interface Moved extends Follows {
  readonly alike: number;
  readonly other: number;
}

/** What is known of them: values and, in the order ripple, delay, reference, their covariance. */
export interface Zero {
  readonly rippleDegAt1000Rpm: number;
  readonly delayUs: number;
  readonly referenceDeg: number;
  readonly covariance: readonly (readonly number[])[];
  /** How far ripple may be off its law, degrees at 1000 rpm, counted from how the readings that told it follow it. */
  readonly lawDoubtDeg: number;
  readonly toldBy: number;
  /** Whether slow readings had a say, and up to which speed. */
  readonly told: boolean;
  readonly toldUpToRpm: number;
  /** Standard deviation of the ripple's angle at 1000 rpm at a place of the turn where nothing told it. */
  readonly rippleSizeDegAt1000Rpm: number;
  /** The same of orders that shift one lobe against another. */
  readonly rippleBetweenLobesDegAt1000Rpm: number;
  readonly delayDegreesOfFreedom: number | null;
  readonly referenceDegreesOfFreedom: number | null;
}

export interface Assumed {
  readonly rippleSizeDegAt1000Rpm: number;
  /** Up to this angle ripple is no surprise, and has no more to do than to agree with its law. */
  readonly usualRippleDegAt1000Rpm: number;
  readonly rippleBetweenLobesDegAt1000Rpm: number;
  readonly delayUs: number;
  readonly delayDegreesOfFreedom: number | null;
  readonly referenceDeg: number;
  readonly referenceDegreesOfFreedom: number | null;
}

/** Nothing told: each 0 with the standard uncertainty assumed. */
export function assumedZero(assumed: Assumed): Zero {
  const { rippleSizeDegAt1000Rpm, delayUs, referenceDeg } = assumed;
  const sizes = [rippleSizeDegAt1000Rpm, delayUs, referenceDeg];
  return {
    rippleDegAt1000Rpm: 0,
    delayUs: 0,
    referenceDeg: 0,
    covariance: sizes.map((one, i) => sizes.map((_, j) => (i === j ? one ** 2 : 0))),
    lawDoubtDeg: 0,
    toldBy: 0,
    told: false,
    toldUpToRpm: 0,
    rippleSizeDegAt1000Rpm,
    rippleBetweenLobesDegAt1000Rpm: assumed.rippleBetweenLobesDegAt1000Rpm,
    delayDegreesOfFreedom: assumed.delayDegreesOfFreedom,
    referenceDegreesOfFreedom: assumed.referenceDegreesOfFreedom,
  };
}

export function zeroDeg(zero: Zero, follows: Follows): number {
  return (
    zero.rippleDegAt1000Rpm * follows.ripple +
    zero.delayUs * follows.delay +
    zero.referenceDeg * follows.reference
  );
}

/** Once slow readings had a say the three hang together, and only their sum has an uncertainty of its own. */
export function zeroParts(zero: Zero, follows: Follows): UncertaintyPart[] {
  const by = [follows.ripple, follows.delay, follows.reference];
  if (zero.told) {
    const variance = by.reduce(
      (sum, one, i) =>
        sum + by.reduce((row, other, j) => row + one * other * (zero.covariance[i]?.[j] ?? 0), 0),
      0,
    );
    const standardUncertainty = Math.hypot(
      Math.sqrt(Math.max(0, variance)),
      lawDoubt(zero, follows),
    );
    return [part("zero", standardUncertainty, { shared: true })];
  }
  const size = (i: number) => Math.abs(by[i] as number) * Math.sqrt(zero.covariance[i]?.[i] ?? 0);
  return [
    part("ripple not seen", size(0), { shared: true }),
    part("delay", size(1), { shared: true, degreesOfFreedom: zero.delayDegreesOfFreedom }),
    part("reference", size(2), { shared: true, degreesOfFreedom: zero.referenceDegreesOfFreedom }),
  ];
}

/**
 * What ripple does at the reference, the readings that told it have read off, whatever the law; and at the reference's
 * own speed it stands in both alike. So the law is doubted on the way from the nearer of the two.
 */
function lawDoubt({ lawDoubtDeg, toldBy }: Zero, { ripple }: Follows): number {
  return lawDoubtDeg * Math.min(Math.abs(ripple), Math.abs(ripple - toldBy));
}

/** A reading's advance as it seems, and the standard uncertainty that is its own. */
export interface SlowReading {
  readonly speedRpm: number;
  readonly referenceRpm: number;
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
  readonly follows: Follows;
}

/** Speeds besides the reference's that must agree before they are believed. */
const SPEEDS_MIN = 2;
const MUCH_LARGER = 5;
const AGREES = 2.5;
const MOST_EXPECTED = 3.5;
/** How far ripple may be off its law, as a share of its angle: large ripple is no sine in time. */
const LAW_DOUBT = 0.05;
const FALLEN = 0.5;
/** Speeds closer than this share are one. */
const SAME_SPEED = 0.02;
/** Of a reading whose turns agree better than the rest of the rig could. */
const LEAST_DEG = 1e-4;

/**
 * From the slowest readings upward as many are taken as agree with an advance of 0 and the three
 * errors; where the weights begin to move they no longer do. What was assumed beforehand counts as
 * one more observation of each.
 */
export function toldZero(readings: readonly SlowReading[], assumed: Assumed): Zero {
  const told = toldUnder(readings, assumed, SPEEDS_MIN);
  if (told.told) return told;
  // Larger ripple than assumed, in an order that no pickup of so many edges sees, shows by its law alone.
  const rippleSizeDegAt1000Rpm =
    MUCH_LARGER * Math.max(ASSUMED_DEG, assumed.rippleSizeDegAt1000Rpm);
  const supposed = { ...assumed, rippleSizeDegAt1000Rpm };
  const larger = toldUnder(readings, supposed, SPEEDS_MIN + 1);
  return larger.told ? larger : told;
}

function toldUnder(readings: readonly SlowReading[], assumed: Assumed, speedsMin: number): Zero {
  const ordered = [...readings].sort((a, b) => a.speedRpm - b.speedRpm);
  let best = assumedZero(assumed);
  for (let count = 1; count <= ordered.length; count++) {
    const group = ordered.slice(0, count);
    const next = ordered[count];
    const last = group[count - 1] as SlowReading;
    if (next !== undefined && isSame(next.speedRpm, last.speedRpm)) continue;
    const told = estimate(group, assumed);
    if (!agrees(told, assumed, group)) break;
    const usual = Math.abs(told.rippleDegAt1000Rpm) <= assumed.usualRippleDegAt1000Rpm;
    const enough = distinctSpeeds(group) >= speedsMin && reachesFar(group);
    if (enough && (usual || lawShows(told, group))) best = doubtingFastest(told, group, assumed);
  }
  return best;
}

/**
 * At the fastest speed taken the weights may have begun to move by less than shows: what it changes in
 * the outcome is doubted.
 */
function doubtingFastest(told: Zero, group: readonly SlowReading[], assumed: Assumed): Zero {
  const fastestRpm = told.toldUpToRpm;
  const slower = estimate(
    group.filter(({ speedRpm }) => !isSame(speedRpm, fastestRpm)),
    assumed,
  );
  const changes = [
    told.rippleDegAt1000Rpm - slower.rippleDegAt1000Rpm,
    told.delayUs - slower.delayUs,
    told.referenceDeg - slower.referenceDeg,
  ];
  const covariance = told.covariance.map((row, i) =>
    row.map((one, j) => one + (changes[i] ?? 0) * (changes[j] ?? 0)),
  );
  return { ...told, covariance };
}

/** The law must fit, with errors that could be expected. */
function agrees(told: Zero, assumed: Assumed, group: readonly SlowReading[]): boolean {
  const sizes = [
    [told.rippleDegAt1000Rpm, assumed.rippleSizeDegAt1000Rpm],
    [told.delayUs, assumed.delayUs],
    [told.referenceDeg, assumed.referenceDeg],
  ] as const;
  const ripple = told.rippleDegAt1000Rpm;
  const left = group.map((one) => one.advanceDeg - zeroDeg(told, one.follows));
  const { mean } = meanAndSpread(left);
  return (
    sizes.every(([value, size]) => Math.abs(value) <= MOST_EXPECTED * size) &&
    group.every(({ speedRpm, referenceRpm, standardUncertaintyDeg }, i) => {
      // Off its law at the reference, ripple shifts all readings alike; at a reading's own speed that one alone.
      const alike = toleranceDeg(ripple * rippleScale(referenceRpm), standardUncertaintyDeg);
      const alone = toleranceDeg(ripple * rippleScale(speedRpm), standardUncertaintyDeg);
      return Math.abs(mean) <= alike && Math.abs((left[i] as number) - mean) <= alone;
    })
  );
}

function toleranceDeg(rippleDeg: number, standardUncertaintyDeg: number): number {
  return AGREES * Math.hypot(Math.max(standardUncertaintyDeg, LEAST_DEG), LAW_DOUBT * rippleDeg);
}

/**
 * Where ripple comes out larger than expected, speeds must be so far apart that a step at the first
 * of them, the same at all, would not have agreed as well.
 */
function lawShows({ rippleDegAt1000Rpm }: Zero, group: readonly SlowReading[]): boolean {
  const ripples = group
    .filter(isElsewhere)
    .map(({ follows }) => Math.abs(rippleDegAt1000Rpm * follows.ripple));
  const [least, most] = [Math.min(...ripples), Math.max(...ripples)];
  const worst = Math.max(...group.map((one) => one.standardUncertaintyDeg));
  return (most - least) / 2 > toleranceDeg((most + least) / 2, worst);
}

/** Readings hardly faster than the reference tell next to nothing: ripple must have fallen to half. */
function reachesFar(group: readonly SlowReading[]): boolean {
  const { referenceRpm } = group[0] as SlowReading;
  return group.some(
    ({ follows }) => Math.abs(follows.ripple) >= FALLEN * rippleScale(referenceRpm),
  );
}

function estimate(group: readonly SlowReading[], assumed: Assumed): Zero {
  const sizes = [assumed.rippleSizeDegAt1000Rpm, assumed.delayUs, assumed.referenceDeg];
  // In units of what was assumed, so that each assumption is an observation of 0 with uncertainty 1.
  const rows = group.map(({ follows }) =>
    [follows.ripple, follows.delay, follows.reference].map((one, i) => one * (sizes[i] as number)),
  );
  const fit = fitLinear([...rows, [1, 0, 0], [0, 1, 0], [0, 0, 1]], {
    values: [...group.map(({ advanceDeg }) => advanceDeg), 0, 0, 0],
    standardUncertainties: [
      ...group.map((one) => Math.max(one.standardUncertaintyDeg, LEAST_DEG)),
      1,
      1,
      1,
    ],
  });
  if (!fit.converged) return assumedZero(assumed);
  const [ripple = 0, delay, reference] = fit.parameters.map((one, i) => one * (sizes[i] as number));
  return {
    ...assumedZero(assumed),
    // What was found at one place of the turn says as much of the size elsewhere as what was assumed,
    // which was cautious: as a limit it is a rectangle (JCGM 100 § 4.3.7, from memory).
    rippleSizeDegAt1000Rpm:
      Math.hypot(assumed.rippleSizeDegAt1000Rpm / Math.sqrt(3), ripple) / Math.SQRT2,
    rippleDegAt1000Rpm: ripple,
    delayUs: delay ?? 0,
    referenceDeg: reference ?? 0,
    covariance: fit.covariance.map((row, i) =>
      row.map((one, j) => one * (sizes[i] as number) * (sizes[j] as number)),
    ),
    lawDoubtDeg: LAW_DOUBT * Math.abs(ripple),
    toldBy: meanAndSpread(group.map(({ follows }) => follows.ripple)).mean,
    told: true,
    toldUpToRpm: Math.max(...group.map(({ speedRpm }) => speedRpm)),
  };
}

function distinctSpeeds(group: readonly SlowReading[]): number {
  const elsewhere = group.filter(isElsewhere);
  return elsewhere.filter(
    ({ speedRpm }, i) => i === 0 || !isSame(speedRpm, (elsewhere[i - 1] as SlowReading).speedRpm),
  ).length;
}

/** At the reference's own speed ripple stands in both alike, and nothing is told of it. */
function isElsewhere({ speedRpm, referenceRpm }: SlowReading): boolean {
  return !isSame(speedRpm, referenceRpm);
}

function isSame(oneRpm: number, otherRpm: number): boolean {
  return Math.abs(oneRpm / otherRpm - 1) < SAME_SPEED;
}
