// All findings of a run: curve, capsules, lobes and contacts each asked for itself, and put together.
import type { CurvePoint, RowVerdict, RunDocument, RunResult } from "../documents.ts";
import { type Gathered, gather } from "../judge/gathered.ts";
import type { FigureChange } from "../triggerResult.ts";
import type { Unit } from "../unit.ts";
import { diaphragmFinding } from "./capsules.ts";
import { contactFindings } from "./contacts.ts";
import { type CurveFault, capsuleFaults, weightsFaults } from "./curveFaults.ts";
import { type Diagnosis, diagnose } from "./diagnosis.ts";
import {
  type Evidence,
  type Finding,
  type FindingKind,
  type Findings,
  type NotTestable,
  STRENGTH_MIN,
  type Subject,
} from "./finding.ts";
import { lobeCauses, lobeErrorsOf } from "./lobeErrors.ts";
import { speedMisreadings, vacuumMisreadings } from "./misreadings.ts";
import { type Nominal, nominalOf } from "./nominal.ts";
import { nominalByShape, shapeFaults } from "./withoutSpecification.ts";

type Bare = Pick<Finding, "kind" | "strength" | "part" | "evidence">;

/** Explanations of one thing: at most one of them is likely to be so, or a few together. */
interface Family {
  readonly candidates: readonly Bare[];
  /** That something is wrong at all. */
  readonly any: number;
  /** Every printed row it shows in is met: then only what is hardly to be doubted is a finding. */
  readonly isMet: boolean;
}

/**
 * That none of what is considered here is so, or that it looks otherwise than thought: read off
 * simulated units with faults (npm run evaluate -- --only strength).
 */
const MODEL_DOUBT = 0.04;
const STRENGTH_MIN_IF_MET = 0.9;
/** Told as looking alike from this probability on. */
const ALIKE_MIN = 0.03;

/** Total: whatever part of a run there is. Documents in their order. */
export function findingsOf(
  unit: Unit,
  documents: readonly RunDocument[],
  result: RunResult,
): Findings {
  const gathered = gather(unit, documents);
  const families = [
    weightsFamily(unit, gathered, result),
    ...unit.capsules.map((_, capsule) => capsuleFamily(unit, result, capsule)),
    lobesFamily(gathered),
    ...contactFindings(result.trigger).map(alone),
    ...result.capsules.flatMap((one, capsule) => {
      const found = diaphragmFinding(
        one,
        gathered.plan?.capsules[capsule]?.hold ?? null,
        gathered.start?.rig.vacuumSensorStandardUncertaintyPa ?? 0,
        capsule,
      );
      return found === null ? [] : [alone(found)];
    }),
  ];
  const told = merged(families.flatMap(findingsIn));
  const hidden = told.flatMap(({ kind }) => hiddenBy(kind));
  const found = told
    .filter(({ kind }) => !hidden.some(({ what }) => what.includes(kind)))
    .sort((a, b) => Number(b.isSerious) - Number(a.isSerious) || b.strength - a.strength);
  return { found, notTestable: hidden };
}

function alone(bare: Bare): Family {
  return { candidates: [bare], any: bare.strength, isMet: false };
}

function findingsIn({ candidates, any, isMet }: Family): Finding[] {
  const ordered = [...candidates].sort((a, b) => b.strength - a.strength);
  // Friction and a cam that stays out are wrong whatever rows are met.
  const least = (kind: FindingKind) =>
    isMet && !MOVING_KINDS.includes(kind) ? STRENGTH_MIN_IF_MET : STRENGTH_MIN;
  const strong = ordered.filter(({ kind, strength }) => strength >= least(kind));
  // Something is wrong, and which of several is not told apart: the likeliest stands for all.
  const isToldAnyway = strong.length === 0 && any >= STRENGTH_MIN && !isMet;
  const shown = isToldAnyway ? ordered.slice(0, 1) : strong;
  return shown.map((one) => ({
    ...one,
    strength: (1 - MODEL_DOUBT) * one.strength,
    subject: subjectOf(one, ordered),
    isSerious: one.kind === "weights-not-returning" || one.kind === "stop-worn",
    alike: [
      ...new Set(
        ordered
          .filter((other) => !shown.includes(other) && other.strength >= ALIKE_MIN)
          .map(({ kind }) => kind)
          .filter((kind) => kind !== one.kind),
      ),
    ],
  }));
}

const MOVING_KINDS: readonly FindingKind[] = [
  "weights-stuck",
  "weights-dry",
  "weights-not-returning",
  "plate-not-following",
  "plate-sticking",
];

const RIG_KINDS: readonly FindingKind[] = [
  "coupling-runout",
  "condenser-left-on",
  "uncorrected-delay",
];

const LOBE_KINDS: readonly FindingKind[] = [
  "shaft-bush-worn",
  "shaft-bent",
  "cam-worn",
  "coupling-runout",
];

