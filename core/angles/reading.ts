// Many turns to one reading: robust mean, spread, what was set aside, and the standard uncertainty.
import type { VacuumLine } from "../codec/rigLines.ts";
import type { Reading } from "../documents.ts";
import { type Turn, ticksBetween } from "../turns.ts";
import type { LobeEvent, TrackedTurn } from "./lobes.ts";

/** What the rig's own errors are taken to be. All standard uncertainties (JCGM 100). */
export interface RigErrors {
  readonly tickHz: number;
  readonly tickPpm: number;
  readonly vacuumSensorPa: number;
  /** Of the fixed delay from the unit's firing to the rig's tick. */
  readonly triggerDelayUs: number;
  /** With one index a turn, ripple in step with the lobes cannot be seen. */
  readonly indexOnly: boolean;
}

/**
 * What ripple of the drive may hide on a rig with one index a turn, at 1000 rpm: an assumption, no
 * source. From a fixed torque the angle of a ripple falls with the square of speed.
 */
const UNSEEN_RIPPLE_DEG = 0.005;
const UNSEEN_RIPPLE_DEG_MAX = 0.5;

/** At the reference's own speed and angle the same ripple stands in both and cancels. */
const SAME_SPEED = 0.02;
const SAME_ANGLE_DEG = 1;

function unseenRipple(
  speedRpm: number,
  advanceDeg: number,
  reference: Reference,
  { indexOnly }: RigErrors,
): number {
  const sameSpeed = Math.abs(speedRpm / reference.speedRpm - 1) < SAME_SPEED;
  if (!indexOnly || (sameSpeed && Math.abs(advanceDeg) < SAME_ANGLE_DEG)) return 0;
  const at = (rpm: number) =>
    Math.min(UNSEEN_RIPPLE_DEG_MAX, UNSEEN_RIPPLE_DEG * (1000 / rpm) ** 2);
  return Math.hypot(at(speedRpm), at(reference.speedRpm));
}

/** The zero of advance: each lobe's angle at the reference condition, and how well it is known. */
export interface Reference {
  readonly anglesDeg: readonly number[];
  readonly speedRpm: number;
  /** Unseen ripple apart. */
  readonly standardUncertaintyDeg: number;
}

/** Events further than this from their lobe's median, in scaled median deviations, are set aside… */
const OUTLIER_DEVIATIONS = 6;
/** …but never within this, where scatter of a sound unit on a coarse clock would be. */
const OUTLIER_DEG_MIN = 0.3;
/** Scales a median absolute deviation to the standard deviation of a normal distribution. */
const MAD_TO_SIGMA = 1.4826;

interface Sifted {
  /** Kept events a turn, in the order of the turns. */
  readonly turns: readonly (readonly LobeEvent[])[];
  readonly kept: number;
  readonly extra: number;
}

/** Sets aside what stands far from its lobe's median. */
function sift(turns: readonly TrackedTurn[], lobes: number): Sifted {
  const limits: { middle: number; width: number }[] = [];
  for (let lobe = 0; lobe < lobes; lobe++) {
    const advances = turns.flatMap((turn) =>
      turn.events.filter((event) => event.lobe === lobe).map((event) => event.advanceDeg),
    );
    const centre = median(advances);
    const mad = median(advances.map((advance) => Math.abs(advance - centre)));
    const width = Math.max(OUTLIER_DEVIATIONS * MAD_TO_SIGMA * mad, OUTLIER_DEG_MIN);
    limits.push({ middle: centre, width });
  }
  let kept = 0;
  let extra = 0;
  const sifted = turns.map(({ events }) =>
    events.filter((event) => {
      const limit = limits[event.lobe] as { middle: number; width: number };
      const good = Math.abs(event.advanceDeg - limit.middle) <= limit.width;
      if (good) kept++;
      else extra++;
      return good;
    }),
  );
  return { turns: sifted, kept, extra };
}

