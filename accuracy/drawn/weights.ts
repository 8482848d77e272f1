// Random centrifugal units of plausible size: geometry is drawn, springs are made for a start, a knee and an end.
import {
  balanceRpm,
  type CentrifugalUnit,
  forcesAt,
  type Link,
  type Post,
  pinReachDeg,
  placesAt,
  profileReachDeg,
  SOUND_UNIT,
  type Spring,
  type Weights,
} from "../../sim/mechanism.ts";
import type { Draw } from "../draw.ts";

/** What passes for a car's distributor (ranges: common practice, no source). Distributor rpm and degrees. */
const START_RPM = { min: 150, max: 900 } as const;
const END_RPM_MAX = 3000;
const TRAVEL_DEG = { min: 5, max: 20 } as const;
const TRIES = 1000;
const RAD_S_PER_RPM = Math.PI / 30;

/** @throws where no plausible unit comes up, which would be a fault of the ranges */
export function drawWeights(draw: Draw): CentrifugalUnit {
  for (let i = 0; i < TRIES; i++) {
    const unit = attempt(draw);
    if (unit !== null && isPlausible(unit)) return unit;
  }
  throw new Error("no plausible unit among the draws");
}

/** Distributor rpm at which the weights begin to move, speed rising, and at which they meet the stop. */
export function rangeRpm(unit: CentrifugalUnit): { readonly start: number; readonly end: number } {
  return {
    start: balanceRpm(unit, 0, "rising"),
    end: balanceRpm(unit, unit.stopDeg, "rising"),
  };
}

/** Starts and ends where such units do, and needs more speed for every degree more. */
export function isPlausible(unit: CentrifugalUnit): boolean {
  const { start, end } = rangeRpm(unit);
  if (start < START_RPM.min || start > START_RPM.max || end > END_RPM_MAX) return false;
  if (end < 1.3 * start) return false;
  for (const branch of ["rising", "falling"] as const) {
    for (let i = 1; i <= 40; i++) {
      const before = balanceRpm(unit, (unit.stopDeg * (i - 1)) / 40, branch);
      if (balanceRpm(unit, (unit.stopDeg * i) / 40, branch) <= before) return false;
    }
  }
  return balanceRpm(unit, 0, "falling") > 0;
}

function attempt(draw: Draw): CentrifugalUnit | null {
  const stopDeg = draw.uniform(TRAVEL_DEG.min, TRAVEL_DEG.max);
  const weights = drawParts(draw);
  const { link, pivotMm } = weights;
  const reachDeg = link.form === "pin" ? pinReachDeg(pivotMm, link) : profileReachDeg(link);
  if (reachDeg < 1.15 * stopDeg) return null;
  const angleDeg = draw.uniform(0, 120);
  const posts = [drawPosts(draw, angleDeg), drawPosts(draw, angleDeg + 180)] as const;
  const bare = {
    weights,
    springs: [],
    stopDeg,
    friction: { torqueNmm: 0, addedAt1000RpmNmm: 0 },
    rubbingBlockNmm: 0,
    camInertiaGCm2: 50,
    dampingNmmS: 8,
    ...SOUND_UNIT,
  };
  const springs = drawSprings(draw, bare, posts);
  if (springs === null) return null;
  const restNmm = 1000 * forcesAt({ ...bare, springs }, 0).restoringNm;
  const torqueNmm = restNmm * draw.logUniform(0.005, 0.1);
  return {
    ...bare,
    springs,
    friction: { torqueNmm, addedAt1000RpmNmm: torqueNmm * draw.uniform(0.3, 1.5) },
    rubbingBlockNmm: restNmm * draw.uniform(0, 0.08),
  };
}

