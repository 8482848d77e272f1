// What the picture of engine figures draws, worked out from marks and readings. Pure.
import type { EngineFigures } from "../../core/engine/sheet.ts";
import { roundAxis } from "../../core/sheet/axes.ts";
import { type Axis, type ChartPoint, type LimitBar, MARKS_MOST } from "./curveModel.ts";

/** x in engine rpm, y in crankshaft degrees before top dead centre. */
export interface EngineModel {
  /** Line off and plugged. */
  readonly rising: readonly ChartPoint[];
  readonly falling: readonly ChartPoint[];
  /** Line on, no load: the least and the most. */
  readonly unloaded: readonly (readonly ChartPoint[])[];
  readonly cruise: readonly ChartPoint[];
  readonly readPlugged: readonly ChartPoint[];
  readonly readOn: readonly ChartPoint[];
  /** By the specification. */
  readonly bars: readonly LimitBar[];
  readonly xAxis: Axis;
  readonly yAxis: Axis;
}

export function engineModel({ marks, readings }: EngineFigures): EngineModel {
  const line = (deg: (mark: (typeof marks)[number]) => number | null | undefined) =>
    marks.flatMap((mark) => {
      const y = deg(mark);
      return y === null || y === undefined ? [] : [{ x: mark.engineRpm, y }];
    });
  const read = (line: "plugged" | "on") =>
    (readings?.readings ?? [])
      .filter(({ vacuumLine }) => vacuumLine === line)
      .map(({ engineRpm, markCrankshaftDeg }) => ({ x: engineRpm, y: markCrankshaftDeg }));
  const lines = {
    rising: line(({ plugged }) => plugged.rising?.markCrankshaftDeg),
    falling: line(({ plugged }) => plugged.falling?.markCrankshaftDeg),
    unloaded: [
      line(({ unloaded }) => unloaded?.fromCrankshaftDeg),
      line(({ unloaded }) => unloaded?.toCrankshaftDeg),
    ],
    cruise: line(({ cruise }) => cruise?.markCrankshaftDeg),
    readPlugged: read("plugged"),
    readOn: read("on"),
  };
  const bars = marks.flatMap(({ engineRpm, specified }): LimitBar[] =>
    specified === null
      ? []
      : [{ kind: "upright", x: engineRpm, minDeg: specified.min, maxDeg: specified.max }],
  );
  const limits = marks.flatMap(({ specified }) => [specified?.min ?? null, specified?.max ?? null]);
  const points = Object.values(lines).flat(2);
  return {
    ...lines,
    bars,
    xAxis: roundAxis(
      [...marks.map(({ engineRpm }) => engineRpm), ...points.map(({ x }) => x)],
      MARKS_MOST,
    ),
    yAxis: roundAxis(
      [...points.map(({ y }) => y), ...limits.filter((limit) => limit !== null)],
      MARKS_MOST,
    ),
  };
}
