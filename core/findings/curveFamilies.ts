// What is wrong by the curve of the weights or of a capsule: explanations gathered by kind, with what speaks for each.
import { combined, coverageOf, ownOf } from "../angles/budget.ts";
import type { CurvePoint, RowVerdict, RunResult } from "../documents.ts";
import type { Gathered } from "../judge/gathered.ts";
import type { Band, Unit } from "../unit.ts";
import { isReached } from "./capsules.ts";
import type { Curve } from "./comparison.ts";
import { type CurveFault, capsuleFaults, weightsFaults } from "./curveFaults.ts";
import { DEG_PER_RPM_US } from "./delay.ts";
import { type Diagnosis, diagnose } from "./diagnosis.ts";
import { type Candidate, type Evidence, type Family, type FindingKind, UNTOLD } from "./finding.ts";
import { speedMisreadings, vacuumMisreadings } from "./misreadings.ts";
import { nominalOf } from "./nominal.ts";
import { nominalByShape, shapeFaults } from "./withoutSpecification.ts";

/** With the likeliest size, in the fault's own unit. */
interface Sized extends Candidate {
  readonly size: number;
}

export function weightsFamily(unit: Unit, gathered: Gathered, { speed, rows }: RunResult): Family {
  const falling = [...returnPoint(gathered), ...speed.falling];
  const referenceX = gathered.reference?.reading.speedRpm ?? 0;
  const curve = { rising: speed.rising, falling, referenceX, commonDeg: 0 };
  const diagnosis = diagnosisOf(unit, unit.speedBand, curve, "speed");
  if (diagnosis === null) return UNTOLD;
  const family = {
    ...curveFamily(diagnosis, (kind) => [
      ...(kind === "weights-dry" ? gapEvidence(speed, "speed", null) : []),
      ...(kind === "weights-not-returning" ? returnEvidence(gathered) : []),
      ...rowEvidence(rows, "speed", null),
    ]),
    ...standing(rows, "speed", null),
  };
  const late = family.candidates.find(({ kind }) => kind === "uncorrected-delay");
  const delay = late === undefined ? {} : { delay: { us: late.size, referenceRpm: referenceX } };
  const grown = dwellGrowthDegPerRpm(gathered);
  if (grown === null) return { ...family, ...delay };
  const candidates = family.candidates.flatMap((one) => delaySplit(one, grown));
  const isCondenserOn = candidates.some(
    ({ kind, strength }) => kind === "condenser-left-on" && strength > 0.5,
  );
  // What it adds to dwell covers what a weak spring takes away.
  const unseen: readonly FindingKind[] = isCondenserOn
    ? [...family.unseen, "contact-spring-weak"]
    : family.unseen;
  return { ...family, ...delay, candidates, unseen };
}

export function gaugeStandardUncertaintyPa({ start }: Gathered): number {
  return start?.rig.vacuumSensorStandardUncertaintyPa ?? 0;
}

/** By the specification, or where there is none by what shape alone tells. */
function diagnosisOf(
  { springs, driveRatio }: Unit,
  band: Band | null,
  curve: Curve,
  sweep: "speed" | "vacuum",
): Diagnosis | null {
  const power = sweep === "speed" ? 2 : 1;
  const hasSecond = sweep === "speed" && springs !== 1;
  const printed = band === null ? null : nominalOf(band, power);
  if (band === null || printed === null) {
    const nominal = nominalByShape(curve.rising, power);
    return nominal === null ? null : diagnose(nominal, curve, hasSecond, shapeFaults(sweep), []);
  }
  const [faults, misreadings] =
    sweep === "speed"
      ? [weightsFaults(hasSecond), speedMisreadings]
      : [capsuleFaults(), vacuumMisreadings];
  const others = misreadings(printed, band.scales, driveRatio);
  return diagnose(printed, curve, hasSecond, faults, others);
}

/** After everything, at the reference's speed. */
function returnPoint({ atReturn }: Gathered): CurvePoint[] {
  if (atReturn === null) return [];
  const { reading, targetRpm } = atReturn;
  const { speedRpm, advanceDeg, standardUncertaintyDeg, coverageFactor, budget } = reading;
  const at = { x: speedRpm, targetX: targetRpm };
  return [{ ...at, advanceDeg, standardUncertaintyDeg, coverageFactor, budget }];
}

