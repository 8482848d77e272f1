// The look at the whole range before a sweep chooses: a ramp that slows down where the advance moves fast.
import type { TraceTurn } from "./trace.ts";

/** Share of the speed by which it may change in a second, so that every stretch shows enough turns. */
const SHARE_PER_S = 0.25;
/** Advance may change so fast: a damped part then lags little, and few degrees pass in a turn. */
const ADVANCE_DEG_PER_S = 2;
const SLOWEST_RPM_PER_S = 20;
/** Turns over which the slope of the moment is taken. */
const SLOPE_TURNS = 2;
/** What a turn's advance may be off by; smaller changes show no slope. */
const TURN_NOISE_DEG = 0.1;

/** How fast to ramp on by the turns so far, in rpm per second; `rampRpmPerS` is the most allowed. */
export function scoutRate(
  turns: readonly TraceTurn[],
  nowRpm: number,
  rampRpmPerS: number,
): number {
  const fastest = Math.min(rampRpmPerS, SHARE_PER_S * nowRpm);
  const last = turns[turns.length - 1];
  const before = turns[turns.length - 1 - SLOPE_TURNS];
  if (last === undefined || before === undefined) return fastest;
  const moved = Math.max(0, Math.abs(last.advanceDeg - before.advanceDeg) - TURN_NOISE_DEG);
  const slope = moved / Math.max(1, Math.abs(last.x - before.x));
  return Math.min(fastest, Math.max(SLOWEST_RPM_PER_S, ADVANCE_DEG_PER_S / slope));
}

/** Seconds that the look takes both ways, for telling how long a run will take. */
export function scoutSeconds(lowRpm: number, highRpm: number, rampRpmPerS: number): number {
  const fullRpm = rampRpmPerS / SHARE_PER_S;
  const slow = Math.log(Math.max(1, Math.min(fullRpm, highRpm) / lowRpm)) / SHARE_PER_S;
  const fast = Math.max(0, highRpm - Math.max(lowRpm, fullRpm)) / rampRpmPerS;
  return 2 * (slow + fast + LIKELY_ADVANCE_DEG / ADVANCE_DEG_PER_S);
}

const LIKELY_ADVANCE_DEG = 12;