/** What may as well be the rig's is not put on the unit. */
function subjectOf({ kind, strength }: Bare, family: readonly Bare[]): Subject {
  if (kind === "specification-misread") return "specification";
  const isRig = RIG_KINDS.includes(kind);
  const others = family
    .filter((other) => RIG_KINDS.includes(other.kind) !== isRig)
    .reduce((most, other) => Math.max(most, other.strength), 0);
  if (LOBE_KINDS.includes(kind) && others > ALIKE_MIN * strength) return "unit or rig";
  return isRig ? "rig" : "unit";
}

/** One of a kind: a specification misread shows in weights and capsule alike. */
function merged(findings: readonly Finding[]): Finding[] {
  const byKind = new Map<FindingKind, Finding>();
  for (const finding of findings) {
    const before = byKind.get(finding.kind);
    if (before === undefined || finding.strength > before.strength) {
      byKind.set(finding.kind, finding);
    }
  }
  return [...byKind.values()];
}

function weightsFamily(
  unit: Unit,
  gathered: Gathered,
  { speed, rows, trigger }: RunResult,
): Family {
  const falling = [...returnPoint(gathered), ...speed.falling];
  const referenceX = gathered.reference?.reading.speedRpm ?? 0;
  const curve = { rising: speed.rising, falling, referenceX, commonDeg: 0 };
  const printed = unit.speedBand === null ? null : nominalOf(unit.speedBand, 2);
  const diagnosis =
    printed === null
      ? diagnoseShape(nominalByShape(speed.rising, 2), curve)
      : diagnose(printed, curve, weightsFaults(printed), speedMisreadings(printed));
  if (diagnosis === null) return { candidates: [], any: 0, isMet: false };
  const family = {
    ...curveFamily(diagnosis, evidenceOf(rows, "speed", null)),
    isMet: isMet(rows, "speed", null),
  };
  const dwell = trigger.dwell?.overSpeed ?? null;
  if (dwell?.change == null) return family;
  const change = { ...dwell.change, fromX: dwell.low.x };
  return { ...family, candidates: family.candidates.flatMap((one) => delaySplit(one, change)) };

  function diagnoseShape(nominal: Nominal | null, measured: typeof curve): Diagnosis | null {
    return nominal === null ? null : diagnose(nominal, measured, shapeFaults("speed"), []);
  }
}

/** After everything, at the reference's speed. */
function returnPoint({ atReturn }: Gathered): CurvePoint[] {
  if (atReturn === null) return [];
  const { reading, targetRpm } = atReturn;
  return [
    {
      x: reading.speedRpm,
      targetX: targetRpm,
      advanceDeg: reading.advanceDeg,
      standardUncertaintyDeg: reading.standardUncertaintyDeg,
      coverageFactor: reading.coverageFactor,
      budget: reading.budget,
    },
  ];
}

const MOSTLY = 0.95;

/**
 * A condenser across the contacts delays the opening and not the closing, so that dwell grows by as
 * much as the curve falls; any other delay leaves dwell as it is.
 */
function delaySplit(
  one: Bare & { readonly size?: number },
  change: FigureChange & { readonly fromX: number },
): Bare[] {
  if (one.kind !== "uncorrected-delay" || one.size === undefined) return [one];
  const grownDeg = 6e-6 * one.size * (change.high.x - change.fromX);
  const share = change.changeDeg > grownDeg / 2 ? MOSTLY : 1 - MOSTLY;
  return [
    { ...one, strength: one.strength * (1 - share) },
    { ...one, kind: "condenser-left-on", strength: one.strength * share },
  ];
}

/** A delay of the rig's stands in all readings of a vacuum sweep, which is held at one speed. */
const COMMON_DEG = 2;

function capsuleFamily(unit: Unit, { capsules, rows }: RunResult, capsule: number): Family {
  const { band = null, acts } = unit.capsules[capsule] ?? {};
  const result = capsules[capsule];
  if (result === undefined) return { candidates: [], any: 0, isMet: false };
  const turned = (points: readonly CurvePoint[]) =>
    points
      .filter(({ x, targetX }) => x >= 0.9 * targetX || targetX === 0)
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
  const printed = band === null ? null : nominalOf(band, 1);
  const nominal = printed ?? nominalByShape(curve.rising, 1);
  if (nominal === null) return { candidates: [], any: 0, isMet: false };
  const faults = printed === null ? shapeFaults("vacuum") : capsuleFaults();
  const misreadings = printed === null ? [] : vacuumMisreadings(printed);
  const diagnosis = diagnose(nominal, curve, faults, misreadings);
  if (diagnosis === null) return { candidates: [], any: 0, isMet: false };
  return {
    ...curveFamily(diagnosis, evidenceOf(rows, "vacuum", capsule)),
    isMet: isMet(rows, "vacuum", capsule),
  };
}

