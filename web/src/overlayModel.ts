// What a chart of several curves draws: each with a letter, rising and falling, against one band. Pure.
import type { RunResult } from "../../core/documents.ts";
import type { ComparedRecord } from "../../core/records/compare.ts";
import { roundAxis } from "../../core/sheet/axes.ts";
import type { Band, Branch } from "../../core/unit.ts";
import type { VacuumUnit } from "../../core/units.ts";
import {
  type Axis,
  type ChartPoint,
  type CurveSubject,
  type LimitBar,
  leastBottomDeg,
  leastTopDeg,
  limitBar,
  MARKS_MOST,
  rowLimits,
  rowX,
  scaled,
  scalesOf,
} from "./curveModel.ts";

export interface OverlayLine {
  readonly letter: string;
  readonly rising: readonly ChartPoint[];
  readonly falling: readonly ChartPoint[];
}

export interface OverlayModel {
  readonly lines: readonly OverlayLine[];
  readonly bars: readonly LimitBar[];
  readonly xAxis: Axis;
  readonly yAxis: Axis;
}

export const letterOf = (index: number): string => String.fromCharCode(65 + index);

export function overlayModel(
  subject: CurveSubject,
  band: Band | null,
  /** Of the unit whose band it is. */
  driveRatio: number,
  lines: readonly OverlayLine[],
): OverlayModel {
  const scales = scalesOf(subject, driveRatio);
  const rows = band?.rows ?? [];
  const points = lines.flatMap(({ rising, falling }) => [...rising, ...falling]);
  const xs = [...rows.flatMap(rowX).map((x) => x * scales.x), ...points.map(({ x }) => x)];
  const degs = [
    ...rows.flatMap(rowLimits).map((deg) => deg * scales.y),
    ...points.map(({ y }) => y),
  ];
  const xAxis = roundAxis(xs, MARKS_MOST);
  return {
    lines,
    bars: rows.map((row) => limitBar(row, scales, xAxis)),
    xAxis,
    yAxis: roundAxis([...degs, leastBottomDeg, leastTopDeg], MARKS_MOST),
  };
}

/** What is drawn of compared records: speed, then each capsule that any of them has readings of. */
export function comparedSubjects(
  records: readonly ComparedRecord[],
  unit: VacuumUnit,
): readonly CurveSubject[] {
  const capsules = Math.max(0, ...records.map(({ result }) => result.capsules.length));
  const subjects: CurveSubject[] = [
    { kind: "speed" },
    ...Array.from({ length: capsules }, (_, capsule) => ({
      kind: "vacuum" as const,
      capsule,
      unit,
    })),
  ];
  return subjects.filter((subject) =>
    records.some(({ result }) => {
      const { rising, falling } = curvesOf(result, subject);
      return rising.length + falling.length > 0;
    }),
  );
}

export function comparedModel(
  records: readonly ComparedRecord[],
  subject: CurveSubject,
): OverlayModel {
  const unit = records[0]?.unit;
  const band = subject.kind === "speed" ? unit?.speedBand : unit?.capsules[subject.capsule]?.band;
  const lines = records.map(({ result, unit: { driveRatio } }, i): OverlayLine => {
    const scales = scalesOf(subject, driveRatio);
    const curves = curvesOf(result, subject);
    const points = (branch: Branch) =>
      curves[branch].map(({ x, advanceDeg }) => scaled(x, advanceDeg, scales));
    return { letter: letterOf(i), rising: points("rising"), falling: points("falling") };
  });
  return overlayModel(subject, band ?? null, unit?.driveRatio ?? 1, lines);
}

function curvesOf(result: RunResult, subject: CurveSubject): RunResult["speed"] {
  const none = { rising: [], falling: [] };
  return subject.kind === "speed" ? result.speed : (result.capsules[subject.capsule] ?? none);
}
