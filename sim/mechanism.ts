// The centrifugal unit's real geometry: where its parts are and what they pull at any advance. Pure.

/** Weights of one form, evenly spaced round the shaft. Lengths in mm, masses in g. */
export interface Weights {
  readonly count: number;
  readonly massG: number;
  /** From the shaft's axis to the weight's pivot. */
  readonly pivotMm: number;
  /** From the pivot to the weight's centre of mass. */
  readonly centreMm: number;
  /** Radius of gyration about the centre of mass. */
  readonly gyrationMm: number;
  /** Angle at the pivot between the lines to the axis and to the centre of mass, weights in. */
  readonly restAngleDeg: number;
  readonly link: Link;
}

/**
 * How the weights turn the cam. `pin`: a pin on the weight in a radial slot of the cam's foot.
 * `profile`: rolling or levered, cam angle = ratio · swing + growth · swing², all in degrees.
 */
export type Link =
  | { readonly form: "pin"; readonly pinMm: number; readonly restAngleDeg: number }
  | { readonly form: "profile"; readonly ratio: number; readonly growthPerDeg: number };

/** On the base, or on the cam's foot at no advance: polar about the shaft's axis. */
export interface Post {
  readonly radiusMm: number;
  readonly angleDeg: number;
}

/** On a weight: polar about its pivot, the angle counted like the weight's own. */
export interface WeightPost {
  readonly weight: number;
  readonly fromPivotMm: number;
  readonly angleDeg: number;
}

/** F = tension + rate · (L − length − slack), nothing while shorter than that. */
export interface Spring {
  readonly rateNPerMm: number;
  /** Hook to hook, unloaded. */
  readonly lengthMm: number;
  /** Initial tension of a close-wound spring. */
  readonly tensionN: number;
  /** Play of a long loop on its post. */
  readonly slackMm: number;
  readonly basePost: Post;
  readonly movingPost: Post | WeightPost;
}

export interface CentrifugalUnit {
  readonly weights: Weights;
  /** First spring first. */
  readonly springs: readonly Spring[];
  readonly stopDeg: number;
  readonly friction: { readonly torqueNmm: number; readonly addedAt1000RpmNmm: number };
  /** Drag of the rubbing block on the cam, against the shaft's rotation. */
  readonly rubbingBlockNmm: number;
  readonly camInertiaGCm2: number;
  readonly dampingNmmS: number;
  /** Cam or weights rusted fast at this advance, or null where they move. */
  readonly seizedDeg: number | null;
  /** Where the weights come home to once they have been further out; they begin at 0. */
  readonly homeDeg: number;
  /** Friction at rest over friction in motion. */
  readonly stickRatio: number;
}

/** What a unit without faults adds to its geometry. */
export const SOUND_UNIT = { seizedDeg: null, homeDeg: 0, stickRatio: 1 } as const;

/** A place in mm, the shaft's axis at the origin, advance counter-clockwise. */
export interface Place {
  readonly x: number;
  readonly y: number;
}

/** Where everything stands at one advance, for drawings and for the springs' lengths. */
export interface Places {
  readonly pivots: readonly Place[];
  readonly centres: readonly Place[];
  /** Where pins on the weights stand in the cam's slots; none where the link is a profile. */
  readonly pins: readonly Place[];
  readonly springs: readonly { readonly base: Place; readonly moving: Place }[];
}

/** Forces at one advance, about the cam: SI units. */
export interface Forces {
  /** Half the slope of Σ m·r² over the advance: centrifugal torque = this × ω². kg m². */
  readonly leverKgM2: number;
  /** Torque of the springs towards no advance. N m. */
  readonly restoringNm: number;
  readonly inertiaKgM2: number;
}

const RAD = Math.PI / 180;
const SLOPE_STEP_RAD = 1e-5;

