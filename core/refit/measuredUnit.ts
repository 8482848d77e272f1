// A measured curve as the loads its springs carry, ready to be changed by other springs, posts or stop.
import type { CurvePoint } from "../documents.ts";
import { nominalByShape } from "../findings/withoutSpecification.ts";
import { isFitted } from "../mechanism/fitted.ts";
import { fitWeights } from "../mechanism/weightsFit.ts";
import {
  type Curve,
  type Geometries,
  type Geometry,
  geometriesOf,
  type Load,
  type Specified,
} from "./geometry.ts";
import { springLoads } from "./springLoads.ts";

/** Loads in rpm²: the square of the speed that carries them at an advance in degrees, speed rising. */
export interface MeasuredUnit {
  readonly first: Load;
  readonly second: Load;
  /** What is no spring's: drag and friction, where springs are told from them. */
  readonly rest: Load;
  readonly stopDeg: number;
  /** How much less of a load is carried coming back, by friction, at an advance. */
  readonly gap: (advanceDeg: number, load: number) => number;
  /** Whether the cam stood at rest at the reference: else loads at rest are led to from beyond it. */
  readonly isRestSeen: boolean;
  /** Advance where the second spring takes up; null where none was seen. */
  readonly kneeDeg: number | null;
  /** Null where the springs that are in are not known by their dimensions. */
  readonly geometry: Geometry | null;
  /** The same unit as else it may be by what is measured, each as likely as any other; none without geometry. */
  readonly likely: readonly MeasuredUnit[];
  /** How far the readings stray from what springs, stop and friction make: every forecast carries it, degrees. */
  readonly modelErrorDeg: number;
}

/** Second springs that carry less than this share of the whole were not seen. */
const SEEN_SHARE = 0.02;
const STEP_DEG = 0.1;

/** Two readings that agree so well at the top of a sweep stand at the stop. */
const AT_STOP_DEG = 0.1;

/** Share of the likely geometries. */
const SEEN_AT_REST = 0.9;

/**
 * Null where the cam does not move, or too few readings lie on the slope of a unit whose springs are not
 * known by their dimensions. The latest curve first, those with other springs after it: what they tell of
 * levers and arms is learnt from. A stop that the sweep did not reach is taken to be where the
 * specification has it.
 */
export function measuredUnit(states: readonly Curve[], specified: Specified): MeasuredUnit | null {
  const [latest] = states;
  if (latest === undefined) return null;
  const geometries = geometriesOf(states, specified);
  return geometries === null
    ? byCurve(latest, specified.stopDeg)
    : byGeometries(geometries, latest);
}

function byGeometries(
  { likeliest, likely, restShare, modelErrorDeg }: Geometries,
  latest: Curve,
): MeasuredUnit {
  const isRestSeen = restShare > SEEN_AT_REST;
  const unitOf = (geometry: Geometry): MeasuredUnit => {
    const loadOf = (which: "first" | "second"): Load => {
      const [place, fitted] = [geometry[which], latest.installed[which]];
      return place === null || fitted === null ? () => 0 : place.loadOf(fitted.spring, 0);
    };
    const [first, second] = [loadOf("first"), loadOf("second")];
    const { rest, gap, stopDeg } = geometry;
    const kneeDeg = kneeOf(first, second, stopDeg);
    const curve = { first, second, rest, gap, stopDeg, kneeDeg };
    return { ...curve, geometry, likely: [], isRestSeen, modelErrorDeg };
  };
  return { ...unitOf(likeliest), likely: likely.map(unitOf) };
}

/** Of springs that are not known: their loads are what the curve shows. */
function byCurve(latest: Curve, specifiedStopDeg: number | null): MeasuredUnit | null {
  const { rising, falling } = fromRest(latest, specifiedStopDeg);
  const nominal = nominalByShape(rising, 2);
  const mostDeg = Math.max(0, ...rising.map(({ advanceDeg }) => advanceDeg));
  if (nominal === null || nominal.knots.length < 4 || nominal.stopDeg !== mostDeg) return null;
  const { first, second } = springLoads(nominal);
  const before = rising.at(-2)?.advanceDeg ?? 0;
  const isAtStop = mostDeg - before < AT_STOP_DEG;
  const stopDeg = isAtStop ? mostDeg : Math.max(mostDeg, specifiedStopDeg ?? mostDeg);
  const back = nominalByShape(falling, 2);
  const comeBack = back === null || back.knots.length < 4 ? null : springLoads(back);
  return {
    first,
    second,
    rest: () => 0,
    geometry: null,
    likely: [],
    stopDeg,
    gap: (deg) =>
      comeBack === null
        ? 0
        : Math.max(0, first(deg) + second(deg) - comeBack.first(deg) - comeBack.second(deg)),
    isRestSeen: (latest.rising[0]?.advanceDeg ?? 0) < AT_REST_DEG,
    kneeDeg: kneeOf(first, second, stopDeg),
    modelErrorDeg: modelErrorOf(rising, falling),
  };
}

/** Counted from the cam's rest, where the stop tells how far it had left that at the reference. */
function fromRest(state: Curve, stopDeg: number | null): Pick<Curve, "rising" | "falling"> {
  const before = hiddenBefore(state.rising, stopDeg);
  const counted = (points: readonly CurvePoint[]) =>
    points.map((point) => ({ ...point, advanceDeg: point.advanceDeg + before }));
  return { rising: counted(state.rising), falling: counted(state.falling) };
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