const MOSTLY = 0.95;

/** At higher shares of the highest speed contacts may float, which takes dwell away again. An assumption, no source. */
const NO_FLOAT_SHARE = 0.67;

/** By how much dwell grows with speed: the middle one of all readings' slopes from the slowest. Null where none tells it. */
function dwellGrowthDegPerRpm({ speedReadings }: Gathered): number | null {
  const dwells = speedReadings
    .map(({ reading: { speedRpm, dwellDeg } }) => ({ speedRpm, dwellDeg }))
    .filter((one): one is { speedRpm: number; dwellDeg: number } => one.dwellDeg !== null)
    .sort((one, other) => one.speedRpm - other.speedRpm);
  const slowest = dwells[0];
  const topRpm = dwells.at(-1)?.speedRpm ?? 0;
  if (slowest === undefined) return null;
  const slopes = dwells
    .filter(
      ({ speedRpm }) => speedRpm > 1.5 * slowest.speedRpm && speedRpm <= NO_FLOAT_SHARE * topRpm,
    )
    .map((one) => (one.dwellDeg - slowest.dwellDeg) / (one.speedRpm - slowest.speedRpm))
    .sort((one, other) => one - other);
  return slopes[slopes.length >> 1] ?? null;
}

/**
 * A condenser across the contacts delays the opening and not the closing, so that dwell grows by as
 * much as the curve falls; any other delay leaves dwell as it is.
 */
function delaySplit(one: Sized, dwellGrowthDegPerRpm: number): Candidate[] {
  if (one.kind !== "uncorrected-delay") return [one];
  const share = dwellGrowthDegPerRpm > (DEG_PER_RPM_US * one.size) / 2 ? MOSTLY : 1 - MOSTLY;
  return [
    { ...one, strength: one.strength * (1 - share) },
    { ...one, kind: "condenser-left-on", strength: one.strength * share },
  ];
}

/** A delay of the rig's stands in all readings of a vacuum sweep, which is held at one speed. */
const COMMON_DEG = 2;

export function capsuleFamily(
  unit: Unit,
  gathered: Gathered,
  { capsules, rows }: RunResult,
  capsule: number,
): Family {
  const { band = null, acts } = unit.capsules[capsule] ?? {};
  const result = capsules[capsule];
  if (result === undefined) return UNTOLD;
  const turned = (points: readonly CurvePoint[]) =>
    points
      .filter((point) => isReached(point, gaugeStandardUncertaintyPa(gathered)))
      .map((point) => ({
        ...point,
        advanceDeg: acts === "retard" ? -point.advanceDeg : point.advanceDeg,
      }));
  const curve = {
    rising: turned(result.rising),
    falling: turned(result.falling),
    referenceX: 0,
    commonDeg: COMMON_DEG,
  };
  const diagnosis = diagnosisOf(unit, band, curve, "vacuum");
  if (diagnosis === null) return UNTOLD;
  return {
    ...curveFamily(diagnosis, (kind) => [
      ...(kind === "plate-sticking" ? gapEvidence(result, "vacuum", capsule) : []),
      ...rowEvidence(rows, "vacuum", capsule),
    ]),
    ...standing(rows, "vacuum", capsule),
  };
}

/** Every kind that some explanation has a part in, with its likeliest part. */
function curveFamily(
  { explanations, unseen }: Diagnosis,
  evidenceOf: (kind: FindingKind) => readonly Evidence[],
): Pick<Family, "any" | "unseen"> & { readonly candidates: readonly Sized[] } {
  const byFault = new Map<CurveFault, { strength: number; size: number; best: number }>();
  let unexplained = 0;
  let sound = 0;
  const misread = new Map<string, number>();
  for (const { faults, isExplained, misread: part, probability, sizes } of explanations) {
    if (part !== null) misread.set(part, (misread.get(part) ?? 0) + probability);
    else if (!isExplained) unexplained += probability;
    else if (faults.length === 0) sound += probability;
    faults.forEach((fault, k) => {
      const before = byFault.get(fault) ?? { strength: 0, size: 0, best: 0 };
      const isBest = probability > before.best;
      byFault.set(fault, {
        strength: before.strength + probability,
        size: isBest ? (sizes[k] ?? 0) : before.size,
        best: Math.max(before.best, probability),
      });
    });
  }
  const kinds = new Map<FindingKind, Sized & { readonly best: number }>();
  for (const [{ kind, part }, { strength, size }] of byFault) {
    const before = kinds.get(kind);
    const isBest = before === undefined || strength > before.best;
    kinds.set(kind, {
      kind,
      evidence: evidenceOf(kind),
      part: isBest ? part : before.part,
      size: isBest ? size : before.size,
      best: Math.max(before?.best ?? 0, strength),
      strength: Math.min(1, (before?.strength ?? 0) + strength),
    });
  }
  return {
    candidates: [
      ...kinds.values(),
      ...misreadIn(misread).map((one) => ({ ...one, evidence: evidenceOf(one.kind), size: 0 })),
      {
        kind: "curve-unexplained",
        part: null,
        strength: unexplained,
        evidence: evidenceOf("curve-unexplained"),
        size: 0,
      },
    ],
    any: 1 - sound,
    unseen,
  };
}

