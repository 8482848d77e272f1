// What hold test and vacuum sweep say of one capsule: diaphragm, plate, spring.
import type { CapsuleResult, HoldDocument } from "../documents.ts";
import type { HoldPlan } from "../plan.ts";
import type { Evidence, Finding } from "./finding.ts";
import { probabilityBySize } from "./probability.ts";

type Bare = Pick<Finding, "kind" | "strength" | "part" | "evidence">;

/** Drop in the hold as a share of what is allowed. Common practice, no source. */
const DROP = {
  sound: { median: 0.03, spread: 1 },
  faulty: { median: 1.5, spread: 1.3 },
  prior: 0.08,
} as const;
/** A vacuum below this share of its target was not reached. */
const REACHED_SHARE = 0.93;
/** Falls faster than this share of the whole a second, it is torn rather than leaking. */
const TORN_SHARE_PER_S = 0.1;
const SURE = 0.98;

/** Null: the vacuum builds and holds as it should. `plan`: what the hold test asked for. */
export function diaphragmFinding(
  { rising, hold }: Pick<CapsuleResult, "rising" | "hold">,
  plan: HoldPlan | null,
  sensorStandardUncertaintyPa: number,
  capsule: number,
): Bare | null {
  const missed = rising.filter(({ x, targetX }) => x < REACHED_SHARE * targetX);
  const notHeld = hold !== null && !hold.reached;
  if (notHeld || missed.length > 0) {
    const most = Math.max(0, ...rising.map(({ x }) => x), hold?.startPa ?? 0);
    return {
      kind: "diaphragm-torn",
      part: null,
      strength: SURE,
      evidence: [
        {
          figure: "vacuum reached",
          measured: most,
          expandedUncertainty: 2 * sensorStandardUncertaintyPa,
          expected: { min: hold?.targetPa ?? missed[0]?.targetX ?? null, max: null },
          unit: "Pa",
          places: missed.map(({ x }) => ({ sweep: "vacuum", capsule, branch: "rising", x })),
        },
      ],
    };
  }
  if (hold === null || plan === null) return null;
  return leakFinding(hold, plan, sensorStandardUncertaintyPa, capsule);
}

function leakFinding(
  hold: HoldDocument,
  { dropMaxPa, seconds }: HoldPlan,
  sensorPa: number,
  capsule: number,
): Bare {
  const dropPa = hold.startPa - hold.endPa;
  const uncertaintyPa = (sensorPa / Math.max(1, hold.targetPa)) * dropPa + 10;
  const strength = probabilityBySize(dropPa / dropMaxPa, uncertaintyPa / dropMaxPa, DROP);
  const isTorn = dropPa / Math.max(1, hold.startPa) / seconds > TORN_SHARE_PER_S;
  const evidence: Evidence = {
    figure: "drop in the hold",
    measured: dropPa,
    expandedUncertainty: 2 * uncertaintyPa,
    expected: { min: null, max: dropMaxPa },
    unit: "Pa",
    places: [{ sweep: "vacuum", capsule, branch: null, x: hold.startPa }],
  };
  return {
    kind: isTorn ? "diaphragm-torn" : "capsule-leak",
    part: null,
    strength,
    evidence: [evidence],
  };
}