function drawParts(draw: Draw): Weights {
  const pivotMm = draw.uniform(16, 26);
  const link: Link = draw.chance(0.6)
    ? { form: "pin", pinMm: pivotMm * draw.uniform(0.4, 0.62), restAngleDeg: draw.uniform(3, 12) }
    : { form: "profile", ratio: draw.uniform(0.4, 0.9), growthPerDeg: draw.uniform(-0.002, 0.006) };
  return {
    count: 2,
    massG: draw.logUniform(8, 25),
    pivotMm,
    centreMm: draw.uniform(8, 15),
    gyrationMm: draw.uniform(5, 8),
    restAngleDeg: draw.uniform(82, 110),
    link,
  };
}

interface Posts {
  readonly basePost: Post;
  readonly movingPost: Post;
}

function drawPosts(draw: Draw, angleDeg: number): Posts {
  return {
    basePost: { radiusMm: draw.uniform(22, 30), angleDeg },
    movingPost: { radiusMm: draw.uniform(12, 18), angleDeg: angleDeg + draw.uniform(20, 60) },
  };
}

/** Springs that hold the weights in up to a start, to a knee, and let them reach the stop at an end. */
function drawSprings(
  draw: Draw,
  bare: CentrifugalUnit,
  posts: readonly [Posts, Posts],
): readonly Spring[] | null {
  const startRpm = draw.uniform(START_RPM.min, START_RPM.max);
  const endRpm = startRpm * draw.uniform(1.5, 4);
  const two = draw.chance(0.75);
  const knee = two ? draw.uniform(0.3, 0.7) : 1;
  // Of the rise of n² up to the stop, the part below the knee: the first spring works alone there.
  const part = two ? knee * draw.uniform(0.3, 0.85) : 1;
  const kneeRpm = Math.sqrt(startRpm ** 2 + part * (endRpm ** 2 - startRpm ** 2));
  const needed = (deg: number, rpm: number) =>
    forcesAt(bare, deg).leverKgM2 * (rpm * RAD_S_PER_RPM) ** 2;
  const kneeDeg = knee * bare.stopDeg;
  const first = springThrough(bare, posts[0], 0, needed(0, startRpm), [
    kneeDeg,
    needed(kneeDeg, kneeRpm),
  ]);
  if (first === null || !two) return first === null ? null : [first];
  const atStop = forcesAt({ ...bare, springs: [first] }, bare.stopDeg).restoringNm;
  const left = needed(bare.stopDeg, endRpm) - atStop;
  const second = springThrough(bare, posts[1], kneeDeg, 0, [bare.stopDeg, left]);
  if (second === null) return null;
  // The second one's long loop carries nothing up to the knee.
  const slackMm = draw.uniform(0.5, 2);
  return [first, { ...second, lengthMm: second.lengthMm - slackMm, slackMm }];
}

/** The spring on these posts that gives a torque at one advance and another at a second; null for none. */
function springThrough(
  bare: CentrifugalUnit,
  posts: Posts,
  fromDeg: number,
  fromNm: number,
  [toDeg, toNm]: readonly [number, number],
): Spring | null {
  const probe: Spring = { ...posts, rateNPerMm: 1, lengthMm: 1, tensionN: 0, slackMm: 0 };
  const at = (deg: number) => {
    const { base, moving } = placesAt({ ...bare, springs: [probe] }, deg).springs[0] as {
      base: { x: number; y: number };
      moving: { x: number; y: number };
    };
    const lengthMm = Math.hypot(moving.x - base.x, moving.y - base.y);
    // Torque of a pull of 1 N: the probe's own pull is its stretch in newtons.
    const arm = forcesAt({ ...bare, springs: [probe] }, deg).restoringNm / (lengthMm - 1);
    return { lengthMm, arm };
  };
  const from = at(fromDeg);
  const to = at(toDeg);
  if (from.arm <= 0.002 || to.arm <= 0.002) return null;
  const fromN = fromNm / from.arm;
  const rateNPerMm = (toNm / to.arm - fromN) / (to.lengthMm - from.lengthMm);
  const lengthMm = from.lengthMm - fromN / rateNPerMm;
  if (!(rateNPerMm > 0.02) || lengthMm < 6) return null;
  return { ...probe, rateNPerMm, lengthMm };
}