/** All ways together, named by the likeliest. */
function misreadIn(byPart: ReadonlyMap<string, number>): readonly Omit<Candidate, "evidence">[] {
  const [likeliest] = [...byPart].sort(([, a], [, b]) => b - a);
  if (likeliest === undefined) return [];
  const strength = [...byPart.values()].reduce((sum, one) => sum + one, 0);
  return [{ kind: "specification-misread", part: likeliest[0], strength }];
}

function standing(
  rows: readonly RowVerdict[],
  about: "speed" | "vacuum",
  capsule: number | null,
): Pick<Family, "isMet" | "isOutside"> {
  const own = rows.filter((row) => row.about === about && row.capsule === capsule);
  return {
    isMet: own.length > 0 && own.every(({ verdict }) => verdict === "within"),
    isOutside: own.some(({ verdict }) => verdict === "outside"),
  };
}

/** Rows that are not met speak for what is wrong with the curve. */
function rowEvidence(
  rows: readonly RowVerdict[],
  about: "speed" | "vacuum",
  capsule: number | null,
): Evidence[] {
  return rows
    .filter((row) => row.about === about && row.capsule === capsule && row.verdict === "outside")
    .map((row) => ({
      figure: row.unit === "deg" ? "advance" : "start of advance",
      measured: row.measured,
      expandedUncertainty: row.expandedUncertainty,
      expected: row.limits,
      unit: row.unit,
      places: row.x === null ? [] : [{ sweep: about, capsule, branch: row.branch, x: row.x }],
    }));
}

/** Where falling lies farthest beyond rising: friction holds what is held back. */
function gapEvidence(
  {
    rising,
    falling,
  }: { readonly rising: readonly CurvePoint[]; readonly falling: readonly CurvePoint[] },
  sweep: "speed" | "vacuum",
  capsule: number | null,
): Evidence[] {
  const gaps = rising.flatMap((up) => {
    const down = falling.find(({ targetX }) => targetX === up.targetX);
    if (down === undefined) return [];
    // What stands in both alike is in neither's way.
    const budget = [...ownOf(up.budget), ...ownOf(down.budget)];
    return [{ x: up.x, gapDeg: Math.abs(down.advanceDeg - up.advanceDeg), budget }];
  });
  const widest = gaps.reduce<(typeof gaps)[number] | null>(
    (most, one) => (most === null || one.gapDeg > most.gapDeg ? one : most),
    null,
  );
  if (widest === null) return [];
  return [
    {
      figure: "gap between rising and falling",
      measured: widest.gapDeg,
      expandedUncertainty: coverageOf(widest.budget) * combined(widest.budget),
      expected: null,
      unit: "deg",
      places: [{ sweep, capsule, branch: null, x: widest.x }],
    },
  ];
}

function returnEvidence({ atReturn }: Gathered): Evidence[] {
  if (atReturn === null) return [];
  const { advanceDeg, coverageFactor, standardUncertaintyDeg, speedRpm } = atReturn.reading;
  return [
    {
      figure: "return",
      measured: advanceDeg,
      expandedUncertainty: coverageFactor * standardUncertaintyDeg,
      expected: null,
      unit: "deg",
      places: [{ sweep: "return", capsule: null, branch: null, x: speedRpm }],
    },
  ];
}
