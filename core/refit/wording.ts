// Advice as sentences: what to change, and the chance that it does. Pure.
import { fixed } from "../sheet/figures.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import type { Refit, Wanted } from "./advise.ts";
import type { CapsuleAdvice } from "./capsule.ts";
import type { Step } from "./step.ts";
import type { ForecastRow } from "./target.ts";

/** Below this chance an advice is no more than the nearest there is. */
const WORTH_TRYING = 0.5;

export function stepText(step: Step, say: Speech = ENGLISH): string {
  const { refit } = say;
  switch (step.kind) {
    case "spring":
      return refit.fit(step.name, step.which);
    case "first post": {
      const { loadRatio, bendM } = step;
      const isMore = (loadRatio ?? 1) > 1 || (bendM ?? 0) > 0;
      const far = bendM === null ? "" : refit.byAbout(fixed(Math.abs(bendM * 1000), 2, say));
      const percent = fixed(Math.abs(100 * ((loadRatio ?? 1) - 1)), 0, say);
      const until = loadRatio === null ? "" : refit.untilPulls(percent, isMore);
      return refit.bendFirst(isMore, until, far);
    }
    case "second post":
      return refit.bendSecond(`${fixed(Math.abs(step.kneeDeg), 1, say)}°`, step.kneeDeg > 0);
    case "stop": {
      const deg = `${fixed(Math.abs(step.deg), 1, say)}°`;
      return step.deg > 0 ? refit.moreStop(deg) : refit.lessStop(deg);
    }
  }
}

export function stepsText(steps: readonly Step[], say: Speech = ENGLISH): string {
  return steps.map((step) => stepText(step, say)).join("; ") || say.refit.leave;
}

/** Sentences before and after the advice: that nothing is likely to do, or what would be surer. */
export function wordsAround(
  { advice, wanted }: Refit,
  say: Speech = ENGLISH,
): { readonly before: readonly string[]; readonly after: readonly string[] } {
  const { refit } = say;
  const bestChance = advice[0]?.chance ?? 0;
  const springs = wanted === null ? "" : wantedText(wanted, say);
  if (bestChance < WORTH_TRYING) {
    const none = `${refit.nothing} ${springs}`.trim();
    return { before: [none, ...(advice.length > 0 ? [refit.nearest] : [])], after: [] };
  }
  const isSurer = wanted !== null && wanted.chance > bestChance;
  return { before: [], after: isSurer ? [refit.surer(springs)] : [] };
}

export function chanceText(chance: number, say: Speech = ENGLISH): string {
  return say.refit.chance(Math.round(100 * Math.min(0.99, chance)));
}

export function forecastText({
  x,
  branch,
  advanceDeg,
  standardUncertaintyDeg,
  limits: { min, max },
}: ForecastRow): string {
  const limit = (deg: number | null) => (deg === null ? "…" : `${fixed(deg, 2)}°`);
  return `${branch} at ${Math.round(x)} rpm: ${fixed(advanceDeg, 1)}° ± ${(2 * standardUncertaintyDeg).toFixed(1)}°, limits ${limit(min)} to ${limit(max)}`;
}

export function wantedText(
  { firstRate, firstLoad, secondRate, chance }: Wanted,
  say: Speech = ENGLISH,
): string {
  const times = (ratio: number) => fixed(ratio, 2, say);
  const wanted = say.refit.wanted(times(firstRate), times(firstLoad), times(secondRate));
  return `${wanted} ${chanceText(chance, say)}.`;
}

export function capsuleText(
  name: string,
  { action, shiftPa }: CapsuleAdvice,
  say: Speech = ENGLISH,
  vacuumUnit: VacuumUnit = "kPa",
): string {
  const { refit } = say;
  if (action === "leave") return refit.leaveCapsule(name);
  if (action === "exchange") return refit.exchangeCapsule(name);
  const shift = vacuumFromPascals(Math.abs(shiftPa), vacuumUnit);
  return refit.loadCapsule(name, shiftPa > 0, `${fixed(shift, 1, say)} ${vacuumUnit}`);
}
