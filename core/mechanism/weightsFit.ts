// The weights' figures from both branches of a measured curve, told as far as the readings bear them out.
import type { CurvePoint } from "../documents.ts";
import type { Branch } from "../unit.ts";
import type { Figure, NotFitted, ToldFigure, Untold, WeightsFit } from "./fitted.ts";
import { isTold } from "./fitted.ts";
import { fitForm, ownDeg } from "./formFit.ts";
import { chosenProblem, type Sight } from "./weightsChoice.ts";
import { advanceAt, speedAt, steepness, type WeightsForm } from "./weightsForm.ts";

/** Advance below this over a whole sweep is none. An assumption, no source. */
const MOVES_DEG = 0.3;
const BACKWARDS_DEG = -0.3;
const LEAST_ON_SLOPE = 3;
const LEAST_READINGS = 6;

/**
 * @param rising in rising order of speed
 * @param referenceRpm speed of the reading that all advance counts from
 */
export function fitWeights(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
  referenceRpm: number,
): WeightsFit | NotFitted {
  const sight = sightOf(rising, falling);
  const why = refusal(sight);
  if (why !== null) return { why };
  const problem = chosenProblem(sight);
  const fit = problem && fitForm(problem);
  if (fit === null) return { why: "no form fits" };
  return {
    form: fit.form,
    readings: sight.readings.length,
    modelErrorDeg: fit.modelErrorDeg,
    ...told(fit.form, sight, referenceRpm, fit.figure),
  };
}

function sightOf(rising: readonly CurvePoint[], falling: readonly CurvePoint[]): Sight {
  const topDeg = Math.max(0, ...rising.map(({ advanceDeg }) => advanceDeg));
  const rest = restOf(rising);
  const level = [...rising, ...falling].filter(
    (point) => point.advanceDeg > topDeg - LEVEL_DEG - 2 * ownDeg(point),
  );
  const stands = new Set(level.map(({ targetX }) => targetX)).size >= 2;
  const seen = (branch: Branch) => (point: CurvePoint) => ({
    point,
    branch,
    restDeg: rest(point),
    isOnSlope:
      point.advanceDeg - rest(point) > CLEAR_DEG &&
      (!stands || point.advanceDeg < topDeg - CLEAR_DEG),
  });
  const back = falling.map(seen("falling"));
  const [lowest] = falling;
  const [first] = rising;
  const isLeft =
    lowest !== undefined &&
    first !== undefined &&
    Math.abs(lowest.x - first.x) < 0.05 * first.x &&
    lowest.advanceDeg - first.advanceDeg > LEFT_DEG + 3 * ownDeg(lowest);
  return {
    readings: [...rising.map(seen("rising")), ...back],
    topDeg,
    stands,
    comesBack: back.some(({ isOnSlope }) => isOnSlope),
    leftDeg: isLeft ? lowest.advanceDeg : 0,
  };
}

/** Readings on the slope are clear of rest and stop by this. */
const CLEAR_DEG = 0.15;
const LEFT_DEG = 0.1;

/**
 * What the common error of all readings makes of no advance: where the lowest two agree on it they
 * stand at rest.
 */
function restOf([first, second]: readonly CurvePoint[]): (point: CurvePoint) => number {
  if (first === undefined || second === undefined) return () => 0;
  const multiple = first.advanceDeg / Math.max(sharedDeg(first), 1e-9);
  const rest = (point: CurvePoint) => multiple * sharedDeg(point);
  const isRest =
    Math.abs(multiple) < 4 && Math.abs(second.advanceDeg - rest(second)) < 2 * LEVEL_DEG;
  return isRest ? rest : () => 0;
}

function sharedDeg({ budget }: CurvePoint): number {
  return Math.hypot(
    ...budget
      .filter(({ shared, name }) => shared && name !== "speed")
      .map(({ standardUncertainty }) => standardUncertainty),
  );
}

/** Told from another reading beside it. */
const LEVEL_DEG = 0.06;

function refusal({ readings, topDeg }: Sight): Untold | null {
  if (readings.length < LEAST_READINGS) return "too few readings";
  const lowestDeg = Math.min(...readings.map(({ point }) => point.advanceDeg));
  if (lowestDeg < BACKWARDS_DEG) return "runs backwards";
  if (topDeg < MOVES_DEG) return "does not move";
  const onSlope = readings.filter(({ branch, isOnSlope }) => branch === "rising" && isOnSlope);
  return onSlope.length < LEAST_ON_SLOPE ? "too few on the slope" : null;
}

type Evaluate = (value: (form: WeightsForm) => number) => ToldFigure;
type Figures = Omit<WeightsFit, "form" | "readings" | "modelErrorDeg">;