/** Median; NaN of nothing. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
}

/** Mean and the standard deviation of a single value; deviation 0 for fewer than two values. */
export function meanAndSpread(values: readonly number[]): { mean: number; spread: number } {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  if (n < 2) return { mean, spread: 0 };
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, spread: Math.sqrt(squares / (n - 1)) };
}

/** Shaft speed over the turns, in rpm, from their own periods. */
export function meanSpeedRpm(turns: readonly Turn[], tickHz: number): number {
  const ticks = turns.reduce((sum, turn) => sum + turn.duringTicks, 0);
  return (60 * tickHz * turns.length) / ticks;
}

/** Angle that one tick stands for at a speed, in degrees. */
function tickDeg(speedRpm: number, tickHz: number): number {
  return (6 * speedRpm) / tickHz;
}

/**
 * Angle of the reference reading: mean per lobe and its uncertainty. `turns` tracked against rough
 * angles (findLobes); the mean advance of each lobe moves the rough angle to the mean one.
 */
export function referenceFrom(
  roughDeg: readonly number[],
  turns: readonly TrackedTurn[],
  errors: RigErrors,
): Reference {
  const sifted = sift(turns, roughDeg.length);
  const anglesDeg = roughDeg.map((rough, lobe) => {
    const advances = sifted.turns.flatMap((events) =>
      events.filter((event) => event.lobe === lobe).map((event) => event.advanceDeg),
    );
    return advances.length === 0 ? rough : rough - meanAndSpread(advances).mean;
  });
  const speedRpm = meanSpeedRpm(
    turns.map(({ turn }) => turn),
    errors.tickHz,
  );
  const spread = turnSpread(sifted);
  const repeatability = spread / Math.sqrt(Math.max(1, turns.length));
  const tick = tickDeg(speedRpm, errors.tickHz) / Math.sqrt(12);
  return { anglesDeg, speedRpm, standardUncertaintyDeg: Math.hypot(repeatability, tick) };
}

/** Spread of the turns' mean advances, lobes' own offsets removed. */
function turnSpread(sifted: Sifted): number {
  const means = sifted.turns
    .filter((events) => events.length > 0)
    .map((events) => meanAndSpread(events.map((event) => event.advanceDeg)).mean);
  return meanAndSpread(means).spread;
}

/**
 * One reading from turns at a steady condition. Null where no event was usable.
 * Lobes' nominal angles give each lobe's deviation; `vacuums` are those sensed during the turns.
 */
export function readingFrom(
  turns: readonly TrackedTurn[],
  reference: Reference,
  lobeAnglesDeg: readonly number[],
  vacuums: readonly VacuumLine[],
  errors: RigErrors,
  hasDwell: boolean,
): Reading | null {
  const firstTurn = turns[0]?.turn;
  const lastTurn = turns[turns.length - 1]?.turn;
  if (firstTurn === undefined || lastTurn === undefined) return null;
  const whole = turns.filter(({ turn }) => !turn.lost);
  const lobes = lobeAnglesDeg.length;
  const sifted = sift(whole, lobes);
  if (sifted.kept === 0) return null;
  const perLobe = lobeAnglesDeg.map((_, lobe) =>
    sifted.turns.flatMap((events) =>
      events.filter((event) => event.lobe === lobe).map((event) => event.advanceDeg),
    ),
  );
  const lobeMeans = perLobe.filter((one) => one.length > 0).map((one) => meanAndSpread(one).mean);
  const advanceDeg = meanAndSpread(lobeMeans).mean;
  const speedRpm = meanSpeedRpm(
    turns.map(({ turn }) => turn),
    errors.tickHz,
  );
  const spreadDeg = turnSpread(sifted);
  const vacuum = meanAndSpread(vacuums.map((line) => line.vacuumPa));
  const dwells = hasDwell
    ? sifted.turns
        .flatMap((events) => events.map((event) => event.dwellDeg))
        .filter(Number.isFinite)
    : [];
  return {
    speedRpm,
    speedStandardUncertaintyRpm: speedUncertainty(turns, speedRpm, errors),
    vacuumPa: vacuums.length === 0 ? null : vacuum.mean,
    vacuumStandardUncertaintyPa:
      vacuums.length === 0
        ? 0
        : Math.hypot(errors.vacuumSensorPa, vacuum.spread / Math.sqrt(vacuums.length)),
    advanceDeg,
    standardUncertaintyDeg: Math.hypot(
      angleUncertainty(speedRpm, spreadDeg, whole.length, reference, errors),
      unseenRipple(speedRpm, advanceDeg, reference, errors),
    ),
    spreadDeg,
    turns: turns.length,
    setAside: {
      lostTurns: turns.length - whole.length,
      missingEvents: missingEvents(whole, sifted.kept, lobes),
      extraEvents: sifted.extra,
    },
    dwellDeg: dwells.length === 0 ? null : median(dwells),
    lobeDeviationsDeg: lobeDeviations(perLobe, advanceDeg, reference, lobeAnglesDeg),
    fromTick: firstTurn.indexTick,
    toTick: (lastTurn.indexTick + lastTurn.duringTicks) % 2 ** 32,
  };
}

