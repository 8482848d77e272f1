// What the rig's coupling adds once a turn: the unit is measured, re-seated half a turn round and measured again. Pure.
import { meanAndSpread } from "../angles/statistics.ts";
import { BobweightError } from "../errors.ts";
import { type AtSpeed, bySpeed, centred, type LobePlaces, matched } from "./seating.ts";
import { chiSquareLimit, fitWeighted, inflation, type WeightedFit } from "./weightedFit.ts";

/** `runOutDeg · cos(angle − phaseDeg)` later, angle in degrees after the index. */
export interface RunOut {
  readonly runOutDeg: number;
  readonly phaseDeg: number;
}

export interface CouplingEstimate extends RunOut {
  /** Of the run-out in the worse of its two directions. */
  readonly standardUncertaintyDeg: number;
  readonly degreesOfFreedom: number;
  /** The unit's own once a turn, as it stood in the first seating. */
  readonly unit: RunOut;
  /** The drive's once a turn at 1000 rpm, as far as the pickup does not follow it. */
  readonly rippleAt1000Rpm: RunOut;
  /** How far the second seating was from half a turn. */
  readonly offHalfTurnDeg: number;
  readonly chiSquare: number;
}

const LOBES_MIN = 3;
const READINGS_MIN = 2;
/** Nearer together, the coupling's run-out cannot be told from the drive's ripple. */
const SPEED_RATIO_MIN = 2;
/** A misfit below this goes into the uncertainty rather than being refused. An assumption, no source. */
const MATERIAL_DEG = 0.2;
/**
 * What stays at its place after the index is the rig's; what went round with the lobes is the unit's.
 * With R·cos(θ − φ) of the rig, a lobe's deviation changes by R·(cos(θ₁ − φ) − cos(θ₂ − φ)) from seat
 * to seat: linear in R·cos φ and R·sin φ. Ripple of the drive once a turn stays with the rig too where
 * pickup edges are few, but falls with the square of speed, so readings at two speeds or more tell it
 * apart. One lobe has no deviation to compare; two have one between them, which tells the run-out
 * along their own line only.
 *
 * @throws CHECK_TOO_LITTLE, CHECK_DOUBTFUL
 */
export function estimateCoupling(
  before: readonly LobePlaces[],
  after: readonly LobePlaces[],
): CouplingEstimate {
  const first = bySpeed(before);
  checkEnough(first, bySpeed(after));
  const { seating: second, offHalfTurnDeg } = matched(first, bySpeed(after));
  const columns = first.flatMap((at, i) => columnsOf(at, second[i] as AtSpeed));
  const changes = first.flatMap((at, i) =>
    at.deviationsDeg.map((deviation, lobe) => deviation - (second[i]?.deviationsDeg[lobe] ?? 0)),
  );
  const fit = fitWeighted(
    columns,
    changes,
    first.flatMap((at, i) => at.deviationsDeg.map(() => scatter(at, second[i] as AtSpeed))),
  );
  if (fit === null) throw tooLittle("The lobes stand so that they do not tell.");
  // The deviations of each seating add up to nothing, so at each speed one of them tells nothing new.
  const honest = { ...fit, degreesOfFreedom: fit.degreesOfFreedom - first.length };
  checkFit(honest);
  const [p = 0, q = 0, rippleP = 0, rippleQ = 0] = fit.coefficients;
  const widened = inflation(honest);
  return {
    ...polar(p, q),
    standardUncertaintyDeg: worseDirection(fit) * widened,
    degreesOfFreedom: honest.degreesOfFreedom,
    unit: unitsOwn(first.at(-1) as AtSpeed, fit),
    rippleAt1000Rpm: polar(rippleP, rippleQ),
    offHalfTurnDeg,
    chiSquare: fit.chiSquare,
  };
}

/** Rows of R·cos φ, R·sin φ, and the same of the ripple at 1000 rpm, lobe by lobe. */
function columnsOf(first: AtSpeed, second: AtSpeed): number[][] {
  const one = directions(first);
  const two = directions(second);
  const ripple = (1000 / first.targetRpm) ** 2;
  return one.map(([cosine, sine], lobe) => {
    const [otherCosine, otherSine] = two[lobe] as readonly [number, number];
    const [c, s] = [cosine - otherCosine, sine - otherSine];
    return [c, s, ripple * c, ripple * s];
  });
}

