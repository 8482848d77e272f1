// The weights' figures from both branches of a measured curve, told as far as the readings bear them out.
import type { CurvePoint } from "../documents.ts";
import type { Figure, NotFitted, ToldFigure, Untold, WeightsFit } from "./fitted.ts";
import { isTold } from "./fitted.ts";
import { type BranchReading, figuresFrom, withModelError } from "./formFit.ts";
import { chosenForm, isOnSlope, type Sight } from "./weightsChoice.ts";
import { advanceAt, speedAt, type WeightsForm } from "./weightsForm.ts";

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
  const chosen = chosenForm(sight);
  if (chosen === null) return { why: "no form fits" };
  const fit = withModelError(chosen);
  const figure = figuresFrom(fit);
  if (figure === null) return { why: "no form fits" };
  return {
    form: fit.form,
    readings: sight.readings.length,
    modelErrorDeg: fit.modelErrorDeg,
    ...told(fit.form, sight, referenceRpm, figure),
  };
}

function sightOf(rising: readonly CurvePoint[], falling: readonly CurvePoint[]): Sight {
  const readings: BranchReading[] = [
    ...rising.map((point) => ({ point, branch: "rising" as const })),
    ...falling.map((point) => ({ point, branch: "falling" as const })),
  ];
  const topDeg = Math.max(0, ...rising.map(({ advanceDeg }) => advanceDeg));
  const [lowest] = falling;
  const isLeft = lowest !== undefined && lowest.advanceDeg > leastClear(lowest);
  const level = [...rising, ...falling].filter(
    (point) => point.advanceDeg > topDeg - leastClear(point),
  );
  return {
    readings,
    topDeg,
    stands: new Set(level.map(({ targetX }) => targetX)).size >= 2,
    comesBack: falling.some(({ advanceDeg }) => isOnSlope(advanceDeg, topDeg, true)),
    leftDeg: isLeft && lowest.x < (rising[0]?.x ?? 0) * 1.05 ? lowest.advanceDeg : 0,
  };
}

/** Told from another reading beside it. */
const LEVEL_DEG = 0.06;

function leastClear({ standardUncertaintyDeg }: CurvePoint): number {
  return Math.max(LEVEL_DEG, 2 * standardUncertaintyDeg);
}

function refusal({ readings, topDeg, stands }: Sight): Untold | null {
  if (readings.length < LEAST_READINGS) return "too few readings";
  const lowestDeg = Math.min(...readings.map(({ point }) => point.advanceDeg));
  if (lowestDeg < BACKWARDS_DEG) return "runs backwards";
  if (topDeg < MOVES_DEG) return "does not move";
  const onSlope = readings.filter(
    ({ point, branch }) => branch === "rising" && isOnSlope(point.advanceDeg, topDeg, stands),
  );
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

/** Degrees for each 100 rpm at an advance, rising, just beyond it. */
function steepness(form: WeightsForm, advanceDeg: number): number {
  const rpm = speedAt(form, advanceDeg, "rising", true);
  const speed = (rpm / 1000) ** 2;
  const isSecond = form.kneeDeg !== null && advanceDeg >= form.kneeDeg;
  const rate = form.firstRate + (isSecond ? form.secondRate : 0);
  const lever = 1 + form.leverGrowthPerDeg * advanceDeg - form.frictionShare;
  // dθ/ds of the form, times ds/dn.
  return ((lever / (rate - form.leverGrowthPerDeg * speed)) * 2 * rpm) / 1e4;
}

function startFigure(
  form: WeightsForm,
  sight: Sight,
  referenceRpm: number,
  figure: Evaluate,
): Figure {
  const start = figure((one) => speedAt(one, 0, "rising"));
  const alone = sight.readings.filter(
    ({ point, branch }) =>
      branch === "rising" &&
      point.advanceDeg > CLEAR_OF_REST_DEG &&
      point.advanceDeg < (form.kneeDeg ?? Number.POSITIVE_INFINITY),
  );
  if (start.value - 2 * start.standardUncertainty <= referenceRpm) {
    return { why: "begun at the reference" };
  }
  if (alone.length < 2) return { why: "too few near the start" };
  return within(start, 0.1 * start.value);
}

const CLEAR_OF_REST_DEG = 0.05;

function kneeFigure(
  form: WeightsForm,
  { readings, topDeg, stands }: Sight,
  figure: Evaluate,
): Figure {
  const { kneeDeg } = form;
  if (kneeDeg === null) return { why: "none shows" };
  const knee = figure((one) => one.kneeDeg ?? 0);
  const on = readings.filter(({ point }) => isOnSlope(point.advanceDeg, topDeg, stands));
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
