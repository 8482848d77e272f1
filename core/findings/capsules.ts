// What hold test and vacuum sweep say of one capsule: diaphragm, plate, spring.
import type { RunResult } from "../documents.ts";
import type { Candidate, Evidence } from "./finding.ts";
import { probabilityBySize } from "./probability.ts";

/** Drop in the hold as a share of what is allowed. Common practice, no source. */
const DROP = {
  sound: { median: 0.03, spread: 1 },
  faulty: { median: 1.5, spread: 1.3 },
  prior: 0.08,
} as const;
const REACHED_SHARE = 0.93;
/** Falls faster than this share of the whole a second, it is torn rather than leaking. */
const TORN_SHARE_PER_S = 0.1;
const SURE = 0.98;

/** A vacuum below a share of its target was not reached, as far as the gauge can tell. */
export function isReached(
  { x, targetX }: { readonly x: number; readonly targetX: number },
  standardUncertaintyPa: number,
): boolean {
  return x + 2 * standardUncertaintyPa >= REACHED_SHARE * targetX;
}

/** What vacuum reached and the row of the hold test say; empty where there is nothing to go by. */
export function diaphragmFinding(
  { capsules, rows }: Pick<RunResult, "capsules" | "rows">,
  capsule: number,
  gaugeStandardUncertaintyPa: number,
): readonly Candidate[] {
  const { rising = [], hold = null } = capsules[capsule] ?? {};
  const missed = rising.filter((point) => !isReached(point, gaugeStandardUncertaintyPa));
  if (missed.length > 0 || (hold !== null && !hold.reached)) {
    const evidence: Evidence = {
      figure: "vacuum reached",
      measured: Math.max(0, ...rising.map(({ x }) => x), hold?.startPa ?? 0),
      expandedUncertainty: null,
      expected: { min: hold?.targetPa ?? missed[0]?.targetX ?? null, max: null },
      unit: "Pa",
      places: missed.map(({ x }) => ({ sweep: "vacuum", capsule, branch: "rising", x })),
    };
    return [{ kind: "diaphragm-torn", part: null, strength: SURE, evidence: [evidence] }];
  }
  const row = rows.find((one) => one.about === "hold" && one.capsule === capsule);
  const { measured: dropPa = null, expandedUncertainty, limits } = row ?? {};
  if (hold === null || dropPa === null || !limits?.max) return [];
  const isTorn = dropPa / Math.max(1, hold.startPa) / hold.seconds > TORN_SHARE_PER_S;
  const evidence: Evidence = {
    figure: "drop in the hold",
    measured: dropPa,
    expandedUncertainty: expandedUncertainty ?? null,
    expected: limits,
    unit: "Pa",
    places: [{ sweep: "vacuum", capsule, branch: null, x: hold.startPa }],
  };
  return [
    {
      kind: isTorn ? "diaphragm-torn" : "capsule-leak",
      part: null,
      strength: probabilityBySize(
        dropPa / limits.max,
        (expandedUncertainty ?? 0) / 2 / limits.max,
        DROP,
      ),
      evidence: [evidence],
    },
  ];
}
