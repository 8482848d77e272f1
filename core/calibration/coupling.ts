// What the rig's coupling adds once a turn: the unit is measured, re-seated half a turn round and measured again. Pure.
import { wrap180 } from "../angles/lobes.ts";
import { meanAndSpread } from "../angles/statistics.ts";
import { BobweightError } from "../errors.ts";
import { chiSquareLimit, type Fit, fitLinear, inflation } from "./leastSquares.ts";

/** One reading in one seating, lobe by lobe in the order they pass. */
export interface LobePlaces {
  /** Where each lobe fires, in degrees after the index. */
  readonly anglesDeg: readonly number[];
  /** Each lobe's deviation from its nominal place, later positive, the mean of all removed. */
  readonly deviationsDeg: readonly number[];
}

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
  /** How far the second seating was from half a turn. */
  readonly offHalfTurnDeg: number;
  readonly chiSquare: number;
}

const LOBES_MIN = 3;
const READINGS_MIN = 2;
/** Share of the lobe spacing by which the second seating may be off half a turn before lobes are mixed up. */
const SEAT_SHARE = 0.35;
/** A misfit below this goes into the uncertainty rather than being refused. An assumption, no source. */
const MATERIAL_DEG = 0.2;

interface Seating {
  readonly anglesDeg: readonly number[];
  readonly deviationsDeg: readonly number[];
}

/**
 * What stays at its place after the index is the rig's; what went round with the lobes is the unit's.
 * With R·cos(θ − φ) of the rig, a lobe's deviation changes by R·(cos(θ₁ − φ) − cos(θ₂ − φ)) from seat
 * to seat: linear in R·cos φ and R·sin φ. One lobe has no deviation to compare; two have one between
 * them, which tells the run-out along their own line only.
 *
 * @throws CHECK_TOO_LITTLE, CHECK_DOUBTFUL
 */
export function estimateCoupling(
  before: readonly LobePlaces[],
  after: readonly LobePlaces[],
): CouplingEstimate {
  const lobes = before[0]?.anglesDeg.length ?? 0;
  checkEnough(lobes, Math.min(before.length, after.length));
  const first = averaged(before);
  const { seating: second, offHalfTurnDeg } = matched(first, averaged(after));
  const noise = scatter([before, after]);
  const columns = (angleOf: (deg: number) => number): number[] => {
    const at = (seating: Seating) => centred(seating.anglesDeg.map(angleOf));
    const [one, two] = [at(first), at(second)];
    return one.map((value, lobe) => value - (two[lobe] as number));
  };
  const cosines = columns((deg) => Math.cos(radians(deg)));
  const sines = columns((deg) => Math.sin(radians(deg)));
  const changes = first.deviationsDeg.map(
    (deviation, lobe) => deviation - (second.deviationsDeg[lobe] as number),
  );
  const fit = fitLinear(
    cosines.map((cosine, lobe) => [cosine, sines[lobe] as number]),
    changes,
    changes.map(() => noise.standardUncertaintyDeg),
  );
  if (fit === null) throw tooLittle(`The ${lobes} lobes stand so that they do not tell.`);
  return {
    ...told(fit, lobes, noise.degreesOfFreedom),
    unit: unitsOwn(first, fit),
    offHalfTurnDeg,
  };
}

function told(fit: Fit, lobes: number, noiseDegreesOfFreedom: number) {
  // The deviations of each seating add up to nothing, so one of them tells nothing new.
  const degreesOfFreedom = lobes - LOBES_MIN;
  const honest = { ...fit, degreesOfFreedom };
  const worstDeg = Math.max(...fit.residuals.map(Math.abs));
  if (
    degreesOfFreedom > 0 &&
    fit.chiSquare > chiSquareLimit(degreesOfFreedom) &&
    worstDeg > MATERIAL_DEG
  ) {
    throw new BobweightError(
      "CHECK_DOUBTFUL",
      `The lobes moved by up to ${worstDeg.toFixed(2)}° from seat to seat in a way that no run-out explains. Was the unit clamped alike both times, its shaft without play?`,
    );
  }
  const [p = 0, q = 0] = fit.coefficients;
  const [[cpp = 0, cpq = 0] = [], [, cqq = 0] = []] = fit.covariance;
  // Larger eigenvalue of the covariance of the two.
  const worse = (cpp + cqq) / 2 + Math.hypot((cpp - cqq) / 2, cpq);
  const widened = inflation(honest);
  return {
    ...polar(p, q),
    standardUncertaintyDeg: Math.sqrt(worse) * widened,
    degreesOfFreedom: widened > 1 ? degreesOfFreedom : noiseDegreesOfFreedom,
    chiSquare: fit.chiSquare,
  };
}

