// A unit of the same make as a scenario's: springs, friction and wear drawn about the scenario's own. Pure.
import type { Random } from "./random.ts";
import type { Scenario } from "./scenario.ts";

/** How far units of one make differ; 0: not at all. Assumptions of whoever asks. */
export interface Spreads {
  /** Standard deviation of the logarithm of each spring's rate and load, the capsules' springs too. */
  readonly springRateShare: number;
  /** Likewise of the friction of the weights, and of each capsule's plate. */
  readonly frictionShare: number;
  /** Play that wear gave each spring's loop: the size of a normal deviate of this standard deviation. */
  readonly loopWearMm: number;
  /** Likewise travel beyond the stop. */
  readonly stopWearDeg: number;
}

export type VariedParts = Pick<Scenario, "mechanism" | "capsules" | "seed">;

/**
 * The parts of one unit. All that is drawn is drawn in the same order whatever the spreads, so that a spread
 * of nothing leaves the others' units as they are. Null where the scenario gives tables instead of geometry.
 */
export function variedParts(
  { mechanism, capsules }: Scenario,
  spreads: Spreads,
  random: Random,
): VariedParts | null {
  if (!("weights" in mechanism)) return null;
  const factor = (share: number) => Math.exp(share * random.normal());
  const wear = (size: number) => size * Math.abs(random.normal());
  const friction = factor(spreads.frictionShare);
  const stopDeg = mechanism.stopDeg + wear(spreads.stopWearDeg);
  const springs = mechanism.springs.map((spring) => {
    const rate = factor(spreads.springRateShare);
    return {
      ...spring,
      rateNPerMm: spring.rateNPerMm * rate,
      tensionN: spring.tensionN * rate,
      slackMm: spring.slackMm + wear(spreads.loopWearMm),
    };
  });
  const { torqueNmm, addedAt1000RpmNmm } = mechanism.friction;
  return {
    mechanism: {
      ...mechanism,
      springs,
      stopDeg,
      friction: {
        torqueNmm: torqueNmm * friction,
        addedAt1000RpmNmm: addedAt1000RpmNmm * friction,
      },
    },
    capsules: capsules.map((capsule) => {
      const rate = factor(spreads.springRateShare);
      return {
        ...capsule,
        rateNPerMm: capsule.rateNPerMm * rate,
        loadN: capsule.loadN * rate,
        frictionN: capsule.frictionN * factor(spreads.frictionShare),
      };
    }),
    // Each unit meets noise of its own.
    seed: random.whole32(),
  };
}
