// Advice in a workshop's words. English.
import { fixed } from "../sheet/figures.ts";
import type { Refit, Wanted } from "./advise.ts";
import type { CapsuleAdvice } from "./capsule.ts";
import type { Step } from "./step.ts";
import type { ForecastRow } from "./target.ts";

/** Below this chance an advice is no more than the nearest there is. */
const WORTH_TRYING = 0.5;

export function stepText(step: Step): string {
  switch (step.kind) {
    case "spring":
      return `Fit "${step.name}" as the ${step.which} spring`;
    case "first post": {
      const { loadRatio, bendM } = step;
      const isMore = (loadRatio ?? 1) > 1 || (bendM ?? 0) > 0;
      const far = bendM === null ? "" : ` by about ${Math.abs(bendM * 1000).toFixed(2)} mm`;
      const percent = Math.abs(100 * ((loadRatio ?? 1) - 1)).toFixed(0);
      const until =
        loadRatio === null
          ? ""
          : ` until it pulls ${percent} % ${isMore ? "more" : "less"} at rest${bendM === null ? "" : ","}`;
      return `Bend the first spring's post ${isMore ? "apart" : "together"}${until}${far}`;
    }
    case "second post":
      return `Bend the second spring's post so that it takes up ${Math.abs(step.kneeDeg).toFixed(1)}° ${step.kneeDeg > 0 ? "later" : "earlier"}`;
    case "stop":
      return step.deg > 0
        ? `Give the stop ${step.deg.toFixed(1)}° more: file, thinner bush or the other slot`
        : `Take ${(-step.deg).toFixed(1)}° from the travel: bush, or the other slot`;
  }
}

export function stepsText(steps: readonly Step[]): string {
  return steps.map(stepText).join("; ") || "Leave it as it is";
}

/** Sentences before and after the advice: that nothing is likely to do, or what would be surer. */
export function wordsAround({ advice, wanted }: Refit): {
  readonly before: readonly string[];
  readonly after: readonly string[];
} {
  const bestChance = advice[0]?.chance ?? 0;
  const springs = wanted === null ? "" : wantedText(wanted);
  if (bestChance < WORTH_TRYING) {
    const none = `Nothing that is known is likely to do. ${springs}`.trim();
    return { before: [none, ...(advice.length > 0 ? ["The nearest to it:"] : [])], after: [] };
  }
  const isSurer = wanted !== null && wanted.chance > bestChance;
  return { before: [], after: isSurer ? [`Surer than any of these: ${springs}`] : [] };
}

export function chanceText(chance: number): string {
  return `Chance to be within: ${Math.round(100 * Math.min(0.99, chance))} of 100`;
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

export function wantedText({ firstRate, firstLoad, secondRate, chance }: Wanted): string {
  const times = (ratio: number) => `${ratio.toFixed(2)} times`;
  return `A first spring of ${times(firstRate)} the rate and ${times(firstLoad)} the load at rest of the one that is in, and a second one of ${times(secondRate)} the rate, would do. ${chanceText(chance)}.`;
}

export function capsuleText(name: string, { action, shiftPa }: CapsuleAdvice): string {
  if (action === "leave") return `${name}: leave it as it is.`;
  if (action === "exchange") {
    return `${name}: no load on its spring brings it into its band. Exchange it, or see to plate and link first.`;
  }
  const change = shiftPa > 0 ? "put load on" : "take load off";
  const way = shiftPa > 0 ? "later" : "earlier";
  return `${name}: ${change} its spring (washers, screw or turns) until it begins about ${(Math.abs(shiftPa) / 1000).toFixed(1)} kPa ${way}.`;
}