/** First harmonic of what is left in the first seating once the rig's is taken off. */
function unitsOwn(first: Seating, fit: Fit): RunOut {
  const [p = 0, q = 0] = fit.coefficients;
  const cosines = centred(first.anglesDeg.map((deg) => Math.cos(radians(deg))));
  const sines = centred(first.anglesDeg.map((deg) => Math.sin(radians(deg))));
  const own = first.deviationsDeg.map(
    (deviation, lobe) => deviation - p * (cosines[lobe] as number) - q * (sines[lobe] as number),
  );
  const rows = cosines.map((cosine, lobe) => [cosine, sines[lobe] as number]);
  const [a = 0, b = 0] =
    fitLinear(
      rows,
      own,
      own.map(() => 1),
    )?.coefficients ?? [];
  return polar(a, b);
}

function polar(cosinePart: number, sinePart: number): RunOut {
  const phaseDeg = (Math.atan2(sinePart, cosinePart) * 180) / Math.PI;
  return { runOutDeg: Math.hypot(cosinePart, sinePart), phaseDeg: (phaseDeg + 360) % 360 };
}

/** Means of one seating's readings, lobe by lobe. The angles of one lobe lie close together. */
function averaged(readings: readonly LobePlaces[]): Seating {
  const first = readings[0] as LobePlaces;
  const over = (of: (reading: LobePlaces) => number) => meanAndSpread(readings.map(of));
  return {
    anglesDeg: first.anglesDeg.map((angle, lobe) => {
      const { mean } = over((reading) => wrap180((reading.anglesDeg[lobe] as number) - angle));
      return angle + mean;
    }),
    deviationsDeg: first.deviationsDeg.map(
      (_, lobe) => over((reading) => reading.deviationsDeg[lobe] as number).mean,
    ),
  };
}

/**
 * The second seating with its lobes in the order of the first. Which lobe is called the first depends
 * on the index, so lobes are known again by their place: half a turn on.
 */
function matched(
  first: Seating,
  second: Seating,
): { readonly seating: Seating; readonly offHalfTurnDeg: number } {
  const lobes = first.anglesDeg.length;
  const offsAt = (shift: number) =>
    first.anglesDeg.map((angle, lobe) =>
      wrap180((second.anglesDeg[(lobe + shift) % lobes] as number) - angle - 180),
    );
  let best = { shift: 0, offDeg: Number.POSITIVE_INFINITY };
  for (let shift = 0; shift < lobes; shift++) {
    const offDeg = meanAndSpread(offsAt(shift)).mean;
    if (Math.abs(offDeg) < Math.abs(best.offDeg)) best = { shift, offDeg };
  }
  const limitDeg = (SEAT_SHARE * 360) / lobes;
  if (Math.max(...offsAt(best.shift).map(Math.abs)) > limitDeg) {
    throw new BobweightError(
      "CHECK_DOUBTFUL",
      `The second seating stands ${Math.abs(best.offDeg).toFixed(0)}° from half a turn; with ${lobes} lobes it must be within ${limitDeg.toFixed(0)}°.`,
    );
  }
  const moved = (values: readonly number[]) =>
    values.map((_, lobe) => values[(lobe + best.shift) % lobes] as number);
  return {
    seating: { anglesDeg: moved(second.anglesDeg), deviationsDeg: moved(second.deviationsDeg) },
    offHalfTurnDeg: best.offDeg,
  };
}

/** Keeps a weight finite where repeated readings agree to the last digit. */
const SCATTER_DEG_MIN = 1e-6;

/**
 * Standard uncertainty of a lobe's place changing from seat to seat, from the scatter of repeated
 * readings. Of a turn's deviations, which add up to nothing, lobes − 1 are free.
 */
function scatter(seatings: readonly (readonly LobePlaces[])[]) {
  let variance = 0;
  let degreesOfFreedom = 0;
  for (const readings of seatings) {
    const lobes = readings[0]?.deviationsDeg.length ?? 0;
    const freedom = (readings.length - 1) * (lobes - 1);
    let squares = 0;
    for (let lobe = 0; lobe < lobes; lobe++) {
      const deviations = readings.map((reading) => reading.deviationsDeg[lobe] as number);
      squares += meanAndSpread(deviations).spread ** 2 * (readings.length - 1);
    }
    variance += squares / freedom / readings.length;
    degreesOfFreedom += freedom;
  }
  return {
    standardUncertaintyDeg: Math.max(Math.sqrt(variance), SCATTER_DEG_MIN),
    degreesOfFreedom,
  };
}

function checkEnough(lobes: number, readings: number): void {
  if (lobes === 1) {
    throw tooLittle("With one lobe there is nothing to compare: every deviation is 0.");
  }
  if (lobes < LOBES_MIN) {
    throw tooLittle(
      "Two lobes tell the run-out along their own line only, not across it, so neither its size nor its place.",
    );
  }
  if (readings < READINGS_MIN) {
    throw tooLittle(
      `${readings} readings of a seating were taken; each needs ${READINGS_MIN} or more.`,
    );
  }
}

function tooLittle(what: string): BobweightError {
  return new BobweightError("CHECK_TOO_LITTLE", what);
}

function centred(values: readonly number[]): number[] {
  const { mean } = meanAndSpread(values);
  return values.map((value) => value - mean);
}

function radians(deg: number): number {
  return (deg * Math.PI) / 180;
}
