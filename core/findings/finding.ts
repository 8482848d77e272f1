// What is wrong, in kinds with strengths: the shape of every finding, wherever it comes from.
import type { Branch } from "../unit.ts";

/** Rows of the fault table; the last four are not the unit's. */
export const FINDING_KINDS = [
  "weights-stuck",
  "weights-dry",
  "weights-not-returning",
  "spring-stretched",
  "spring-light",
  "spring-heavy",
  "first-spring-missing",
  "second-spring-missing",
  "stop-worn",
  "second-spring-loop-worn",
  "shaft-bush-worn",
  "shaft-bent",
  "cam-worn",
  "contact-spring-weak",
  "plate-lead-breaking",
  "diaphragm-torn",
  "capsule-leak",
  "plate-not-following",
  "plate-sticking",
  "capsule-spring-wrong",
  "curve-unexplained",
  "coupling-runout",
  "condenser-left-on",
  "uncorrected-delay",
  "specification-misread",
] as const;

export type FindingKind = (typeof FINDING_KINDS)[number];

export type Subject = "unit" | "rig" | "unit or rig" | "specification";

/** Where a reading that speaks for a finding stands. */
export interface EvidencePlace {
  readonly sweep: "speed" | "vacuum" | "return";
  readonly capsule: number | null;
  readonly branch: Branch | null;
  /** Distributor rpm or pascals. */
  readonly x: number;
}

/** A figure that speaks for a finding. */
export interface Evidence {
  readonly figure:
    | "advance"
    | "start of advance"
    | "gap between rising and falling"
    | "return"
    | "lobe error"
    | "random spread"
    | "bounce"
    | "missing openings"
    | "dwell"
    | "vacuum reached"
    | "drop in the hold";
  readonly measured: number | null;
  readonly expandedUncertainty: number | null;
  /** What was to be expected, by the specification or by habit; null where nothing was. */
  readonly expected: { readonly min: number | null; readonly max: number | null } | null;
  readonly unit: "deg" | "rpm" | "Pa" | "share";
  readonly places: readonly EvidencePlace[];
}

export interface Finding {
  readonly kind: FindingKind;
  readonly subject: Subject;
  /** Which spring or capsule, or how a specification was misread; null where there is but one. */
  readonly part: string | null;
  readonly isSerious: boolean;
  /** Probability that it is so, by all readings together. */
  readonly strength: number;
  readonly evidence: readonly Evidence[];
  /** Other kinds that would look much the same here, the likeliest first. */
  readonly alike: readonly FindingKind[];
}

/** What a finding hides until it is cured. */
export interface NotTestable {
  readonly what: readonly FindingKind[];
  readonly until: FindingKind;
}

/** Edges that may come late by more than the rig knows. */
export interface PossibleDelay {
  readonly us: number;
  /** Where the curve's zero was taken, which is as late as its speed has it. */
  readonly referenceRpm: number;
  /** More likely than not, so that it is told. */
  readonly isLikely: boolean;
}

export interface Findings {
  /** The strongest first; serious ones before all others. */
  readonly found: readonly Finding[];
  readonly notTestable: readonly NotTestable[];
  /** The likeliest size of a delay that the curve does not rule out; absent where it does. */
  readonly possibleDelay?: PossibleDelay;
}

/** A kind that may be so, before it is weighed beside the others of its family. */
export type Candidate = Pick<Finding, "kind" | "part" | "strength" | "evidence">;

/** Explanations of one thing: at most one of them is likely to be so, or a few together. */
export interface Family {
  readonly candidates: readonly Candidate[];
  /** That something is wrong at all. */
  readonly any: number;
  /** Every printed row it shows in is met: then only what is hardly to be doubted is a finding. */
  readonly isMet: boolean;
  /** One of them is proved not to be met: then something is wrong, whatever else is likely. */
  readonly isOutside: boolean;
  /** Kinds that its readings would not show beside the likeliest of the candidates. */
  readonly unseen: readonly FindingKind[];
  /** The likeliest size, however likely it is. */
  readonly delay?: Omit<PossibleDelay, "isLikely">;
}

/** Nothing to go by. */
export const UNTOLD: Family = {
  candidates: [],
  any: 0,
  isMet: false,
  isOutside: false,
  unseen: [],
};
