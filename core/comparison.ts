// A record beside the same record computed again: which figures moved, and by how much.
import type {
  HoldDocument,
  PointDocument,
  Reading,
  RunDocument,
  RunResult,
  Verdict,
} from "./documents.ts";
import { explained } from "./findings/explained.ts";
import { judge } from "./judge/result.ts";
import type { MechanismFit } from "./mechanism/fitted.ts";
import { mechanismOf } from "./mechanism/mechanism.ts";
import type { Unit } from "./unit.ts";

export interface ComparedReading {
  readonly sweep: PointDocument["sweep"];
  readonly branch: PointDocument["branch"];
  readonly capsule: number | null;
  readonly targetRpm: number;
  readonly targetPa: number | null;
  readonly recordedAdvanceDeg: number;
  readonly advanceDeg: number;
  readonly recordedStandardUncertaintyDeg: number;
  readonly standardUncertaintyDeg: number;
  /** Every figure of the reading the same, bit for bit. */
  readonly same: boolean;
}

export interface Comparison {
  /** All readings, hold tests and the judgement the same, bit for bit. */
  readonly same: boolean;
  readonly readings: readonly ComparedReading[];
  readonly holdsSame: boolean;
  readonly recordedVerdict: Verdict | null;
  readonly verdict: Verdict | null;
}

/** `again`: what `replay` made of `recorded`. */
export function compare(
  unit: Unit,
  recorded: readonly RunDocument[],
  again: readonly RunDocument[],
): Comparison {
  const points = recorded.filter((document) => document.type === "point");
  const before = readingsOf(recorded);
  const now = readingsOf(again);
  const readings = points.map((point, i) =>
    comparedReading(point, before[i] as Reading, now[i] as Reading),
  );
  const holdsSame = isSame(holdsOf(recorded), holdsOf(again));
  const end = recorded.find((document) => document.type === "end");
  const withEnd = end === undefined ? again : [...again, end];
  const { result, findings } =
    end === undefined || end.findings === null
      ? { result: judge(unit, withEnd), findings: null }
      : explained(unit, withEnd);
  const judgedSame =
    end === undefined ||
    (isSame(end.result, result) &&
      isSame(end.findings, findings) &&
      (end.mechanism === null || isSame(end.mechanism, mechanismAgain(withEnd, result))));
  return {
    same: readings.every(({ same }) => same) && holdsSame && judgedSame,
    readings,
    holdsSame,
    recordedVerdict: end?.result.verdict ?? null,
    verdict: result.verdict,
  };
}

function mechanismAgain(documents: readonly RunDocument[], result: RunResult): MechanismFit | null {
  const start = documents.find((document) => document.type === "start");
  return start === undefined ? null : mechanismOf(start.plan, result);
}

function readingsOf(documents: readonly RunDocument[]): readonly Reading[] {
  const final = documents.find((document) => document.type === "final");
  const points = documents.filter((document) => document.type === "point");
  return points.map(({ reading }, i) => final?.readings[i] ?? reading);
}

function holdsOf(documents: readonly RunDocument[]): readonly HoldDocument[] {
  return documents.filter((document) => document.type === "hold");
}

function comparedReading(point: PointDocument, before: Reading, now: Reading): ComparedReading {
  const { sweep, branch, capsule, targetRpm, targetPa } = point;
  return {
    sweep,
    branch,
    capsule,
    targetRpm,
    targetPa,
    recordedAdvanceDeg: before.advanceDeg,
    advanceDeg: now.advanceDeg,
    recordedStandardUncertaintyDeg: before.standardUncertaintyDeg,
    standardUncertaintyDeg: now.standardUncertaintyDeg,
    same: isSame(before, now),
  };
}

/** Numbers are told in JSON by the shortest digits that give the same bits back (ECMA-262, Number::toString). */
function isSame(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}
