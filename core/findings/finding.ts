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
    | "largest advance"
    | "gap between rising and falling"
    | "return"
    | "lobe error"
    | "once-per-turn error"
    | "random spread"
    | "bounce"
    | "missing openings"
    | "dwell"
    | "vacuum reached"
    | "drop in the hold"
    | "change with speed"
    | "whole curve";
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

export interface Findings {
  /** The strongest first; serious ones before all others. */
  readonly found: readonly Finding[];
  readonly notTestable: readonly NotTestable[];
}

/** Weaker than this it is no finding, though it may be told as looking alike. */
export const STRENGTH_MIN = 0.5;
