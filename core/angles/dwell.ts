// Dwell of one reading: mean over the lobes of the angle from closing to opening.
import type { ReadingContext, ReadingInput } from "./readingContext.ts";
import { EDGES_THAT_SHOW, rippleScale } from "./ripple.ts";
import { meanAndSpread } from "./statistics.ts";
import type { WindowFigures } from "./window.ts";
import type { Moved } from "./zero.ts";

export interface Dwell {
  readonly dwellDeg: number;
  readonly standardUncertaintyDeg: number;
}

/** How far ripple may be off its law, as a share of its angle. An assumption, no source. */
const LAW_DOUBT = 0.1;

/**
 * Null where no lobe tells it. A delay common to both edges shifts both alike. Both ends of the dwell
 * are shifted by ripple, each by its own share: what the pickup does not see of it shows in the
 * difference to the reference, where it is larger by the square of the speeds, and is taken off as
 * far as the lobes stand where they stood there.
 */
export function dwellOf(
  { window, figures }: Pick<ReadingInput, "window" | "figures">,
  { rig, pickup, zero, reference }: ReadingContext,
  { alike, other }: Moved,
): Dwell | null {
  const { speedRpm } = window;
  const here = meanDwell(figures);
  if (here === null) return null;
  const places = (360 * Math.SQRT2 * pickup.standardUncertainty) / Math.sqrt(here.lobes);
  const tickDeg = (6 * speedRpm) / rig.tickHz;
  const tick = tickDeg * Math.sqrt(roundedAlike(here.spreadDeg / tickDeg) / (6 * here.lobes));
  // The torque goes round as often as there are lobes, or does not and then the lobes average it.
  const assumedDeg =
    Math.SQRT2 *
    Math.max(
      zero.rippleSizeDegAt1000Rpm,
      zero.rippleBetweenLobesDegAt1000Rpm / Math.sqrt(here.lobes),
    );
  const own = Math.hypot(here.repeatabilityDeg, places, tick);
  const there = rig.edgesPerTurn < EDGES_THAT_SHOW ? meanDwell(reference.figures) : null;
  const scale = rippleScale(speedRpm);
  const fallen = rippleScale(reference.window.speedRpm) - scale;
  if (there === null || fallen < scale) {
    return { dwellDeg: here.dwellDeg, standardUncertaintyDeg: Math.hypot(own, assumedDeg * scale) };
  }
  const share = (alike * scale) / fallen;
  const shownDeg = (there.dwellDeg - here.dwellDeg) * share;
  return {
    dwellDeg: here.dwellDeg - shownDeg,
    standardUncertaintyDeg: Math.hypot(
      own * (1 + share),
      there.repeatabilityDeg * share,
      LAW_DOUBT * shownDeg,
      assumedDeg * other,
    ),
  };
}

/**
 * Share of the rounding's variance that stands in every turn: all of it where single dwells spread by no
 * more than rounding makes them (√(1/6) of a tick), none where they spread over a whole tick.
 */
function roundedAlike(spreadTicks: number): number {
  return Math.min(1, Math.max(0, 2 * (1 - spreadTicks)));
}

interface MeanDwell {
  readonly dwellDeg: number;
  /** Of single dwells about their lobes' means. */
  readonly spreadDeg: number;
  readonly repeatabilityDeg: number;
  /** How many tell it. */
  readonly lobes: number;
}

function meanDwell({ lobes }: WindowFigures): MeanDwell | null {
  const known = lobes.filter((lobe) => lobe.dwellDeg !== null);
  if (known.length === 0) return null;
  const variances = known.map(
    ({ dwellSpreadDeg, count }) => dwellSpreadDeg ** 2 / Math.max(1, count),
  );
  return {
    dwellDeg: meanAndSpread(known.map(({ dwellDeg }) => dwellDeg as number)).mean,
    spreadDeg: Math.hypot(...known.map((one) => one.dwellSpreadDeg)) / Math.sqrt(known.length),
    repeatabilityDeg: Math.sqrt(variances.reduce((sum, one) => sum + one, 0)) / known.length,
    lobes: known.length,
  };
}
