// What `measure --json` prints: one object for other programs, in distributor degrees and rpm, and kilopascals.
import type { CurvePoint, EndDocument, HoldDocument, StartDocument } from "../core/documents.ts";
import { hasOwnTarget, OWN_TARGET_WARNING } from "../core/ownTarget.ts";

interface SpeedEntry {
  readonly rpm: number;
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
  readonly expandedUncertaintyDeg: number;
}

interface VacuumEntry {
  readonly kPa: number;
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
  readonly expandedUncertaintyDeg: number;
}

/** `vacuum` and `hold` are those of the capsule that the hose was on. */
export function reportFrom(start: StartDocument, end: EndDocument, capsule: number) {
  const { result } = end;
  const measured = result.capsules[capsule];
  return {
    recordId: start.recordId,
    unit: start.unit.description,
    invented: start.unit.invented,
    rig: start.rig.name,
    simulated: start.rig.simulated,
    scenario: start.rig.scenario,
    byHand: start.rig.byHand ?? null,
    /** Null where the specification is a maker's. */
    ownTarget: hasOwnTarget(start.unit) ? { warning: OWN_TARGET_WARNING } : null,
    verdict: result.verdict,
    ending: end.ending,
    reason: end.reason && { code: end.reason.code, text: end.reason.text },
    speed: {
      rising: result.speed.rising.map(speedEntry),
      falling: result.speed.falling.map(speedEntry),
    },
    vacuum: {
      rising: (measured?.rising ?? []).map(vacuumEntry),
      falling: (measured?.falling ?? []).map(vacuumEntry),
    },
    hold: holdEntry(measured?.hold ?? null),
    dwellDeg: result.dwellDeg,
    scatterDeg: result.scatterDeg,
    returnDeg: result.returnDeg,
    trigger: result.trigger,
    rows: result.rows,
    rowsNotMeasured: result.rowsNotMeasured,
    findings: end.findings,
    mechanism: end.mechanism,
    link: end.link,
  };
}

function speedEntry({ x, ...point }: CurvePoint): SpeedEntry {
  return { rpm: x, ...angleOf(point) };
}

function vacuumEntry({ x, ...point }: CurvePoint): VacuumEntry {
  return { kPa: x / 1000, ...angleOf(point) };
}

function angleOf(point: Omit<CurvePoint, "x">) {
  const { advanceDeg, standardUncertaintyDeg, coverageFactor } = point;
  const expandedUncertaintyDeg = coverageFactor * standardUncertaintyDeg;
  return { advanceDeg, standardUncertaintyDeg, expandedUncertaintyDeg };
}

function holdEntry(hold: HoldDocument | null) {
  if (hold === null) return null;
  return {
    reached: hold.reached,
    dropKPa: (hold.startPa - hold.endPa) / 1000,
    seconds: hold.seconds,
    targetKPa: hold.targetPa / 1000,
  };
}
