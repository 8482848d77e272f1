// The centrifugal unit's reduced form: what advance it gives at a speed, and at what speed it gives an advance.
import type { Branch } from "../unit.ts";

/**
 * s (1 + α θ) = p1 + k1 θ + q1 θ² + [θ > θ2] (p2 + k2 (θ − θ2) + q2 (θ − θ2)²) ± (f0 + f1 s),
 * 0 ≤ θ ≤ stop, with s the square of distributor speed in (1000 rpm)² and θ the advance in distributor
 * degrees from where the reference reading stood; + with speed rising. The squares stand for levers
 * of the springs that change on the way.
 */
export interface WeightsForm {
  /** p1: load of the first spring where the count of θ begins, (1000 rpm)². */
  readonly startLoad: number;
  /** k1: load by degree while the first spring works alone. */
  readonly firstRate: number;
  /** q1: by degree squared. */
  readonly firstBend: number;
  /** α: growth of the weights' lever by degree. */
  readonly leverGrowthPerDeg: number;
  /** θ2: where the second spring takes up; null where none does. */
  readonly kneeDeg: number | null;
  /** k2: load by degree that it adds. */
  readonly secondRate: number;
  /** q2 */
  readonly secondBend: number;
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

/** Load of the springs at an advance, (1000 rpm)²; at the knee itself before the step, unless `afterStep`. */
function springLoad(form: WeightsForm, deg: number, afterStep = false): number {
  const first = form.startLoad + form.firstRate * deg + form.firstBend * deg ** 2;
  const beyond = form.kneeDeg === null ? -1 : deg - form.kneeDeg;
  if (beyond < 0 || (beyond === 0 && !afterStep)) return first;
  return first + form.stepLoad + form.secondRate * beyond + form.secondBend * beyond ** 2;
}

/** By degree, just beyond an advance. */
export function springRate(form: WeightsForm, deg: number): number {
  const first = form.firstRate + 2 * form.firstBend * deg;
  const beyond = form.kneeDeg === null ? -1 : deg - form.kneeDeg;
  return beyond < 0 ? first : first + form.secondRate + 2 * form.secondBend * beyond;
}

/** Advance in distributor degrees at a speed in distributor rpm. */
export function advanceAt(form: WeightsForm, speedRpm: number, branch: Branch): number {
  const { kneeDeg, leverGrowthPerDeg } = form;
  const speed = (speedRpm / 1000) ** 2;
  const sign = branch === "rising" ? 1 : -1;
  const friction = sign * (form.frictionLoad + form.frictionShare * speed);
  const growth = leverGrowthPerDeg * speed;
  /** How far on from a place the springs hold what pulls there. */
  const onFrom = (deg: number, bend: number) =>
    held(
      speed * (1 + leverGrowthPerDeg * deg) - friction - springLoad(form, deg, true),
      springRate(form, deg) - growth,
      bend,
    );
  let deg = held(speed - friction - form.startLoad, form.firstRate - growth, form.firstBend);
  if (kneeDeg !== null && deg > kneeDeg) {
    deg = kneeDeg + onFrom(kneeDeg, form.firstBend + form.secondBend);
  }
  const least = branch === "falling" ? form.homeDeg : 0;
  return Math.min(Math.max(deg, least), form.stopDeg ?? Number.POSITIVE_INFINITY);
}

/**
 * The least x ≥ 0 with rate x + bend x² = pull; a lever that grows faster than the load lets the weights
 * fly out.
 */
function held(pull: number, rate: number, bend: number): number {
  if (pull <= 0) return 0;
  const root = Math.sqrt(rate ** 2 + 4 * bend * pull);
  const divisor = rate + root;
  return divisor > 0 ? (2 * pull) / divisor : Number.POSITIVE_INFINITY;
}

/** Distributor rpm that holds an advance in degrees; at the knee itself before the step, unless `afterStep`. */
export function speedAt(
  form: WeightsForm,
  advanceDeg: number,
  branch: Branch,
  afterStep = false,
): number {
  const sign = branch === "rising" ? 1 : -1;
  const load = springLoad(form, advanceDeg, afterStep) + sign * form.frictionLoad;
  const lever = 1 + form.leverGrowthPerDeg * advanceDeg - sign * form.frictionShare;
  return 1000 * Math.sqrt(Math.max(0, load / lever));
}

/** Degrees for each 100 rpm just beyond an advance, speed rising. */
export function steepness(form: WeightsForm, advanceDeg: number): number {
  const rpm = speedAt(form, advanceDeg, "rising", true);
  const lever = 1 + form.leverGrowthPerDeg * advanceDeg - form.frictionShare;
  const rate = springRate(form, advanceDeg) - form.leverGrowthPerDeg * (rpm / 1000) ** 2;
  // dθ/ds of the form, times ds/dn.
  return ((lever / rate) * 2 * rpm) / 1e4;
}
