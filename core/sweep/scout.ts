// The look at the whole range before a sweep chooses: ramps slow enough for every turn to tell something.

/** One ramp; the way down takes the same legs backwards. */
export interface ScoutLeg {
  readonly fromRpm: number;
  readonly toRpm: number;
  readonly rpmPerS: number;
}

/** Speed at the end of a leg over that at its start. */
const LEG_RATIO = 1.5;
/** Share of the speed by which it changes in a second. */
const SHARE_PER_S = 0.25;

/** From a low speed up to a high one, the slower the ramp the fewer turns come. */
export function scoutLegs(lowRpm: number, highRpm: number, rampRpmPerS: number): ScoutLeg[] {
  const legs: ScoutLeg[] = [];
  for (let rpm = lowRpm; rpm < highRpm; rpm *= LEG_RATIO) {
    legs.push({
      fromRpm: rpm,
      toRpm: Math.min(rpm * LEG_RATIO, highRpm),
      rpmPerS: Math.min(rampRpmPerS, SHARE_PER_S * rpm),
    });
  }
  return legs;
}
