// A ramp of the spindle no faster than lobes can be followed on it.
import { type Rig, send } from "./rig.ts";

/** By so much of itself may the speed change from one known phase of the shaft to the next. */
const FOLLOWED_SHARE = 0.2;
/** Another rate than the last one by more than this factor is told to the rig. */
export const RATE_CHANGE = 1.3;

/**
 * The fastest ramp on which each firing event can still be given to its lobe: one that is over within a
 * turn bends the turn at two places, of which one index a turn shows nothing. From rest nothing is followed.
 */
function followedRpmPerS({ watch, knowledge }: Rig, rampRpmPerS: number): number {
  const nowRpm = watch.state?.nowRpm ?? 0;
  if (nowRpm === 0) return rampRpmPerS;
  const rpmPerS = FOLLOWED_SHARE * nowRpm * (nowRpm / 60) * knowledge.edgesPerTurn ** 2;
  return Math.min(rampRpmPerS, Math.max(SLOWEST_RPM_PER_S, Math.round(10 * rpmPerS) / 10));
}

const SLOWEST_RPM_PER_S = 10;
/** Enough from the slowest speed to the highest; a drive that hunts must not go on for ever. */
const MOST_RATES = 50;

/** Ramps to a speed as fast as lobes can be followed until `check` gives something; null where it does not in time. */
export async function rampTowards<T>(
  rig: Rig,
  targetRpm: number,
  rampRpmPerS: number,
  check: () => T | undefined,
  limitMs: number,
): Promise<T | null> {
  const { watch, token, direction } = rig;
  for (let rates = 1; ; rates++) {
    const rpmPerS = followedRpmPerS(rig, rampRpmPerS);
    await send(rig, { type: "speed", token, direction, speedRpm: targetRpm, rampRpmPerS: rpmPerS });
    if (rates === 1) watch.forgetTurns();
    const fromRpm = watch.state?.nowRpm ?? 0;
    const rampMs = (Math.abs(targetRpm - fromRpm) / rpmPerS) * 1000;
    const end = await watch.until(() => {
      const found = check();
      if (found !== undefined) return { found };
      if (rates === MOST_RATES) return undefined;
      const wanted = followedRpmPerS(rig, rampRpmPerS);
      const other = wanted > RATE_CHANGE * rpmPerS || RATE_CHANGE * wanted < rpmPerS;
      return other ? {} : undefined;
    }, rampMs + limitMs);
    if (end === null) return null;
    if ("found" in end) return end.found as T;
  }
}