/** Cosine and sine of each lobe's place, the mean of all removed as it is from deviations. */
function directions({ anglesDeg }: AtSpeed): (readonly [number, number])[] {
  const radians = anglesDeg.map((deg) => (deg * Math.PI) / 180);
  const cosines = centred(radians.map(Math.cos));
  const sines = centred(radians.map(Math.sin));
  return cosines.map((cosine, lobe) => [cosine, sines[lobe] as number]);
}

/**
 * Standard uncertainty of a lobe's place changing from seat to seat. Of a reading's deviations, which
 * add up to nothing, lobes − 1 are free.
 */
function scatter(first: AtSpeed, second: AtSpeed): number {
  const ofMean = ({ readings }: AtSpeed) => {
    const lobes = readings[0]?.deviationsDeg.length ?? 0;
    const squares = Array.from({ length: lobes }, (_, lobe) => {
      const { spread } = meanAndSpread(readings.map((one) => one.deviationsDeg[lobe] as number));
      return spread ** 2;
    });
    return squares.reduce((sum, one) => sum + one, 0) / (lobes - 1) / readings.length;
  };
  return Math.hypot(
    Math.sqrt(ofMean(first) + ofMean(second)),
    first.hiddenStandardUncertaintyDeg,
    second.hiddenStandardUncertaintyDeg,
  );
}

function checkFit(fit: WeightedFit): void {
  const worstDeg = Math.max(...fit.residuals.map(Math.abs));
  if (fit.chiSquare <= chiSquareLimit(fit.degreesOfFreedom) || worstDeg <= MATERIAL_DEG) return;
  throw new BobweightError(
    "CHECK_DOUBTFUL",
    `The lobes moved by up to ${worstDeg.toFixed(2)}° from seat to seat in a way that no run-out explains. Was the unit clamped alike both times, its shaft without play?`,
  );
}

/** Square root of the larger eigenvalue of the covariance of the two directions. */
function worseDirection({ covariance }: WeightedFit): number {
  const [[cpp = 0, cpq = 0] = [], [, cqq = 0] = []] = covariance;
  return Math.sqrt((cpp + cqq) / 2 + Math.hypot((cpp - cqq) / 2, cpq));
}

/** First harmonic of what is left in the first seating once the rig's is taken off. */
function unitsOwn(first: AtSpeed, fit: WeightedFit): RunOut {
  const [p = 0, q = 0, rippleP = 0, rippleQ = 0] = fit.coefficients;
  const ripple = (1000 / first.targetRpm) ** 2;
  const places = directions(first);
  const own = places.map(
    ([cosine, sine], lobe) =>
      (first.deviationsDeg[lobe] as number) -
      (p + ripple * rippleP) * cosine -
      (q + ripple * rippleQ) * sine,
  );
  const alike = own.map(() => 1);
  const [a = 0, b = 0] = fitWeighted(places, own, alike)?.coefficients ?? [];
  return polar(a, b);
}

function polar(cosinePart: number, sinePart: number): RunOut {
  const phaseDeg = (Math.atan2(sinePart, cosinePart) * 180) / Math.PI;
  return { runOutDeg: Math.hypot(cosinePart, sinePart), phaseDeg: (phaseDeg + 360) % 360 };
}

function checkEnough(first: readonly AtSpeed[], second: readonly AtSpeed[]): void {
  const lobes = first[0]?.anglesDeg.length ?? 0;
  if (lobes === 1) {
    throw tooLittle("With one lobe there is nothing to compare: every deviation is 0.");
  }
  if (lobes < LOBES_MIN) {
    throw tooLittle(
      "Two lobes tell the run-out along their own line only, not across it, so neither its size nor its place.",
    );
  }
  const speeds = first.map(({ targetRpm }) => targetRpm);
  const spanned = Math.max(...speeds) / Math.min(...speeds) >= SPEED_RATIO_MIN;
  const alike = first.every(({ targetRpm }, i) => second[i]?.targetRpm === targetRpm);
  if (!spanned || !alike || second.length !== first.length) {
    throw tooLittle(
      `Both seatings are read at the same two speeds or more, the highest at least ${SPEED_RATIO_MIN} times the lowest.`,
    );
  }
  const readings = Math.min(...[...first, ...second].map((at) => at.readings.length));
  if (readings < READINGS_MIN) {
    throw tooLittle(
      `${readings} readings were taken at a speed; each needs ${READINGS_MIN} or more.`,
    );
  }
}

function tooLittle(what: string): BobweightError {
  return new BobweightError("CHECK_TOO_LITTLE", what);
}