/** Swing of the weights from rest, in radians, at an advance in radians. */
export function swingAt(weights: Weights, advanceRad: number): number {
  const { link } = weights;
  if (link.form === "profile") {
    const growth = link.growthPerDeg / RAD;
    if (growth === 0) return advanceRad / link.ratio;
    return (Math.sqrt(link.ratio ** 2 + 4 * growth * advanceRad) - link.ratio) / (2 * growth);
  }
  const rest = link.restAngleDeg * RAD;
  const goal = polarOfPin(weights.pivotMm, link.pinMm, rest) + advanceRad;
  // Newton from rest: the pin's polar angle grows smoothly up to the tangent that the schema keeps out.
  let swing = 0;
  for (let i = 0; i < 30; i++) {
    const error = polarOfPin(weights.pivotMm, link.pinMm, rest + swing) - goal;
    if (Math.abs(error) < 1e-13) break;
    swing -= error / polarSlope(weights.pivotMm, link.pinMm, rest + swing);
  }
  return swing;
}

/** Slope of the swing over the advance. */
export function swingSlopeAt(weights: Weights, swingRad: number): number {
  const { link } = weights;
  if (link.form === "profile") {
    return 1 / (link.ratio + (2 * link.growthPerDeg * swingRad) / RAD);
  }
  return 1 / polarSlope(weights.pivotMm, link.pinMm, link.restAngleDeg * RAD + swingRad);
}

/** How far a pin can turn the cam, in degrees: up to the tangent from the shaft's axis. */
export function pinReachDeg(pivotMm: number, link: Extract<Link, { form: "pin" }>): number {
  if (link.pinMm >= pivotMm) return 0;
  const tangentRad = Math.acos(link.pinMm / pivotMm);
  const restRad = link.restAngleDeg * RAD;
  if (restRad >= tangentRad) return 0;
  const { pinMm } = link;
  return (polarOfPin(pivotMm, pinMm, tangentRad) - polarOfPin(pivotMm, pinMm, restRad)) / RAD;
}

/** How far a profile can turn the cam, in degrees, before it turns it back. */
export function profileReachDeg(link: Extract<Link, { form: "profile" }>): number {
  return link.growthPerDeg >= 0 ? Infinity : link.ratio ** 2 / (-4 * link.growthPerDeg);
}

function polarOfPin(pivotMm: number, pinMm: number, angleRad: number): number {
  return Math.atan2(pinMm * Math.sin(angleRad), pivotMm - pinMm * Math.cos(angleRad));
}

function polarSlope(pivotMm: number, pinMm: number, angleRad: number): number {
  const projected = pivotMm * Math.cos(angleRad);
  const squared = pivotMm ** 2 + pinMm ** 2 - 2 * pinMm * projected;
  return (pinMm * projected - pinMm ** 2) / squared;
}

function polar(radius: number, angleRad: number): Place {
  return { x: radius * Math.cos(angleRad), y: radius * Math.sin(angleRad) };
}

/** A place on a weight, `fromPivotMm` away from its pivot at `angleRad` from the line to the axis. */
function onWeight(weights: Weights, weight: number, fromPivotMm: number, angleRad: number): Place {
  const pivotRad = (weight / weights.count) * 2 * Math.PI;
  const pivot = polar(weights.pivotMm, pivotRad);
  const arm = polar(fromPivotMm, pivotRad + Math.PI - angleRad);
  return { x: pivot.x + arm.x, y: pivot.y + arm.y };
}

function movingEnd(unit: CentrifugalUnit, spring: Spring, advanceRad: number): Place {
  const { movingPost: post } = spring;
  if ("radiusMm" in post) return polar(post.radiusMm, post.angleDeg * RAD + advanceRad);
  const angleRad = post.angleDeg * RAD + swingAt(unit.weights, advanceRad);
  return onWeight(unit.weights, post.weight, post.fromPivotMm, angleRad);
}

/** Places of pivots, centres of mass and spring ends at an advance in degrees. */
export function placesAt(unit: CentrifugalUnit, advanceDeg: number): Places {
  const { weights } = unit;
  const advanceRad = advanceDeg * RAD;
  const { link } = weights;
  const swing = swingAt(weights, advanceRad);
  const angleRad = weights.restAngleDeg * RAD + swing;
  const numbers = Array.from({ length: weights.count }, (_, i) => i);
  return {
    pivots: numbers.map((i) => onWeight(weights, i, 0, 0)),
    centres: numbers.map((i) => onWeight(weights, i, weights.centreMm, angleRad)),
    pins:
      link.form === "profile"
        ? []
        : numbers.map((i) => onWeight(weights, i, link.pinMm, link.restAngleDeg * RAD + swing)),
    springs: unit.springs.map((spring) => ({
      base: polar(spring.basePost.radiusMm, spring.basePost.angleDeg * RAD),
      moving: movingEnd(unit, spring, advanceRad),
    })),
  };
}

