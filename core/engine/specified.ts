// What a unit's printed rows ask for at the timing mark, line off and plugged.
import { onsetX } from "../planFile/reach.ts";
import { curveAt } from "../sweep/curve.ts";
import type { Band, EngineSettings, Limits, Unit } from "../unit.ts";
import { distributorFromCrankshaft } from "../units.ts";

/**
 * Limits in crankshaft degrees at an engine speed; straight over the square of speed between printed
 * rows, since no row stands there. Null where neither side is told.
 */
export function specifiedMark(
  { speedBand, driveRatio }: Unit,
  { initialTimingCrankshaftDeg, atEngineRpm }: EngineSettings,
  engineRpm: number,
): Limits | null {
  // Where the timing is set the mark is what it is set to, whatever the unit does.
  if (speedBand === null || engineRpm === atEngineRpm) return null;
  const at = (rpm: number) => limitsAt(speedBand, distributorFromCrankshaft(rpm, driveRatio));
  const [here, there] = [at(engineRpm), at(atEngineRpm)];
  const mark = (limit: number | null, taken: number | null) =>
    limit === null || taken === null
      ? null
      : initialTimingCrankshaftDeg + driveRatio * (limit - taken);
  const limits = { min: mark(here.min, there.max), max: mark(here.max, there.min) };
  return limits.min === null && limits.max === null ? null : limits;
}

/** Distributor figures. A null limit is not told. */
function limitsAt(band: Band, rpm: number): Limits {
  const onset = onsetX(band);
  if (rpm === 0 || (onset !== null && rpm <= onset)) return { min: 0, max: 0 };
  return { min: limitLine(band, "min", rpm), max: limitLine(band, "max", rpm) };
}

function limitLine(band: Band, side: "min" | "max", rpm: number): number | null {
  const knots = band.rows.flatMap((row) => {
    if (row.kind === "start") return [{ x: side === "min" ? row.toX : row.fromX, advanceDeg: 0 }];
    const advanceDeg = row.limitsDeg[side];
    return row.x === null || advanceDeg === null ? [] : [{ x: row.x, advanceDeg }];
  });
  const last = band.rows.at(-1);
  if (last?.kind === "end" && last.x !== null && rpm >= last.x) return last.limitsDeg[side];
  return curveAt("speed", knots, rpm);
}
