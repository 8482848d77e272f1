// What the readings tell of the trigger itself: dwell, bounce, missing openings, and the scatter in its parts.
import type { PointDocument, Reading, TriggerResult } from "../documents.ts";
import { bounceOf } from "./bounce.ts";
import type { Gathered } from "./gathered.ts";
import { missingOf } from "./missing.ts";
import { dwellTrend, scatterTrends } from "./trend.ts";

/** Total: whatever part of a run there is. */
export function triggerOf(gathered: Gathered): TriggerResult {
  const { start, speedReadings, reference, capsules } = gathered;
  const risingSpeed = rising(speedReadings, ({ speedRpm }) => speedRpm);
  const atSpeed = risingSpeed.length > 0 || reference === null ? risingSpeed : [reference.reading];
  const overSpeed = dwellTrend(atSpeed, ({ speedRpm }) => speedRpm);
  const slowest = atSpeed.find(({ dwellDeg }) => dwellDeg !== null);
  return {
    dwell:
      overSpeed === null || slowest === undefined
        ? null
        : {
            atRpm: slowest.speedRpm,
            lobesDeg: slowest.lobes.map(({ dwellDeg }) => dwellDeg),
            lobeExpandedUncertaintyDeg: lobeUncertainty(
              overSpeed.low.expandedUncertaintyDeg,
              slowest,
            ),
            overSpeed,
            overVacuum: capsules.map(({ readings }) => {
              const vacuum = ({ vacuumPa }: Reading) => vacuumPa ?? Number.NaN;
              return dwellTrend(rising(readings, vacuum), vacuum);
            }),
          },
    bounce: bounceOf(speedReadings),
    missing: missingOf(gathered),
    scatter: scatterTrends(atSpeed, start?.rig.hello.tickHz ?? Number.POSITIVE_INFINITY),
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
