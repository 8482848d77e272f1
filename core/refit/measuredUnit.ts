// A measured curve as the loads its springs carry, ready to be changed by other springs, posts or stop.
import type { CurvePoint } from "../documents.ts";
import { soundShape } from "../findings/shape.ts";
import { nominalByShape } from "../findings/withoutSpecification.ts";
import { isFitted } from "../mechanism/fitted.ts";
import { fitWeights } from "../mechanism/weightsFit.ts";

/** Loads in rpm²: the square of the speed that carries them at an advance in degrees, speed rising. */
export interface MeasuredUnit {
  readonly first: (advanceDeg: number) => number;
  readonly second: (advanceDeg: number) => number;
  readonly stopDeg: number;
  /** How much less load is carried coming back, by friction, at an advance. */
  readonly gap: (advanceDeg: number) => number;
  /** Whether the rest was seen: else loads at rest are led to from beyond it. */
  readonly isRestSeen: boolean;
  /** Advance where the second spring takes up; null where none was seen. */
  readonly kneeDeg: number | null;
  /** How far the readings stray from what springs, stop and friction make: every forecast carries it, degrees. */
  readonly modelErrorDeg: number;
}

/** Second springs that carry less than this share of the whole were not seen. */
const SEEN_SHARE = 0.02;
const STEP_DEG = 0.1;

/** Two readings that agree so well at the top of a sweep stand at the stop. */
const AT_STOP_DEG = 0.1;

/**
 * Null where the cam does not move, or too few readings lie on the slope. Points in rising order of
 * speed. A stop that the sweep did not reach is taken to be where the specification has it.
 */
export function measuredUnit(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
  specifiedStopDeg: number | null,
): MeasuredUnit | null {
  const hiddenDeg = hiddenBefore(rising, specifiedStopDeg);
  const shifted = (points: readonly CurvePoint[]) =>
    points.map((point) => ({ ...point, advanceDeg: point.advanceDeg + hiddenDeg }));
  const nominal = nominalByShape(shifted(rising), 2);
  const mostDeg = hiddenDeg + Math.max(0, ...rising.map(({ advanceDeg }) => advanceDeg));
  if (nominal === null || nominal.knots.length < 4 || nominal.stopDeg !== mostDeg) return null;
  const { first, second } = soundShape(nominal);
  const before = hiddenDeg + (rising.at(-2)?.advanceDeg ?? 0);
  const isAtStop = mostDeg - before < AT_STOP_DEG;
  const stopDeg = isAtStop ? mostDeg : Math.max(mostDeg, specifiedStopDeg ?? mostDeg);
  const back = nominalByShape(shifted(falling), 2);
  const comeBack = back === null || back.knots.length < 4 ? null : soundShape(back);
  return {
    first,
    second,
    stopDeg,
    gap: (deg) =>
      comeBack === null
        ? 0
        : Math.max(0, first(deg) + second(deg) - comeBack.first(deg) - comeBack.second(deg)),
    isRestSeen: (rising[0]?.advanceDeg ?? 0) < AT_REST_DEG,
    kneeDeg: kneeOf(first, second, stopDeg),
    modelErrorDeg: modelErrorOf(rising, falling),
  };
}

/** Nothing where no form was fitted. */
function modelErrorOf(rising: readonly CurvePoint[], falling: readonly CurvePoint[]): number {
  // Where the advance is counted from changes no residual.
  const fit = fitWeights(rising, falling, 0);
  return isFitted(fit) ? fit.modelErrorDeg : 0;
}

/** Above this at its lowest reading a cam had left its rest before, and readings count from where it stood. */
const AT_REST_DEG = 0.02;

/** What the cam had advanced at the reference already: as much as its travel lacks of the specified one. */
function hiddenBefore(rising: readonly CurvePoint[], specifiedStopDeg: number | null): number {
  const [lowest] = rising;
  if (lowest === undefined || specifiedStopDeg === null || lowest.advanceDeg < AT_REST_DEG)
    return 0;
  const mostDeg = Math.max(...rising.map(({ advanceDeg }) => advanceDeg));
  return Math.max(0, specifiedStopDeg - mostDeg);
}

function kneeOf(
  first: (deg: number) => number,
  second: (deg: number) => number,
  stopDeg: number,
): number | null {
  for (let deg = 0; deg < stopDeg; deg += STEP_DEG) {
    if (second(deg) > SEEN_SHARE * first(deg)) return deg;
  }
  return null;
}
