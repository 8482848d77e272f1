// The centrifugal unit's reduced form: what advance it gives at a speed, and at what speed it gives an advance.
import type { Branch } from "../unit.ts";

/**
 * s (1 + α θ) = p1 + k1 θ + k2 max(0, θ − θ2) + p2 [θ > θ2] ± (f0 + f1 s), 0 ≤ θ ≤ stop, with s the
 * square of distributor speed in (1000 rpm)² and θ the advance in distributor degrees from where the
 * reference reading stood; + with speed rising.
 */
export interface WeightsForm {
  /** p1: load of the first spring where the count of θ begins, (1000 rpm)². */
  readonly startLoad: number;
  /** k1: load by degree while the first spring works alone. */
  readonly firstRate: number;
  /** α: growth of the weights' lever by degree. */
  readonly leverGrowthPerDeg: number;
  /** θ2: where the second spring takes up; null where none does. */
  readonly kneeDeg: number | null;
  /** k2: load by degree that it adds. */
  readonly secondRate: number;
  /** p2: load that it takes up with, a flat step. */
  readonly stepLoad: number;
  /** Null where the readings do not reach it. */
  readonly stopDeg: number | null;
  /** f0 and f1: friction, half the gap between rising and falling. */
  readonly frictionLoad: number;
  readonly frictionShare: number;
  /** Advance that the cam does not come back from. */
  readonly homeDeg: number;
}

/** Advance in distributor degrees at a speed in distributor rpm. */
export function advanceAt(form: WeightsForm, speedRpm: number, branch: Branch): number {
  const { startLoad, firstRate, secondRate, kneeDeg, stepLoad, leverGrowthPerDeg } = form;
  const speed = (speedRpm / 1000) ** 2;
  const sign = branch === "rising" ? 1 : -1;
  const pull = speed * (1 - sign * form.frictionShare) - sign * form.frictionLoad - startLoad;
  const growth = leverGrowthPerDeg * speed;
  let deg = held(pull, firstRate - growth);
  if (kneeDeg !== null && deg > kneeDeg) {
    deg = Math.max(
      kneeDeg,
      held(pull - stepLoad + secondRate * kneeDeg, firstRate + secondRate - growth),
    );
  }
  const least = branch === "falling" ? form.homeDeg : 0;
  return Math.min(Math.max(deg, least), form.stopDeg ?? Number.POSITIVE_INFINITY);
}

/** Where the springs hold what pulls; a lever that grows faster than their load lets the weights fly out. */
function held(pull: number, rate: number): number {
  if (rate > 0) return pull / rate;
  return pull > 0 ? Number.POSITIVE_INFINITY : 0;
}

/** Distributor rpm that holds an advance in degrees; at the knee itself before the step, unless `afterStep`. */
export function speedAt(
  form: WeightsForm,
  advanceDeg: number,
  branch: Branch,
  afterStep = false,
): number {
  const { startLoad, firstRate, secondRate, stepLoad, leverGrowthPerDeg } = form;
  const sign = branch === "rising" ? 1 : -1;
  const beyond = form.kneeDeg === null ? 0 : advanceDeg - form.kneeDeg;
  const second =
    beyond > 0 ? stepLoad + secondRate * beyond : beyond === 0 && afterStep ? stepLoad : 0;
  const load = startLoad + firstRate * advanceDeg + second + sign * form.frictionLoad;
  const lever = 1 + leverGrowthPerDeg * advanceDeg - sign * form.frictionShare;
  return 1000 * Math.sqrt(Math.max(0, load / lever));
}
