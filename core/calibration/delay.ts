// The rig's own delay, from a unit whose cam is locked: what still moves with speed is the rig. Pure.
import { BobweightError } from "../errors.ts";
import type { Branch } from "../unit.ts";
import { chiSquareLimit, fitWeighted, inflation, type WeightedFit } from "./weightedFit.ts";

/** One reading of the locked cam. Its uncertainty is what differs from reading to reading: spread and tick. */
export interface LockedReading {
  readonly branch: Branch | null;
  /** What the rig was asked for; a rising and a falling reading at the same target are held against each other. */
  readonly targetRpm: number;
  readonly speedRpm: number;
  /** Against the reference reading, in distributor degrees. */
  readonly advanceDeg: number;
  readonly standardUncertaintyDeg: number;
}

export interface DelayEstimate {
  readonly delayUs: number;
  readonly standardUncertaintyUs: number;
  readonly degreesOfFreedom: number;
  /** What ripple of the drive seems to turn the angle by at 1000 rpm: falls with the square of speed. */
  readonly rippleAt1000RpmDeg: number;
  readonly chiSquare: number;
  /** Largest distance of a reading from the fitted line. */
  readonly worstResidualDeg: number;
}

/** Degrees that the shaft turns in a microsecond, per rpm. */
const DEG_PER_US_RPM = 6e-6;
const SPEEDS_MIN = 4;
/** Nearer together, delay and ripple cannot be told apart. */
const SPEED_RATIO_MIN = 3;
/**
 * A misfit of less than this is taken into the uncertainty rather than refused, however clearly it
 * stands out: 0.1° is what 4 µs do at 4,000 rpm. An assumption, no source.
 */
const MATERIAL_DEG = 0.1;
/** A condenser left on delays by some 140 µs; several times that is no delay of a rig. */
const DELAY_US_MAX = 500;
/** Standard uncertainties by which a delay below zero must stand out before it is called impossible. */
const BELOW_ZERO = 3;

/**
 * advance(n) = a − 6e-6 · delayUs · (n − n0) + b · (1/n² − 1/n0²), n in rpm, by weighted least
 * squares. `a` is the error of the reference reading, which all share; the last term is ripple of the
 * drive that few pickup edges do not follow (the angle of a ripple from a fixed torque falls with the
 * square of speed). `readings` hold the reference reading too, as a reading of advance 0.
 *
 * @throws CHECK_TOO_LITTLE; CAM_NOT_LOCKED where no delay could have moved the angle so
 */
export function estimateDelay(readings: readonly LockedReading[]): DelayEstimate {
  const reference = readings[0];
  const speeds = readings.map((reading) => reading.speedRpm);
  const targets = new Set(readings.map((reading) => reading.targetRpm));
  const spanned = Math.max(...speeds) / Math.min(...speeds) >= SPEED_RATIO_MIN;
  if (reference === undefined || targets.size < SPEEDS_MIN || !spanned) throw tooFew(targets.size);
  checkReturns(readings);
  const n0 = reference.speedRpm;
  const fit = fitWeighted(
    readings.map(({ speedRpm: n }) => [
      1,
      -DEG_PER_US_RPM * (n - n0),
      (1000 / n) ** 2 - (1000 / n0) ** 2,
    ]),
    readings.map((reading) => reading.advanceDeg),
    readings.map((reading) => reading.standardUncertaintyDeg),
  );
  if (fit === null) throw tooFew(targets.size);
  checkLine(fit, readings);
  const [, delayUs = 0, rippleAt1000RpmDeg = 0] = fit.coefficients;
  const standardUncertaintyUs = Math.sqrt(fit.covariance[1]?.[1] ?? 0) * inflation(fit);
  checkDelay(delayUs, standardUncertaintyUs, Math.max(...speeds) - n0);
  return {
    delayUs,
    standardUncertaintyUs,
    degreesOfFreedom: fit.degreesOfFreedom,
    rippleAt1000RpmDeg,
    chiSquare: fit.chiSquare,
    worstResidualDeg: Math.max(...fit.residuals.map(Math.abs)),
  };
}

/** A locked cam reads the same with speed falling as it did with speed rising. */
function checkReturns(readings: readonly LockedReading[]): void {
  let chiSquare = 0;
  let pairs = 0;
  let worst = { gapDeg: 0, atRpm: 0 };
  for (const up of readings.filter(({ branch }) => branch === "rising")) {
    const down = readings.find(
      ({ branch, targetRpm }) => branch === "falling" && targetRpm === up.targetRpm,
    );
    if (down === undefined) continue;
    const gapDeg = down.advanceDeg - up.advanceDeg;
    pairs++;
    chiSquare += gapDeg ** 2 / (up.standardUncertaintyDeg ** 2 + down.standardUncertaintyDeg ** 2);
    if (Math.abs(gapDeg) > Math.abs(worst.gapDeg)) worst = { gapDeg, atRpm: up.targetRpm };
  }
  if (pairs === 0 || chiSquare <= chiSquareLimit(pairs)) return;
  if (Math.abs(worst.gapDeg) <= MATERIAL_DEG) return;
  throw notLocked(
    `at ${worst.atRpm} rpm the angle was ${worst.gapDeg.toFixed(2)}° from one way to the other, rising and falling`,
  );
}

function checkLine(fit: WeightedFit, readings: readonly LockedReading[]): void {
  const sizes = fit.residuals.map(Math.abs);
  const worstDeg = Math.max(...sizes);
  if (fit.chiSquare <= chiSquareLimit(fit.degreesOfFreedom) || worstDeg <= MATERIAL_DEG) return;
  const at = readings[sizes.indexOf(worstDeg)]?.targetRpm;
  throw notLocked(
    `the angle does not follow speed in a straight line: at ${at} rpm it is ${worstDeg.toFixed(2)}° off`,
  );
}

function checkDelay(delayUs: number, standardUncertaintyUs: number, spanRpm: number): void {
  const moved = Math.abs(delayUs) * DEG_PER_US_RPM * spanRpm;
  if (delayUs < -BELOW_ZERO * standardUncertaintyUs && moved > MATERIAL_DEG) {
    throw notLocked(
      `the spark came ${moved.toFixed(2)}° earlier as speed rose, and a delay makes it later`,
    );
  }
  if (delayUs > DELAY_US_MAX) {
    throw notLocked(
      `the spark came ${moved.toFixed(2)}° later as speed rose, ${delayUs.toFixed(0)} µs, more than any delay of a rig`,
    );
  }
}

function notLocked(what: string): BobweightError {
  return new BobweightError("CAM_NOT_LOCKED", `The cam was not locked: ${what}.`);
}

function tooFew(speeds: number): BobweightError {
  return new BobweightError(
    "CHECK_TOO_LITTLE",
    `${speeds} speeds were read; the delay needs ${SPEEDS_MIN} or more, the highest at least ${SPEED_RATIO_MIN} times the lowest.`,
  );
}