/** Every kind that some explanation has a part in, with its likeliest part. */
function curveFamily(
  { explanations }: Diagnosis,
  evidence: readonly Evidence[],
): { candidates: (Bare & { readonly size?: number })[]; any: number } {
  const byFault = new Map<CurveFault, { strength: number; size: number; best: number }>();
  let unexplained = 0;
  let sound = 0;
  const misread = new Map<string, number>();
  for (const { faults, misread: part, probability, sizes } of explanations) {
    if (part !== null) misread.set(part, (misread.get(part) ?? 0) + probability);
    else if (faults === null) unexplained += probability;
    else if (faults.length === 0) sound += probability;
    faults?.forEach((fault, k) => {
      const before = byFault.get(fault) ?? { strength: 0, size: 0, best: 0 };
      const isBest = probability > before.best;
      byFault.set(fault, {
        strength: before.strength + probability,
        size: isBest ? (sizes[k] ?? 0) : before.size,
        best: Math.max(before.best, probability),
      });
    });
  }
  const kinds = new Map<FindingKind, Bare & { size: number; best: number }>();
  for (const [{ kind, part }, { strength, size }] of byFault) {
    const before = kinds.get(kind);
    const isBest = before === undefined || strength > before.best;
    kinds.set(kind, {
      kind,
      evidence,
      part: isBest ? part : before.part,
      size: isBest ? size : before.size,
      best: Math.max(before?.best ?? 0, strength),
      strength: Math.min(1, (before?.strength ?? 0) + strength),
    });
  }
  return {
    candidates: [
      ...kinds.values(),
      ...misreadIn(misread, evidence),
      { kind: "curve-unexplained", part: null, strength: unexplained, evidence },
    ],
    any: 1 - sound,
  };
}

/** All ways together, named by the likeliest. */
function misreadIn(byPart: ReadonlyMap<string, number>, evidence: readonly Evidence[]): Bare[] {
  const [likeliest] = [...byPart].sort(([, a], [, b]) => b - a);
  if (likeliest === undefined) return [];
  const strength = [...byPart.values()].reduce((sum, one) => sum + one, 0);
  return [{ kind: "specification-misread", part: likeliest[0], strength, evidence }];
}

function isMet(
  rows: readonly RowVerdict[],
  about: "speed" | "vacuum",
  capsule: number | null,
): boolean {
  const own = rows.filter((row) => row.about === about && row.capsule === capsule);
  return own.length > 0 && own.every(({ verdict }) => verdict === "within");
}

/** Rows that are not met speak for what is wrong with the curve. */
function evidenceOf(
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

/** Above it contacts may float. */
const SLOW_RPM = 1500;

function lobesFamily({ speedReadings, reference, start }: Gathered): Family {
  const readings = [...speedReadings, ...(reference === null ? [] : [reference])]
    .map(({ reading }) => reading)
    .filter(({ speedRpm }) => speedRpm <= SLOW_RPM);
  const errors = lobeErrorsOf(
    readings,
    start?.unit.lobeAnglesDeg ?? [],
    (start?.rig.calibration?.coupling ?? null) !== null,
  );
  const causes = errors === null ? null : lobeCauses(errors);
  if (errors === null || causes === null) return { candidates: [], any: 0, isMet: false };
  const worst = Math.max(...errors.deviationsDeg.map(Math.abs));
  const evidence: Evidence[] = [
    {
      figure: "lobe error",
      measured: worst,
      expandedUncertainty: 2 * errors.standardUncertaintyDeg,
      expected: null,
      unit: "deg",
      places: [],
    },
    {
      figure: "random spread",
      measured: errors.randomDeg,
      expandedUncertainty: 2 * errors.randomStandardUncertaintyDeg,
      expected: null,
      unit: "deg",
      places: [],
    },
  ];
  const candidates = Object.entries(causes).map(([kind, strength]) => ({
    kind: kind as FindingKind,
    part: null,
    strength,
    evidence,
  }));
  return {
    candidates,
    any: candidates.reduce((sum, { strength }) => sum + strength, 0),
    isMet: false,
  };
}

/** What only a curve that can be trusted tells. */
const SPRINGS: readonly FindingKind[] = [
  "spring-stretched",
  "spring-light",
  "spring-heavy",
  "second-spring-loop-worn",
  "curve-unexplained",
];

const HIDES: Readonly<Partial<Record<FindingKind, readonly FindingKind[]>>> = {
  // Clean and oil first; take the condenser off, calibrate, read the manual again: then measure anew.
  "weights-dry": SPRINGS,
  "condenser-left-on": SPRINGS,
  "uncorrected-delay": SPRINGS,
  "specification-misread": [...SPRINGS, "stop-worn", "capsule-spring-wrong"],
  "weights-stuck": [
    "weights-dry",
    "weights-not-returning",
    "spring-stretched",
    "spring-light",
    "spring-heavy",
    "first-spring-missing",
    "second-spring-missing",
    "stop-worn",
    "second-spring-loop-worn",
  ],
  "diaphragm-torn": [
    "capsule-leak",
    "plate-not-following",
    "plate-sticking",
    "capsule-spring-wrong",
    "plate-lead-breaking",
  ],
  "plate-sticking": ["capsule-spring-wrong"],
  "plate-not-following": ["plate-sticking", "capsule-spring-wrong", "plate-lead-breaking"],
};

function hiddenBy(kind: FindingKind): NotTestable[] {
  const what = HIDES[kind];
  return what === undefined ? [] : [{ what, until: kind }];
}
