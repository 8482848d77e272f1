// What a run tells of the mechanism: weights and each capsule fitted by themselves.
import type { RunResult } from "../documents.ts";
import type { Plan } from "../plan.ts";
import { fitCapsule } from "./capsuleFit.ts";
import type { MechanismFit } from "./fitted.ts";
import { fitWeights } from "./weightsFit.ts";

/** Total: whatever part of a run there is. */
export function mechanismOf(
  { referenceRpm }: Pick<Plan, "referenceRpm">,
  { speed, capsules }: RunResult,
): MechanismFit {
  return {
    weights: fitWeights(speed.rising, speed.falling, referenceRpm),
    capsules: capsules.map(({ rising, falling }) =>
      rising.length === 0 ? null : fitCapsule(rising, falling),
    ),
  };
}
