// What a chart of advance draws, worked out from a run: points, limit bars and fixed axes. Pure.
import type { CurvePoint, PointDocument, StartDocument } from "../../core/documents.ts";
import { fittedCurves } from "../../core/mechanism/fittedCurve.ts";
import { roundAxis } from "../../core/sheet/axes.ts";
import type { EarlierRun } from "../../core/sheet/earlier.ts";
import { evidenceMarks, markLabel } from "../../core/sheet/evidenceMarks.ts";
import type { Band, BandRow, Branch } from "../../core/unit.ts";
import { type VacuumUnit, vacuumFromPascals } from "../../core/units.ts";
import type { RunView } from "./runView.ts";
import { atShownShaft } from "./shaft.ts";

/** A speed sweep, or the vacuum sweep of one capsule by its place in the unit. */
export type CurveSubject =
  | { readonly kind: "speed" }
  | { readonly kind: "vacuum"; readonly capsule: number; readonly unit: VacuumUnit };

/** x in rpm or the vacuum's unit, y in degrees; both of the shaft that is shown. */
export interface ChartPoint {
  readonly x: number;
  readonly y: number;
}

export interface TablePoint extends ChartPoint {
  readonly branch: Branch;
  readonly expandedUncertaintyDeg: number;
}

/** A printed row as drawn. A null limit is open on that side. */
export type LimitBar =
  | {
      readonly kind: "upright";
      readonly x: number;
      readonly minDeg: number | null;
      readonly maxDeg: number | null;
    }
  | {
      readonly kind: "span";
      readonly fromX: number;
      readonly toX: number;
      readonly minDeg: number | null;
      readonly maxDeg: number | null;
    }
  | { readonly kind: "begin"; readonly fromX: number; readonly toX: number };

/** An axis over round marks. */
export interface Axis {
  readonly min: number;
  readonly max: number;
  readonly step: number;
}

export interface EarlierLine {
  readonly name: EarlierRun["name"];
  readonly points: readonly ChartPoint[];
}

export interface ChartMark extends ChartPoint {
  /** Numbers of the findings. */
  readonly label: string;
  readonly branch: Branch | null;
}

export const MARKS_MOST = 8;

export interface CurveModel {
  readonly rising: readonly ChartPoint[];
  readonly falling: readonly ChartPoint[];
  /** The mechanism as fitted, a line for each branch; none before the end or where nothing was fitted. */
  readonly fitted: readonly (readonly ChartPoint[])[];
  /** Rising curves of the runs that this one follows. */
  readonly earlier: readonly EarlierLine[];
  /** Readings that speak for findings. */
  readonly marks: readonly ChartMark[];
  readonly bars: readonly LimitBar[];
  readonly xAxis: Axis;
  readonly yAxis: Axis;
  /** The points in the order they were measured. */
  readonly table: readonly TablePoint[];
}

/** What a curve is made of: all of a run but the numbers of now, which come ten times a second. */
export type CurveSource = Pick<RunView, "start" | "points" | "end" | "earlier">;

export function curveModel(view: CurveSource, subject: CurveSubject): CurveModel {
  const table = tablePoints(view, subject);
  const band = bandOf(view.start, subject);
  const rows = band?.rows ?? [];
  const scales = scalesOf(subject, ratioOf(view));
  const xs = rows.flatMap(rowX).map((x) => x * scales.x);
  const earlier = earlierLines(view, subject);
  const before = earlier.flatMap(({ points }) => points);
  const xAxis = roundAxis(
    [...plannedX(view, subject), ...xs, ...xOf(table), ...xOf(before)],
    MARKS_MOST,
  );
  const yAxis = roundAxis(
    [
      ...rows.flatMap(rowLimits).map((deg) => deg * scales.y),
      ...[...table, ...before].map((point) => point.y),
      leastBottomDeg,
      leastTopDeg,
    ],
    MARKS_MOST,
  );
  return {
    rising: branchPoints(table, "rising"),
    falling: branchPoints(table, "falling"),
    fitted: fittedLines(view, subject, table),
    earlier,
    marks: marksOf(view, subject),
    bars: rows.map((row) => limitBar(row, scales, xAxis)),
    xAxis,
    yAxis,
    table,
  };
}

