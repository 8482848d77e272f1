// The fitted form as a line to draw beside the readings.
import type { Branch } from "../unit.ts";
import { capsuleAdvanceAt } from "./capsuleForm.ts";
import { type CapsuleFit, isFitted, type NotFitted, type WeightsFit } from "./fitted.ts";
import { advanceAt } from "./weightsForm.ts";

const PLACES = 240;

export interface FittedCurve {
  readonly branch: Branch;
  /** Distributor rpm or pascals, and distributor degrees. */
  readonly points: readonly (readonly [x: number, advanceDeg: number])[];
}

/** Both branches from nothing up to the highest reading; none where nothing was fitted. */
export function fittedCurves(
  fit: WeightsFit | CapsuleFit | NotFitted | null,
  highestX: number,
): readonly FittedCurve[] {
  if (fit === null || !isFitted(fit)) return [];
  const { form } = fit;
  const at = (x: number, branch: Branch) =>
    "startKPa" in form ? capsuleAdvanceAt(form, x, branch) : advanceAt(form, x, branch);
  return (["rising", "falling"] as const).map((branch) => ({
    branch,
    points: Array.from({ length: PLACES + 1 }, (_, i) => (i * highestX) / PLACES)
      .map((x) => [x, at(x, branch)] as const)
      .filter(([, deg]) => Number.isFinite(deg)),
  }));
}
