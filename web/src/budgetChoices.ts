// The readings whose uncertainty budget can be looked at, named as on the curves. Pure.
import type { CurvePoint, RunResult } from "../../core/documents.ts";
import type { Branch } from "../../core/unit.ts";
import { degrees, rpm, vacuum } from "./formats.ts";
import { words } from "./words.ts";

export interface BudgetChoice {
  readonly name: string;
  readonly point: CurvePoint;
}

const BOTH: readonly Branch[] = ["rising", "falling"];

/** Speed sweep first, then capsule by capsule; rising before falling. */
export function budgetChoices({ speed, capsules }: RunResult): readonly BudgetChoice[] {
  const advance = ({ advanceDeg }: CurvePoint) => degrees(advanceDeg, 2);
  return [
    ...BOTH.flatMap((branch) =>
      speed[branch].map((point) => ({
        name: words.budget.speed(branch, rpm(point.x), advance(point)),
        point,
      })),
    ),
    ...capsules.flatMap((capsule) =>
      BOTH.flatMap((branch) =>
        capsule[branch].map((point) => ({
          name: words.budget.vacuum(capsule.name, branch, vacuum(point.x), advance(point)),
          point,
        })),
      ),
    ),
  ];
}

/** Of the reading known worst, which one would ask about first; 0 without any. */
export function worstKnown(choices: readonly BudgetChoice[]): number {
  const expanded = choices.map(({ point }) => point.coverageFactor * point.standardUncertaintyDeg);
  return Math.max(0, expanded.indexOf(Math.max(...expanded)));
}