function earlierLines(view: CurveSource, subject: CurveSubject): EarlierLine[] {
  const { earlier } = view;
  const scales = scalesOf(subject, ratioOf(view));
  return earlier.flatMap(({ name, result }) => {
    const curve = subject.kind === "speed" ? result.speed : result.capsules[subject.capsule];
    const points = (curve?.rising ?? []).map((one) => scaled(one.x, one.advanceDeg, scales));
    return points.length === 0 ? [] : [{ name, points }];
  });
}

function marksOf(view: CurveSource, subject: CurveSubject): ChartMark[] {
  const { end } = view;
  if (end === null) return [];
  const scales = scalesOf(subject, ratioOf(view));
  return evidenceMarks(end.findings, end.result, subject).map((mark) => ({
    ...scaled(mark.x, mark.advanceDeg, scales),
    label: markLabel(mark.findings),
    branch: mark.branch,
  }));
}

function fittedLines(
  view: CurveSource,
  subject: CurveSubject,
  table: readonly TablePoint[],
): ChartPoint[][] {
  const mechanism = view.end?.mechanism ?? null;
  if (mechanism === null) return [];
  const scales = scalesOf(subject, ratioOf(view));
  const fit =
    subject.kind === "speed" ? mechanism.weights : (mechanism.capsules[subject.capsule] ?? null);
  return fittedCurves(fit, Math.max(0, ...xOf(table)) / scales.x)
    .filter(({ branch }) => table.some((point) => point.branch === branch))
    .map(({ points }) => points.map(([x, y]) => scaled(x, y, scales)));
}

/** Keeps the axis from shrinking to noise where nothing advances. */
export const leastTopDeg = 4;
/** Readings at zero stand clear of the frame, and one a hair below does not move the axis. */
export const leastBottomDeg = -1;

/** From distributor figures and pascals to what is drawn. */
export interface Scales {
  readonly x: number;
  readonly y: number;
}

export function scalesOf(subject: CurveSubject, driveRatio: number): Scales {
  const y = atShownShaft(1, driveRatio);
  return { x: subject.kind === "speed" ? y : vacuumFromPascals(1, subject.unit), y };
}

export function scaled(x: number, advanceDeg: number, scales: Scales): ChartPoint {
  return { x: x * scales.x, y: advanceDeg * scales.y };
}

/** Before a run has begun there is nothing to turn. */
function ratioOf({ start }: Pick<CurveSource, "start">): number {
  return start?.unit.driveRatio ?? 1;
}

function xOf(points: readonly ChartPoint[]): number[] {
  return points.map((point) => point.x);
}

function bandOf(start: StartDocument | null, subject: CurveSubject): Band | null {
  if (start === null) return null;
  if (subject.kind === "speed") return start.unit.speedBand;
  return start.unit.capsules[subject.capsule]?.band ?? null;
}

function plannedX({ start }: CurveSource, subject: CurveSubject): readonly number[] {
  if (start === null) return [];
  if (subject.kind === "speed") {
    return start.plan.speedsRpm.map((rpm) => atShownShaft(rpm, start.unit.driveRatio));
  }
  return (start.plan.capsules[subject.capsule]?.vacuumsPa ?? []).map((pa) =>
    vacuumFromPascals(pa, subject.unit),
  );
}

/** Chart.js wants points in the order of x (`normalized`), so each branch is sorted. */
function branchPoints(table: readonly TablePoint[], branch: Branch): ChartPoint[] {
  return table
    .filter((point) => point.branch === branch)
    .map(({ x, y }) => ({ x, y }))
    .sort((a, b) => a.x - b.x);
}

/** After the end the judged curves are shown, before it the readings as they come. */
function tablePoints(view: CurveSource, subject: CurveSubject): TablePoint[] {
  const result = view.end?.result;
  const scales = scalesOf(subject, ratioOf(view));
  if (result === undefined) {
    return view.points.flatMap((point) => readingPoint(point, subject, scales));
  }
  const curve = subject.kind === "speed" ? result.speed : result.capsules[subject.capsule];
  if (curve === undefined) return [];
  return [
    ...curve.rising.map((point) => curvePoint(point, "rising", scales)),
    ...curve.falling.map((point) => curvePoint(point, "falling", scales)),
  ];
}