/** Post to post, in mm, at an advance in radians. */
function springLengthMm(unit: CentrifugalUnit, spring: Spring, advanceRad: number): number {
  const base = polar(spring.basePost.radiusMm, spring.basePost.angleDeg * RAD);
  const moving = movingEnd(unit, spring, advanceRad);
  return Math.hypot(moving.x - base.x, moving.y - base.y);
}

/** Pull of a spring in newtons at a length from post to post. */
export function springLoadN(spring: Spring, lengthMm: number): number {
  const stretchMm = lengthMm - spring.lengthMm - spring.slackMm;
  return stretchMm <= 0 ? 0 : spring.tensionN + spring.rateNPerMm * stretchMm;
}

/** Forces on the cam at an advance in degrees. */
export function forcesAt(unit: CentrifugalUnit, advanceDeg: number): Forces {
  const { weights } = unit;
  const advanceRad = advanceDeg * RAD;
  const swing = swingAt(weights, advanceRad);
  const slope = swingSlopeAt(weights, swing);
  const massKg = (weights.count * weights.massG) / 1000;
  const angleRad = weights.restAngleDeg * RAD + swing;
  // Centrifugal moment about the pivot: m·ω²·p·g·sin ψ; mm² to m² is a factor of 1e-6.
  const lever = massKg * weights.pivotMm * weights.centreMm * Math.sin(angleRad) * 1e-6 * slope;
  const gyration2 = weights.centreMm ** 2 + weights.gyrationMm ** 2;
  let restoringNm = 0;
  for (const spring of unit.springs) {
    const loadN = springLoadN(spring, springLengthMm(unit, spring, advanceRad));
    const beyond = springLengthMm(unit, spring, advanceRad + SLOPE_STEP_RAD);
    const before = springLengthMm(unit, spring, advanceRad - SLOPE_STEP_RAD);
    restoringNm += (loadN * (beyond - before)) / (2 * SLOPE_STEP_RAD) / 1000;
  }
  return {
    leverKgM2: lever,
    restoringNm,
    inertiaKgM2: unit.camInertiaGCm2 * 1e-7 + massKg * gyration2 * 1e-6 * slope ** 2,
  };
}

/** Friction of a part in terms of ω²: f0 + f1·ω². N m and N m s². */
export function frictionTerms(unit: CentrifugalUnit): { fixedNm: number; perOmega2: number } {
  const omega = (1000 * Math.PI) / 30;
  return {
    fixedNm: unit.friction.torqueNmm / 1000,
    perOmega2: unit.friction.addedAt1000RpmNmm / 1000 / omega ** 2,
  };
}

/**
 * ω² at which the part stands where `restoringNm` meets the centrifugal torque `lever` · ω²:
 * lever · ω² = restoring ± (f0 + f1·ω²), + with speed rising. Any coordinate and lever will do.
 */
export function balanceOmega2(
  lever: number,
  restoringNm: number,
  friction: { readonly fixedNm: number; readonly perOmega2: number },
  branch: "rising" | "falling",
): number {
  const sign = branch === "rising" ? 1 : -1;
  return (restoringNm + sign * friction.fixedNm) / (lever - sign * friction.perOmega2);
}

/** Distributor rpm at which the cam stands at `advanceDeg`, turning the right way. */
export function balanceRpm(
  unit: CentrifugalUnit,
  advanceDeg: number,
  branch: "rising" | "falling",
): number {
  const { leverKgM2, restoringNm } = forcesAt(unit, advanceDeg);
  const heldBackNm = restoringNm + unit.rubbingBlockNmm / 1000;
  const omega2 = balanceOmega2(leverKgM2, heldBackNm, frictionTerms(unit), branch);
  return (Math.sqrt(Math.max(0, omega2)) * 30) / Math.PI;
}
