// Whether a curve that falls with speed is one spun the wrong way round, or a cam that stands still with edges told late.
import type { Reading } from "./documents.ts";

type Read = Pick<Reading, "speedRpm" | "advanceDeg" | "standardUncertaintyDeg" | "coverageFactor">;

/** Below this in the speed sweep a sound unit may be turning the wrong way round. */
const RETARD_LIMIT_DEG = -2;
/** What an input may delay its edges: a condenser left across the contacts, or a slow sensor. Common practice, no source. */
const MOST_DELAY_US = 500;
/** A cam that is stuck or hardly moves stays this near to the line that a delay draws. An assumption, no source. */
const NEAR_LINE_DEG = 0.3;

/**
 * True where the last of these readings of a speed sweep, in the order in which they were taken, lies
 * clearly below the reference and the curve is not the straight line from there that a delay of all
 * edges draws: so many degrees for each rpm (6 · 10⁻⁶ °/(rpm·µs): 360° a turn, 60 s a minute).
 */
export function mayTurnBackwards(readings: readonly Read[], referenceRpm: number): boolean {
  const last = readings.at(-1);
  if (last === undefined || highestOf(last) >= RETARD_LIMIT_DEG) return false;
  const degPerRpm = last.advanceDeg / (last.speedRpm - referenceRpm);
  const delayUs = -degPerRpm / 6e-6;
  if (!(delayUs > 0 && delayUs <= MOST_DELAY_US)) return true;
  return readings.some((one) => {
    const offDeg = one.advanceDeg - degPerRpm * (one.speedRpm - referenceRpm);
    return Math.abs(offDeg) > NEAR_LINE_DEG + expandedOf(one) + expandedOf(last);
  });
}

/** One index sees little of a low reference's ripple: what it cannot rule out stops no run. */
function highestOf(reading: Read): number {
  return reading.advanceDeg + expandedOf(reading);
}

function expandedOf({ coverageFactor, standardUncertaintyDeg }: Read): number {
  return coverageFactor * standardUncertaintyDeg;
}
