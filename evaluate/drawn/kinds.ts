// Kinds of faults a case may have: all of the unit's, the rig's, and a specification that was misread.
import type { Fault } from "../../sim/faults.ts";
import type { UnitNeeds } from "./unit.ts";

export type UnitFaultKind = Fault["fault"];
export type RigFaultKind = "coupling-runout" | "condenser-left-on" | "uncorrected-delay";
export type FaultKind = UnitFaultKind | RigFaultKind | "specification-misread";

/** Where a kind shows; a case's magnitude is solved there. */
export type Section = "speed" | "vacuum" | "hold" | "lobes" | "dwell" | "openings" | "rows";

interface KindFacts {
  readonly shows: readonly Section[];
  readonly needs?: Partial<UnitNeeds>;
  /** True where there is nothing to solve for: the fault is there or not. */
  readonly whole?: true;
}

const KIND_FACTS: Readonly<Record<FaultKind, KindFacts>> = {
  "weights-stuck": { shows: ["speed"], whole: true },
  "weights-dry": { shows: ["speed"] },
  "weights-not-returning": { shows: ["speed"] },
  "spring-stretched": { shows: ["speed"] },
  "spring-light": { shows: ["speed"] },
  "spring-heavy": { shows: ["speed"] },
  "first-spring-missing": { shows: ["speed"], whole: true },
  "second-spring-missing": { shows: ["speed"], whole: true, needs: { secondSpring: true } },
  "stop-worn": { shows: ["speed"] },
  "second-spring-loop-worn": { shows: ["speed"], needs: { secondSpring: true } },
  "shaft-bush-worn": { shows: ["lobes", "dwell"] },
  "shaft-bent": { shows: ["lobes"] },
  "cam-worn": { shows: ["lobes"] },
  "contact-spring-weak": { shows: ["dwell"], needs: { contacts: true } },
  "plate-lead-breaking": { shows: ["openings"], needs: { contacts: true, capsule: true } },
  "diaphragm-torn": { shows: ["vacuum"], whole: true, needs: { capsule: true } },
  "capsule-leak": { shows: ["hold"], needs: { capsule: true } },
  "plate-stuck": { shows: ["vacuum"], whole: true, needs: { capsule: true } },
  "link-off": { shows: ["vacuum"], whole: true, needs: { capsule: true } },
  "plate-sticking": { shows: ["vacuum"], needs: { capsule: true } },
  "capsule-spring-wrong": { shows: ["vacuum"], needs: { capsule: true } },
  "coupling-runout": { shows: ["lobes"] },
  "condenser-left-on": { shows: ["speed"], needs: { contacts: true } },
  "uncorrected-delay": { shows: ["speed"] },
  "specification-misread": { shows: ["rows"], whole: true },
};

export const FAULT_KINDS = Object.keys(KIND_FACTS) as readonly FaultKind[];

/** Of the same part, so that one would be lost in the other or undo it. */
const ALIKE: readonly (readonly FaultKind[])[] = [
  ["spring-stretched", "spring-light", "spring-heavy", "first-spring-missing"],
  ["second-spring-loop-worn", "second-spring-missing", "spring-heavy"],
  ["weights-stuck", "weights-not-returning", "weights-dry"],
  ["plate-stuck", "link-off", "plate-sticking"],
  ["diaphragm-torn", "capsule-leak"],
  ["condenser-left-on", "uncorrected-delay"],
  ["shaft-bent", "coupling-runout"],
];

export function showsIn(kind: FaultKind): readonly Section[] {
  return KIND_FACTS[kind].shows;
}

/** True where a magnitude can be solved for, so that the fault may also be doubtful. */
export function hasMagnitude(kind: FaultKind): boolean {
  return KIND_FACTS[kind].whole !== true;
}

export function needsOf(kinds: readonly FaultKind[]): UnitNeeds {
  const needs = (part: keyof UnitNeeds) =>
    kinds.some((kind) => KIND_FACTS[kind].needs?.[part] === true);
  return {
    contacts: needs("contacts"),
    capsule: needs("capsule"),
    secondSpring: needs("secondSpring"),
  };
}

/** Whether two kinds make a pair of which each can be told from the other, or one hides the other wholly. */
export function goTogether(one: FaultKind, other: FaultKind): boolean {
  return one !== other && !ALIKE.some((group) => group.includes(one) && group.includes(other));
}
