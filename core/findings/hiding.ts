// What one fault hides until it is cured.
import type { FindingKind } from "./finding.ts";

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
  "condenser-left-on": [...SPRINGS, "capsule-spring-wrong"],
  "uncorrected-delay": [...SPRINGS, "capsule-spring-wrong"],
  "specification-misread": [...SPRINGS, "capsule-spring-wrong"],
  "weights-stuck": [
    ...SPRINGS,
    "weights-dry",
    "weights-not-returning",
    "first-spring-missing",
    "second-spring-missing",
    "stop-worn",
  ],
  // Its cam has left its rest before the first reading: neither the return nor the knee can be told, nor
  // where a capsule's curve begins.
  "first-spring-missing": [
    "weights-not-returning",
    "second-spring-loop-worn",
    "capsule-spring-wrong",
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

export function hiddenBy(kind: FindingKind): readonly FindingKind[] {
  return HIDES[kind] ?? [];
}

/** Whether springs are not to be judged, let alone changed, before this is cured. */
export function goesBeforeSprings(kind: FindingKind): boolean {
  return kind === "weights-not-returning" || hiddenBy(kind).includes("spring-light");
}
