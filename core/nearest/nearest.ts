// Which of the units on file a measured curve is like: how well each explains it, and which rows it would not pass.
import type { Curve } from "../findings/comparison.ts";
import { shares } from "../findings/evidence.ts";
import { type Nominal, nominalOf } from "../findings/nominal.ts";
import { soundDensity } from "../findings/soundDensity.ts";
import { hasOwnTarget } from "../ownTarget.ts";
import type { Band, Unit } from "../unit.ts";
import { type FormDifference, formDifferences } from "./form.ts";
import type { Measured, MeasuredCapsule } from "./measured.ts";
import { type RowHeld, rowsHeld } from "./rows.ts";

/** A unit with its specification, and where that is kept. */
export interface UnitOnFile {
  readonly place: string;
  readonly unit: Unit;
}

/**
 * `passes`: every printed row that has to do with the readings is met. `open`: none is missed, not all are
 * proved. `outside`: a row is missed, so that it is this unit only if springs, stop or capsule are worn
 * or changed. `other`: cam, direction or capsule are not this unit's.
 */
export type Standing = "passes" | "open" | "outside" | "other";

export interface Compared {
  readonly onFile: UnitOnFile;
  readonly standing: Standing;
  /** Probability that it is this one if it is one of those on file and sound; null for another form. */
  readonly share: number | null;
  /** The readings speak for the first of all not much more than for this one. */
  readonly isAlikeFirst: boolean;
  readonly differences: readonly FormDifference[];
  readonly rows: readonly RowHeld[];
}

/** Told apart where the readings speak for one so many times as much: decisive, by Jeffreys' scale (from memory). */
const TOLD_APART = 100;

/** The nearest first; units without any printed row, and targets of the user's own, are left out. */
export function nearest(measured: Measured, units: readonly UnitOnFile[]): readonly Compared[] {
  const all = units
    .filter(({ unit }) => isSpecified(unit))
    .map((onFile) => heldAgainst(measured, onFile));
  const like = all.filter(({ standing }) => standing !== "other");
  const weighed = weights(
    measured,
    like.map(({ onFile }) => onFile.unit),
  );
  const share = new Map(like.map((one, i) => [one, weighed[i] as number]));
  const ordered = all.map((one) => ({ ...one, share: share.get(one) ?? null })).sort(nearestFirst);
  const [first] = ordered;
  return ordered.map((one) => {
    const most = first?.share ?? 0;
    const isNear = one.share !== null && TOLD_APART * one.share >= most;
    // A missed row tells it from one that misses none.
    const isMissed = one.standing === "outside" && first?.standing !== "outside";
    return { ...one, isAlikeFirst: isNear && !isMissed };
  });
}

/** A target of somebody's own is no unit's specification. */
function isSpecified(unit: Unit): boolean {
  const { speedBand, capsules } = unit;
  const isAny = speedBand !== null || capsules.some(({ band }) => band !== null);
  return isAny && !hasOwnTarget(unit);
}

type Weighed = Omit<Compared, "isAlikeFirst">;

function nearestFirst(one: Weighed, other: Weighed): number {
  const byShare = (other.share ?? -1) - (one.share ?? -1);
  if (byShare !== 0) return byShare;
  return one.differences.length - other.differences.length;
}

function heldAgainst(measured: Measured, onFile: UnitOnFile) {
  const { unit } = onFile;
  const differences = formDifferences(measured, unit);
  const rows = [
    ...(unit.speedBand === null ? [] : rowsHeld("speed", measured.speed, unit.speedBand)),
    ...measured.capsules.flatMap((capsule) => {
      const band = capsuleBandOf(unit, capsule);
      return band === null ? [] : rowsHeld("vacuum", capsule, band);
    }),
  ];
  return { onFile, differences, rows, standing: standingOf(differences, rows) };
}

