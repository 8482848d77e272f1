// What a fit of the mechanism says: each figure with its uncertainty, or why it cannot be told. Plain JSON.
import type { CapsuleForm } from "./capsuleForm.ts";
import type { WeightsForm } from "./weightsForm.ts";

/** Why a figure cannot be told, or nothing be fitted. */
export type Untold =
  /** Too few readings to fit anything to. */
  | "too few readings"
  /** No change of advance over the whole sweep. */
  | "does not move"
  /** The curve goes the other way. */
  | "runs backwards"
  /** Too few readings between start and stop. */
  | "too few on the slope"
  /** No form agrees with the readings. */
  | "no form fits"
  /** It had begun to advance at the reference reading, from which all readings count. */
  | "begun at the reference"
  /** Too few readings before the second spring takes up. */
  | "too few near the start"
  /** The readings are met as well without. */
  | "none shows"
  /** The highest readings do not stand level. */
  | "not reached"
  /** No readings of the way back. */
  | "no falling readings"
  /** Its uncertainty leaves nothing worth saying. */
  | "too uncertain";

export interface ToldFigure {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Times the standard uncertainty is 95 % coverage. */
  readonly coverageFactor: number;
}

export type Figure = ToldFigure | { readonly why: Untold };

export function isTold(figure: Figure): figure is ToldFigure {
  return "value" in figure;
}

interface Fitted {
  readonly readings: number;
  /**
   * Standard deviation of the readings about the form beyond their own uncertainty, distributor
   * degrees: what every forecast by it carries.
   */
  readonly modelErrorDeg: number;
}

/** Speeds in distributor rpm, angles in distributor degrees from the reference reading. */
export interface WeightsFit extends Fitted {
  readonly form: WeightsForm;
  /** Rising. */
  readonly startRpm: Figure;
  /** Rising, where the advance begins. */
  readonly firstSlopeDegPer100Rpm: Figure;
  /** Where the second spring takes up. */
  readonly kneeDeg: Figure;
  readonly kneeRpm: Figure;
  /** Rising, just beyond the knee. */
  readonly secondSlopeDegPer100Rpm: Figure;
  /** How far the speed rises while the second spring's initial load holds the advance at the knee. */
  readonly stepRpm: Figure;
  readonly stopDeg: Figure;
  /** Rising. */
  readonly stopRpm: Figure;
  /** Between rising and falling at half the travel: by speed, and by advance. */
  readonly gapRpm: Figure;
  readonly gapDeg: Figure;
}

/** Vacuum in pascals below ambient. */
export interface CapsuleFit extends Fitted {
  readonly form: CapsuleForm;
  readonly startPa: Figure;
  readonly slopeDegPerKPa: Figure;
  readonly endDeg: Figure;
  readonly endPa: Figure;
  readonly gapPa: Figure;
  readonly gapDeg: Figure;
}

export interface NotFitted {
  readonly why: Untold;
}

export function isFitted<T extends Fitted>(fit: T | NotFitted): fit is T {
  return "form" in fit;
}

export interface MechanismFit {
  readonly weights: WeightsFit | NotFitted;
  /** In the unit's order; null where the hose was not on it. */
  readonly capsules: readonly (CapsuleFit | NotFitted | null)[];
}
