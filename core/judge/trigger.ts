// What the readings tell of the trigger itself: dwell, bounce, missing openings, and the scatter in its parts.
import { rippleScale } from "../angles/zero.ts";
import type { PointDocument, Reading } from "../documents.ts";
import type { DwellResult, TriggerResult } from "../triggerResult.ts";
import { bounceOf } from "./bounce.ts";
import type { Gathered } from "./gathered.ts";
import { tellingDwell } from "./limits.ts";
import { missingOf } from "./missing.ts";
import { dwellTrend, scatterTrends } from "./trend.ts";

/** Total: whatever part of a run there is. */
export function triggerOf(gathered: Gathered): TriggerResult {
  const { start, speedReadings, reference } = gathered;
  const overSpeed = rising(speedReadings, speedOf);
  const readings = overSpeed.length > 0 || reference === null ? overSpeed : [reference.reading];
  return {
    dwell: dwellResult(readings, gathered),
    bounce: bounceOf(speedReadings),
    missing: missingOf(gathered),
    scatter: scatterTrends(readings, start?.rig.hello?.tickHz ?? Number.POSITIVE_INFINITY),
  };
}

const speedOf = ({ speedRpm }: Reading) => speedRpm;
const vacuumOf = ({ vacuumPa }: Reading) => vacuumPa ?? Number.NaN;

/** From the reading on that the dwell is judged by: most of the drive's ripple has fallen there. */
function dwellResult(
  readings: readonly Reading[],
  { capsules, reference }: Gathered,
): DwellResult | null {
  const telling = tellingDwell(readings);
  if (telling === null) return null;
  const slow = [...readings, ...(reference === null ? [] : [reference.reading])];
  const from = withRippleLeft(telling, slow);
  const faster = readings.slice(readings.indexOf(telling) + 1);
  const overSpeed = dwellTrend([from, ...faster], speedOf);
  if (overSpeed === null) return null;
  return {
    atRpm: telling.speedRpm,
    lobesDeg: telling.lobes.map(({ dwellDeg }) => dwellDeg),
    lobeExpandedUncertaintyDeg: lobeUncertainty(overSpeed.low.expandedUncertaintyDeg, telling),
    overSpeed,
    overVacuum: capsules.map((capsule) => dwellTrend(rising(capsule.readings, vacuumOf), vacuumOf)),
  };
}

/**
 * Ripple that no pickup sees shifts the two flanks of a dwell by different angles. It falls with the
 * square of speed, so what the dwell lost from the slowest reading to this one tells how much may be
 * left: a limit, and so a rectangle (JCGM 100 § 4.3.7, from memory).
 */
function withRippleLeft(reading: Reading, slow: readonly Reading[]): Reading {
  const slowest = slow.reduce((best, one) => (one.speedRpm < best.speedRpm ? one : best), reading);
  if (slowest.dwellDeg === null || reading.dwellDeg === null) return reading;
  const here = rippleScale(reading.speedRpm);
  const fallen = rippleScale(slowest.speedRpm) - here;
  if (fallen <= 0) return reading;
  const leftDeg = (Math.abs(slowest.dwellDeg - reading.dwellDeg) * here) / fallen;
  return {
    ...reading,
    dwellStandardUncertaintyDeg: Math.hypot(
      reading.dwellStandardUncertaintyDeg,
      leftDeg / Math.sqrt(3),
    ),
  };
}

/** In rising order of x, those without one left out. */
function rising(points: readonly PointDocument[], x: (reading: Reading) => number): Reading[] {
  return points
    .filter(({ branch, reading }) => branch === "rising" && Number.isFinite(x(reading)))
    .map(({ reading }) => reading)
    .sort((a, b) => x(a) - x(b));
}

/** As if all that the mean's uncertainty is made of were each lobe's own: never too small. */
function lobeUncertainty(ofMeanDeg: number, { lobes }: Reading): number {
  const known = lobes.filter(({ dwellDeg }) => dwellDeg !== null).length;
  return ofMeanDeg * Math.sqrt(Math.max(1, known));
}