/** Of the capsule that acts the same way. */
export function capsuleBandOf(
  { capsules }: Unit,
  { acts }: Pick<MeasuredCapsule, "acts">,
): Band | null {
  return capsules.find((one) => one.acts === acts)?.band ?? null;
}

function standingOf(differences: readonly FormDifference[], rows: readonly RowHeld[]): Standing {
  if (differences.some(({ rulesOut }) => rulesOut)) return "other";
  if (rows.some(({ verdict }) => verdict === "outside")) return "outside";
  return rows.length > 0 && rows.every(({ verdict }) => verdict === "within") ? "passes" : "open";
}

/** Shares of 1, weights and capsules together. */
function weights(measured: Measured, units: readonly Unit[]): readonly number[] {
  const parts = [
    units.map((unit) => speedDensity(measured, unit)),
    ...measured.capsules.map((capsule) => units.map((unit) => capsuleDensity(capsule, unit))),
  ].map(neutral);
  return shares(units.map((_, i) => parts.reduce((sum, part) => sum + (part[i] as number), 0)));
}

/** What a specification does not say speaks neither for it nor against it: it is as likely as the others on the whole. */
function neutral(densities: readonly (number | null)[]): readonly number[] {
  const told = densities.filter((one) => one !== null);
  const otherwise = told.length === 0 ? 0 : logSum(told) - Math.log(told.length);
  return densities.map((one) => one ?? otherwise);
}

function speedDensity({ speed, referenceRpm }: Measured, unit: Unit): number | null {
  const curve = { ...speed, referenceX: referenceRpm, commonDeg: 0 };
  return densityOf(unit.speedBand, curve, 2, unit.springs);
}

function capsuleDensity(capsule: MeasuredCapsule, unit: Unit): number | null {
  const sign = capsule.acts === "retard" ? -1 : 1;
  const turned = (points: MeasuredCapsule["rising"]) =>
    points.map((point) => ({ ...point, advanceDeg: sign * point.advanceDeg }));
  const curve = {
    rising: turned(capsule.rising),
    falling: turned(capsule.falling),
    referenceX: 0,
    commonDeg: 0,
  };
  return densityOf(capsuleBandOf(unit, capsule), curve, 1, 1);
}

/**
 * Null where the rows or the readings are too few to make a curve.
 * @param springs null: nobody has looked, so that one and two are as likely
 */
function densityOf(
  band: Band | null,
  curve: Curve,
  power: 1 | 2,
  springs: Unit["springs"],
): number | null {
  const nominal = band === null ? null : nominalOf(band, power);
  if (nominal === null) return null;
  const counts = springs === null ? [1, 2] : [springs];
  const told = counts.flatMap((count) => [
    { density: soundDensity(nominal, curve, count === 2), prior: 1 - LOOSE_PRIOR },
    { density: soundDensity(loosely(nominal), curve, count === 2), prior: LOOSE_PRIOR },
  ]);
  const weighed = told.flatMap(({ density, prior }) =>
    density === null ? [] : [density + Math.log(prior / counts.length)],
  );
  return weighed.length === 0 ? null : logSum(weighed);
}

/**
 * How many specifications are printed loosely, and by how much more units then stray from their start,
 * their end and their rows. Assumptions, no source: what "no advance below" and round figures leave
 * open (npm run evaluate -- --only nearest).
 */
const LOOSE_PRIOR = 0.2;
const LOOSE = { start: 3, end: 2, rows: 2 } as const;

function loosely(nominal: Nominal): Nominal {
  const { startDoubt, endDoubtShare, halfWidthDeg } = nominal;
  return {
    ...nominal,
    startDoubt: LOOSE.start * startDoubt,
    endDoubtShare: LOOSE.end * endDoubtShare,
    halfWidthDeg: LOOSE.rows * halfWidthDeg,
  };
}

function logSum(logarithms: readonly number[]): number {
  const most = Math.max(...logarithms);
  return most + Math.log(logarithms.reduce((sum, one) => sum + Math.exp(one - most), 0));
}
