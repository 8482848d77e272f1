// All findings of a run: curve, capsules, lobes and contacts each asked for itself, and put together.
import type { RowVerdict, RunDocument, RunResult } from "../documents.ts";
import { gather } from "../judge/gathered.ts";
import type { Band, Unit } from "../unit.ts";
import { diaphragmFinding } from "./capsules.ts";
import { contactFindings } from "./contacts.ts";
import { capsuleFamily, gaugeStandardUncertaintyPa, weightsFamily } from "./curveFamilies.ts";
import {
  type Candidate,
  type Family,
  type Finding,
  type FindingKind,
  type Findings,
  type NotTestable,
  type Subject,
  UNTOLD,
} from "./finding.ts";
import { hiddenBy } from "./hiding.ts";
import { lobesFamily } from "./lobesFamily.ts";

/** Weaker than this it is no finding, though it may be told as looking alike. */
const STRENGTH_MIN = 0.5;
const STRENGTH_MIN_IF_MET = 0.9;
/** Told as looking alike from this probability on. */
const ALIKE_MIN = 0.03;
/**
 * That none of what is considered here is so, or that it looks otherwise than thought: read off
 * simulated units with faults (npm run evaluate -- --only strength).
 */
const MODEL_DOUBT = 0.02;

/** Total: whatever part of a run there is. Documents in their order. */
export function findingsOf(
  measuredUnit: Unit,
  documents: readonly RunDocument[],
  wholeResult: RunResult,
): Findings {
  const gathered = gather(measuredUnit, documents);
  const { unit, result } = bySpecification(measuredUnit, wholeResult);
  const families = [
    weightsFamily(unit, gathered, result),
    ...unit.capsules.map((_, capsule) => capsuleFamily(unit, gathered, result, capsule)),
    lobesFamily(gathered),
    ...contactFindings(result.trigger).map(alone),
    ...unit.capsules.flatMap((_, capsule) =>
      diaphragmFinding(result, capsule, gaugeStandardUncertaintyPa(gathered)).map(alone),
    ),
  ];
  const byFamily = families.map((family) => ({ ...family, told: findingsIn(family) }));
  const told = merged(byFamily.flatMap((family) => family.told));
  const isHidden = (kind: FindingKind) => told.some((one) => hiddenBy(one.kind).includes(kind));
  const found = told
    .filter(({ kind }) => !isHidden(kind))
    .sort((a, b) => Number(b.isSerious) - Number(a.isSerious) || b.strength - a.strength);
  const isTold = (kind: FindingKind) => told.some((one) => one.kind === kind);
  const notTestable = found.map(({ kind }): NotTestable => {
    const unseen = byFamily
      .filter((family) => family.told.some((one) => one.kind === kind))
      .flatMap((family) => family.unseen.filter((one) => !isTold(one)));
    return { what: [...new Set([...hiddenBy(kind), ...unseen])], until: kind };
  });
  return {
    found,
    notTestable: notTestable.filter(({ what }) => what.length > 0),
    ...possibleDelay(families),
  };
}

/** With a condenser that delays them or by the rig itself: so likely that it would be told as looking alike. */
function possibleDelay(families: readonly Family[]): Pick<Findings, "possibleDelay"> {
  for (const { candidates, delay } of families) {
    const strength = candidates
      .filter(({ kind }) => DELAYS.includes(kind))
      .reduce((sum, one) => sum + one.strength, 0);
    const isLikely = strength >= STRENGTH_MIN;
    if (delay !== undefined && strength >= ALIKE_MIN) {
      return { possibleDelay: { ...delay, isLikely } };
    }
  }
  return {};
}

/** No unit is faulty for being other than its user wants it: a target of his own speaks for no fault. */
function bySpecification(unit: Unit, result: RunResult): { unit: Unit; result: RunResult } {
  const specified = (band: Band | null) => (band?.isOwnTarget === true ? null : band);
  const known: Unit = {
    ...unit,
    speedBand: specified(unit.speedBand),
    capsules: unit.capsules.map((one) => ({ ...one, band: specified(one.band) })),
  };
  const isSpecified = ({ about, capsule }: RowVerdict) => {
    if (about === "speed") return known.speedBand !== null;
    return about !== "vacuum" || known.capsules[capsule ?? 0]?.band !== null;
  };
  return { unit: known, result: { ...result, rows: result.rows.filter(isSpecified) } };
}

function alone(candidate: Candidate): Family {
  return { ...UNTOLD, candidates: [candidate], any: candidate.strength };
}

function findingsIn(family: Family): Finding[] {
  const { candidates, any, isMet } = family.isOutside ? certainlyOff(family) : family;
  const ordered = [...candidates].sort((a, b) => b.strength - a.strength);
  // Friction and a cam that stays out are wrong whatever rows are met; between rows a curve may run as it likes.
  const least = (kind: FindingKind) => {
    if (!isMet || MOVING_KINDS.includes(kind)) return STRENGTH_MIN;
    return kind === "curve-unexplained" ? Number.POSITIVE_INFINITY : STRENGTH_MIN_IF_MET;
  };
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

/** A unit beyond its band is not sound: what else it may be shares all the weight. */
function certainlyOff(family: Family): Family {
  const { candidates, any } = family;
  if (any <= 0) return family;
  const scaled = candidates.map((one) => ({ ...one, strength: Math.min(1, one.strength / any) }));
  return { ...family, candidates: scaled, any: 1 };
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

const DELAYS: readonly FindingKind[] = ["condenser-left-on", "uncorrected-delay"];

const LOBE_KINDS: readonly FindingKind[] = [
  "shaft-bush-worn",
  "shaft-bent",
  "cam-worn",
  "coupling-runout",
];

/** What may as well be the rig's is not put on the unit. */
function subjectOf({ kind, strength }: Candidate, family: readonly Candidate[]): Subject {
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
