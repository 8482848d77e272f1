// What commands tell a person on standard error while a run goes on.

import type { EndDocument, RunDocument, RunResult } from "../../core/documents.ts";
import type { Findings } from "../../core/findings/finding.ts";
import type { MechanismFit } from "../../core/mechanism/fitted.ts";
import { hasOwnTarget, OWN_TARGET_WARNING } from "../../core/ownTarget.ts";
import { findingText, hiddenTexts } from "../../core/sheet/findingWords.ts";
import { mechanismTexts } from "../../core/sheet/mechanismWords.ts";

/** Null for documents that are not worth a line. */
export function progressText(document: RunDocument): string | null {
  switch (document.type) {
    case "start": {
      const { rig, unit, expectedS } = document;
      const what = rig.simulated ? `${rig.name} (simulation, no real unit)` : rig.name;
      const own = hasOwnTarget(unit) ? ` ${OWN_TARGET_WARNING}` : "";
      return `${unit.description} on ${what}; about ${Math.ceil(expectedS / 60)} min of rig time.${own}`;
    }
    case "step": {
      const at =
        document.targetPa === null
          ? `${document.targetRpm} rpm`
          : `${(document.targetPa / 1000).toFixed(1)} kPa at ${document.targetRpm} rpm`;
      const branch = document.branch === null ? "" : ` ${document.branch}`;
      return `${document.done}/${document.total} ${document.step}${branch}: ${at}, ${document.remainingS} s left`;
    }
    case "notice":
      return `${document.code}: ${document.text}`;
    default:
      return null;
  }
}

export function endText({ ending, reason, result, findings, mechanism }: EndDocument): string {
  const outcome =
    reason !== null
      ? `${ending}. ${reason.code}: ${reason.text}`
      : `${ending}; ${result.verdict ?? "not judged"}.`;
  return [
    outcome,
    ...(findings === null ? [] : findingLines(findings)),
    ...(mechanism === null ? [] : mechanismLines(mechanism, result)),
  ].join("\n");
}

function mechanismLines(mechanism: MechanismFit, { capsules }: RunResult): string[] {
  const names = capsules.map(({ name }) => name);
  return [
    "The mechanism as fitted (distributor degrees and rpm):",
    ...mechanismTexts(mechanism, names, "kPa").flatMap(({ part, facts }) => [
      `  ${part}`,
      ...facts.map(({ label, value }) => `    ${label}: ${value}.`),
    ]),
  ];
}

function findingLines(findings: Findings): string[] {
  return [
    ...findings.found
      .map((one) => findingText(one))
      .flatMap(({ title, details, check }) => [
        `Finding: ${title}.`,
        ...details.map((text) => `  ${text}`),
        `  Next: ${check}`,
      ]),
    ...hiddenTexts(findings),
  ];
}