function told(form: WeightsForm, sight: Sight, referenceRpm: number, figure: Evaluate): Figures {
  const { stopDeg, kneeDeg } = form;
  const knee = kneeFigure(form, sight, figure);
  const start = startFigure(form, sight, referenceRpm, figure);
  const stop: Figure =
    stopDeg === null
      ? { why: "not reached" }
      : within(
          figure((one) => one.stopDeg ?? 0),
          0.5,
        );
  const onKnee = (value: (form: WeightsForm) => number, least: number): Figure =>
    isTold(knee) && kneeDeg !== null ? within(figure(value), least) : standsOn(knee);
  const firstSlope = figure((one) => steepness(one, 0));
  const second = figure((one) => steepness(one, one.kneeDeg ?? 0));
  return {
    startRpm: start,
    firstSlopeDegPer100Rpm:
      "why" in start && start.why === "too few near the start"
        ? start
        : within(firstSlope, MOST_SHARE * firstSlope.value),
    kneeDeg: knee,
    kneeRpm: onKnee((one) => speedAt(one, one.kneeDeg ?? 0, "rising"), 150),
    secondSlopeDegPer100Rpm: onKnee(
      (one) => steepness(one, one.kneeDeg ?? 0),
      MOST_SHARE * second.value,
    ),
    stepRpm: isTold(knee) ? stepFigure(form, figure) : standsOn(knee),
    stopDeg: stop,
    stopRpm: isTold(stop)
      ? within(
          figure((one) => speedAt(one, one.stopDeg ?? 0, "rising")),
          200,
        )
      : standsOn(stop),
    ...gapFigures(sight, figure),
  };
}

const MOST_SHARE = 0.3;

/** Told where half the 95 % interval is at most so much. */
function within(figure: ToldFigure, mostExpanded: number): Figure {
  const expanded = figure.coverageFactor * figure.standardUncertainty;
  return Number.isFinite(figure.value) && expanded <= mostExpanded
    ? figure
    : { why: "too uncertain" };
}

function standsOn(figure: Figure): Figure {
  return "why" in figure ? figure : { why: "stands on another" };
}

function startFigure(
  form: WeightsForm,
  sight: Sight,
  referenceRpm: number,
  figure: Evaluate,
): Figure {
  const fitted = figure((one) => speedAt(one, 0, "rising"));
  const rising = sight.readings.filter(({ branch }) => branch === "rising");
  const alone = rising.filter(
    ({ point, isOnSlope }) => isOnSlope && point.advanceDeg < (form.kneeDeg ?? sight.topDeg),
  );
  if (fitted.value - 3 * fitted.standardUncertainty <= NEAR_REFERENCE * referenceRpm) {
    return { why: "begun at the reference" };
  }
  if (alone.length < 2) return { why: "too few near the start" };
  // Readings that still stand, or move already, where the form says otherwise show how far it is off.
  const stillAt = rising.filter(
    ({ isOnSlope, point }) => !isOnSlope && point.x < (alone[0]?.point.x ?? 0),
  );
  const off = Math.max(
    0,
    (stillAt.at(-1)?.point.x ?? 0) - fitted.value,
    fitted.value - (alone[0]?.point.x ?? fitted.value),
  );
  const standardUncertainty = Math.hypot(fitted.standardUncertainty, off);
  return within({ ...fitted, standardUncertainty }, MOST_START_SHARE * fitted.value);
}

const MOST_START_SHARE = 0.1;
const NEAR_REFERENCE = 1.1;

function kneeFigure(form: WeightsForm, { readings, topDeg }: Sight, figure: Evaluate): Figure {
  const { kneeDeg } = form;
  if (kneeDeg === null) return { why: "none shows" };
  const knee = figure((one) => one.kneeDeg ?? Number.NaN);
  const on = readings.filter(({ isOnSlope }) => isOnSlope);
  const before = on.filter(({ point }) => point.advanceDeg < kneeDeg).length;
  if (before < 2 || on.length - before < 2) return { why: "too uncertain" };
  return within(knee, 0.15 * topDeg);
}

/** Only where it is clearly there. */
function stepFigure(form: WeightsForm, figure: Evaluate): Figure {
  if (form.stepLoad === 0) return { why: "none shows" };
  const step = figure(
    (one) =>
      speedAt(one, one.kneeDeg ?? 0, "rising", true) - speedAt(one, one.kneeDeg ?? 0, "rising"),
  );
  const isThere = step.value > step.coverageFactor * step.standardUncertainty;
  return isThere ? step : { why: "too uncertain" };
}

/** At half the travel, as far as it was read. */
function gapFigures(
  { comesBack, topDeg }: Sight,
  figure: Evaluate,
): Pick<Figures, "gapRpm" | "gapDeg"> {
  if (!comesBack)
    return { gapRpm: { why: "no falling readings" }, gapDeg: { why: "no falling readings" } };
  const half = topDeg / 2;
  const gapRpm = figure((one) => speedAt(one, half, "rising") - speedAt(one, half, "falling"));
  const gapDeg = figure((one) => advanceAt(one, speedAt(one, half, "rising"), "falling") - half);
  return { gapRpm: within(gapRpm, 100), gapDeg: within(gapDeg, 2) };
}
