// What the readings tell of the trigger itself: dwell, bounce, missing openings, and the scatter in its parts.
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
function dwellResult(readings: readonly Reading[], { capsules }: Gathered): DwellResult | null {
  const telling = tellingDwell(readings);
  if (telling === null) return null;
  const overSpeed = dwellTrend(readings.slice(readings.indexOf(telling)), speedOf);
  if (overSpeed === null) return null;
  return {
    atRpm: telling.speedRpm,
    lobesDeg: telling.lobes.map(({ dwellDeg }) => dwellDeg),
    lobeExpandedUncertaintyDeg: lobeUncertainty(overSpeed.low.expandedUncertaintyDeg, telling),
    overSpeed,
    overVacuum: capsules.map((capsule) => dwellTrend(rising(capsule.readings, vacuumOf), vacuumOf)),
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