/** An event that moved over the index within the span makes one turn seem to lack or to have one more. */
function missingEvents(turns: readonly TrackedTurn[], kept: number, lobes: number): number {
  const missing = turns.length * lobes - kept;
  return missing <= 1 ? 0 : missing;
}

/** Combined standard uncertainty of the mean advance (JCGM 100, uncorrelated parts). */
function angleUncertainty(
  speedRpm: number,
  spreadDeg: number,
  turns: number,
  reference: Reference,
  errors: RigErrors,
): number {
  const repeatability = spreadDeg / Math.sqrt(Math.max(1, turns));
  // Not divided by the number of events: at a perfectly steady speed all of them round alike.
  const tick = tickDeg(speedRpm, errors.tickHz) / Math.sqrt(12);
  // A delay looks like retard in proportion to speed; what counts is the difference to the reference.
  const delay = Math.abs(speedRpm - reference.speedRpm) * 6e-6 * errors.triggerDelayUs;
  return Math.hypot(repeatability, tick, delay, reference.standardUncertaintyDeg);
}

function speedUncertainty(
  turns: readonly TrackedTurn[],
  speedRpm: number,
  errors: RigErrors,
): number {
  const speeds = turns.map(({ turn }) => (60 * errors.tickHz) / turn.duringTicks);
  const repeatability = meanAndSpread(speeds).spread / Math.sqrt(turns.length);
  // The clock's tolerance is a limit, so rectangular: a/√3.
  const clock = (speedRpm * errors.tickPpm * 1e-6) / Math.sqrt(3);
  return Math.hypot(repeatability, clock);
}

/** Later than its nominal place is positive. */
export function lobeDeviations(
  perLobe: readonly (readonly number[])[],
  advanceDeg: number,
  reference: Reference,
  lobeAnglesDeg: readonly number[],
): number[] {
  const placesDeg = perLobe.map((advances, lobe) => {
    const own = advances.length === 0 ? advanceDeg : meanAndSpread(advances).mean;
    const angle = (reference.anglesDeg[lobe] as number) - own;
    const turned = angle - (lobeAnglesDeg[lobe] as number);
    const first = (reference.anglesDeg[0] as number) - advanceDeg;
    // Brought next to the first lobe's place, so that the mean of all does not straddle the index.
    return turned - first - 360 * Math.round((turned - first) / 360);
  });
  const { mean } = meanAndSpread(placesDeg);
  return placesDeg.map((place) => place - mean);
}

/** Vacuum lines whose tick lies within a reading's span. */
export function vacuumsWithin(
  lines: readonly VacuumLine[],
  fromTick: number,
  toTick: number,
): VacuumLine[] {
  const span = ticksBetween(fromTick, toTick);
  return lines.filter((line) => ticksBetween(fromTick, line.tick) <= span);
}
