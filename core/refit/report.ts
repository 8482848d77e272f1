// All that is advised on a record: what to see to first, springs, posts and stop, and its capsules. Pure.

import type { RunDocument, RunResult } from "../documents.ts";
import type { DrawerSpring } from "../drawer/drawer.ts";
import { BobweightError } from "../errors.ts";
import type { Finding } from "../findings/finding.ts";
import { hiddenBy } from "../findings/hiding.ts";
import { OWN_TARGET_WARNING } from "../ownTarget.ts";
import { said } from "../said.ts";
import { endDocumentOf, resultOf, startDocumentOf } from "../sheet/curves.ts";
import type { Band, BandRow, Unit } from "../unit.ts";
import { advise, type Refit } from "./advise.ts";
import { adviseCapsule, type CapsuleAdvice } from "./capsule.ts";
import type { Curve } from "./geometry.ts";
import type { Installed } from "./installed.ts";
import { measuredUnit } from "./measuredUnit.ts";
import { seeToFirst, type ToSeeTo } from "./seeToFirst.ts";
import { specified } from "./target.ts";

export interface RefitAsked {
  /** What the curve is to meet; null: the unit has no specification over speed. */
  readonly band: Band | null;
  readonly drawer: readonly DrawerSpring[];
  readonly installed: Installed;
  /** The same unit measured with other springs. */
  readonly earlier: readonly Curve[];
}

export interface RefitReport extends Refit {
  readonly recordId: string;
  /** Null where the specification is a maker's. */
  readonly target: {
    readonly own: true;
    readonly warning: string;
    readonly source: string | null;
    readonly rows: readonly BandRow[];
  } | null;
  readonly seeToFirst: readonly ToSeeTo[];
  readonly capsules: readonly (CapsuleAdvice & { readonly name: string })[];
}

/** From this chance on an advice is likely to do. */
export const LIKELY = 0.9;

/** @throws CURVE_UNTOLD without a band, or where the curve tells too little */
export function refitReport(
  documents: readonly RunDocument[],
  { band, drawer, installed, earlier }: RefitAsked,
): RefitReport {
  if (band === null) {
    throw new BobweightError(
      "CURVE_UNTOLD",
      said(
        "The unit has no specification over speed. Give a target of your own by --target, or compare it with the units on file by `bobweight nearest`.",
      ),
    );
  }
  const { recordId, unit, plan } = startDocumentOf(documents);
  const result = resultOf(documents);
  const { rising, falling } = result.speed;
  const now = { rising, falling, installed, referenceRpm: plan.referenceRpm };
  const measured = measuredUnit([now, ...earlier], specified(band));
  const findings = endDocumentOf(documents)?.findings?.found ?? [];
  const seeTo = seeToFirst(findings);
  if (measured === null) {
    throw new BobweightError(
      "CURVE_UNTOLD",
      seeTo[0] === undefined
        ? said("The weights hardly move, or too few readings lie between start and stop.")
        : said("{}.", seeTo[0].title),
    );
  }
  return {
    recordId,
    target: targetReport(band),
    seeToFirst: seeTo,
    ...advise(measured, band, drawer, installed),
    capsules: capsuleAdvice(unit, result, findings),
  };
}

function targetReport({ isOwnTarget, source, rows }: Band): RefitReport["target"] {
  return isOwnTarget === true ? { own: true, warning: OWN_TARGET_WARNING, source, rows } : null;
}

/** Of each capsule that has a specification, and that nothing else is wrong with first. */
function capsuleAdvice(
  { capsules }: Unit,
  result: RunResult,
  findings: readonly Finding[],
): RefitReport["capsules"] {
  if (findings.some(({ kind }) => hiddenBy(kind).includes("capsule-spring-wrong"))) return [];
  return capsules.flatMap(({ name, band }, i) => {
    const rising = result.capsules[i]?.rising ?? [];
    const advice = band === null ? null : adviseCapsule(rising, band);
    return advice === null ? [] : [{ name, ...advice }];
  });
}