function curvePoint(point: CurvePoint, branch: Branch, scales: Scales): TablePoint {
  return {
    ...scaled(point.x, point.advanceDeg, scales),
    branch,
    expandedUncertaintyDeg: point.coverageFactor * point.standardUncertaintyDeg * scales.y,
  };
}

function readingPoint(point: PointDocument, subject: CurveSubject, scales: Scales): TablePoint[] {
  if (point.sweep !== subject.kind || point.branch === null) return [];
  if (subject.kind === "vacuum" && point.capsule !== subject.capsule) return [];
  const { reading } = point;
  const x = subject.kind === "speed" ? reading.speedRpm : (reading.vacuumPa ?? point.targetPa);
  if (x === null) return [];
  return [
    {
      ...scaled(x, reading.advanceDeg, scales),
      branch: point.branch,
      expandedUncertaintyDeg: reading.coverageFactor * reading.standardUncertaintyDeg * scales.y,
    },
  ];
}

/** Where the run is now; it belongs to the chart of the sweep in progress only. */
export function livePoint(view: RunView, subject: CurveSubject): ChartPoint | null {
  const { live, step, end } = view;
  if (live === null || step === null || end !== null || live.advanceDeg === null) return null;
  const scales = scalesOf(subject, ratioOf(view));
  const onVacuum = step.step === "vacuum" || step.step === "hold";
  if (subject.kind === "speed") {
    return onVacuum ? null : scaled(live.speedRpm, live.advanceDeg, scales);
  }
  if (!onVacuum || step.capsule !== subject.capsule || live.vacuumPa === null) return null;
  return scaled(live.vacuumPa, live.advanceDeg, scales);
}

/**
 * The points of which no two fall on the same pixel of a picture so large (px): ten thousand readings ask
 * for no more drawing than can be seen. In the order given, the first of each pixel.
 */
export function apart(
  points: readonly ChartPoint[],
  { xAxis, yAxis }: Pick<CurveModel, "xAxis" | "yAxis">,
  { width, height }: { readonly width: number; readonly height: number },
): ChartPoint[] {
  const taken = new Set<number>();
  return points.filter(({ x, y }) => {
    const column = Math.round(((x - xAxis.min) / (xAxis.max - xAxis.min)) * width);
    const line = Math.round(((y - yAxis.min) / (yAxis.max - yAxis.min)) * height);
    const pixel = column * (height + 1) + line;
    if (taken.has(pixel)) return false;
    taken.add(pixel);
    return true;
  });
}

export function rowX(row: BandRow): number[] {
  return row.kind === "start" ? [row.fromX, row.toX] : row.x === null ? [] : [row.x];
}

export function rowLimits(row: BandRow): number[] {
  if (row.kind === "start") return [0];
  return [row.limitsDeg.min, row.limitsDeg.max].filter((limit) => limit !== null);
}

/** Where an `end` row without x is drawn: over the last fifth of the axis. */
const endShare = 0.8;

export function limitBar(row: BandRow, scales: Scales, xAxis: Axis): LimitBar {
  if (row.kind === "start") {
    return { kind: "begin", fromX: row.fromX * scales.x, toX: row.toX * scales.x };
  }
  const [minDeg, maxDeg] = [row.limitsDeg.min, row.limitsDeg.max].map((limit) =>
    limit === null ? null : limit * scales.y,
  ) as [number | null, number | null];
  switch (row.kind) {
    case "at":
      return { kind: "upright", x: row.x * scales.x, minDeg, maxDeg };
    case "noneBelow":
      return { kind: "span", fromX: xAxis.min, toX: row.x * scales.x, minDeg, maxDeg };
    case "end":
      return {
        kind: "span",
        fromX: row.x === null ? xAxis.max * endShare : row.x * scales.x,
        toX: xAxis.max,
        minDeg,
        maxDeg,
      };
  }
}
