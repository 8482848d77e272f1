// The weights' figures from both branches of a measured curve, told as far as the readings bear them out.
import type { CurvePoint } from "../documents.ts";
import { type Figure, isTold, type NotFitted, type ToldFigure, type WeightsFit } from "./fitted.ts";
import { type FormFit, fitForm } from "./formFit.ts";
import type { Problem } from "./observation.ts";
import { commonRest, refusal, type Sight, sightOf } from "./sight.ts";
import { MOST_SHARE, within } from "./telling.ts";
import { chosenProblems } from "./weightsChoice.ts";
import { advanceAt, speedAt, springRate, steepness, type WeightsForm } from "./weightsForm.ts";

/**
 * @param rising in rising order of speed
 * @param referenceRpm speed of the reading that all advance counts from
 */
export function fitWeights(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
  referenceRpm: number,
): WeightsFit | NotFitted {
  const sight = sightOf(rising, falling, commonRest(rising));
  const why = refusal(sight);
  if (why !== null) return { why };
  const fit = firstFit(chosenProblems(sight));
  if (fit === null) return { why: "no form fits" };
  return {
    form: fit.form,
    readings: sight.readings.length,
    modelErrorDeg: fit.modelErrorDeg,
    ...told(fit.form, sight, referenceRpm, fit.figure),
  };
}

function firstFit(problems: readonly Problem<WeightsForm>[]): FormFit<WeightsForm> | null {
  for (const problem of problems) {
    const fit = fitForm(problem);
    if (fit !== null) return fit;
  }
  return null;
}

type Evaluate = (value: (form: WeightsForm) => number) => ToldFigure;
type Figures = Omit<WeightsFit, "form" | "readings" | "modelErrorDeg">;

/** Half the 95 % interval of what is told: a speed where the curve turns, the stop, a gap. */
const MOST_KNEE_RPM = 150;
const MOST_STOP_RPM = 200;
const MOST_STOP_DEG = 0.5;
const MOST_GAP_RPM = 100;
const MOST_GAP_DEG = 2;
/** The same as a share of the start's speed, and of the travel for the knee. */
const MOST_START_SHARE = 0.1;
const MOST_KNEE_SHARE = 0.15;

function told(form: WeightsForm, sight: Sight, referenceRpm: number, figure: Evaluate): Figures {
  const startRpm = startFigure(form, sight, referenceRpm, figure);
  const isAloneRead = isTold(startRpm) || startRpm.why !== "too few near the start";
  return {
    startRpm,
    firstSlopeDegPer100Rpm: isAloneRead ? slopeFigure(figure, () => 0) : startRpm,
    ...kneeFigures(form, sight, figure),
    ...stopFigures(form, figure),
    ...gapFigures(sight, figure),
  };
}

function slopeFigure(figure: Evaluate, at: (form: WeightsForm) => number): Figure {
  const slope = figure((one) => steepness(one, at(one)));
  return within(slope, MOST_SHARE * slope.value);
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

/** A start so near the reference may as well lie below it. */
const NEAR_REFERENCE = 1.1;

const LEAST_BESIDE_KNEE = 2;

function kneeFigures(
  form: WeightsForm,
  sight: Sight,
  figure: Evaluate,
): Pick<Figures, "kneeDeg" | "kneeRpm" | "secondSlopeDegPer100Rpm" | "stepRpm"> {
  const at = (one: WeightsForm) => one.kneeDeg ?? Number.NaN;
  const kneeDeg = kneeFigure(form, sight, figure(at));
  if (!isTold(kneeDeg)) {
    return { kneeDeg, kneeRpm: kneeDeg, secondSlopeDegPer100Rpm: kneeDeg, stepRpm: kneeDeg };
  }
  return {
    kneeDeg,
    kneeRpm: within(
      figure((one) => speedAt(one, at(one), "rising")),
      MOST_KNEE_RPM,
    ),
    secondSlopeDegPer100Rpm: slopeFigure(figure, at),
    stepRpm: stepFigure(form, figure),
  };
}

function kneeFigure(form: WeightsForm, { readings, topDeg }: Sight, knee: ToldFigure): Figure {
  const { kneeDeg } = form;
  if (kneeDeg === null) return { why: "none shows" };
  const on = readings.filter(({ isOnSlope }) => isOnSlope);
  const before = on.filter(({ point }) => point.advanceDeg < kneeDeg).length;
  const beside = Math.min(before, on.length - before);
  if (beside < LEAST_BESIDE_KNEE || kneeJump(form) < LEAST_JUMP) return { why: "too uncertain" };
  const standardUncertainty = KNEE_DOUBT * knee.standardUncertainty;
  return within({ ...knee, standardUncertainty }, MOST_KNEE_SHARE * topDeg);
}

/**
 * What a second spring must add to the rate, as a share of what it was: levers that change bend a curve
 * as much. By how much more a knee is off than the fit says, since a form's levers are not a unit's.
 * Both read off simulated units, others than those that the bar is measured on.
 */
const LEAST_JUMP = 0.6;
const KNEE_DOUBT = 1.3;

function kneeJump(form: WeightsForm): number {
  const { kneeDeg, secondRate } = form;
  if (kneeDeg === null) return 0;
  const speed = (speedAt(form, kneeDeg, "rising") / 1000) ** 2;
  const rate = springRate(form, kneeDeg) - secondRate - form.leverGrowthPerDeg * speed;
  return secondRate / Math.max(rate, 1e-6);
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

function stopFigures(
  { stopDeg }: WeightsForm,
  figure: Evaluate,
): Pick<Figures, "stopDeg" | "stopRpm"> {
  if (stopDeg === null) return { stopDeg: { why: "not reached" }, stopRpm: { why: "not reached" } };
  const at = (one: WeightsForm) => one.stopDeg ?? Number.NaN;
  const rpm = figure((one) => speedAt(one, at(one), "rising"));
  return { stopDeg: within(figure(at), MOST_STOP_DEG), stopRpm: within(rpm, MOST_STOP_RPM) };
}

/** At half the travel, as far as it was read. */
function gapFigures(
  { comesBack, topDeg }: Sight,
  figure: Evaluate,
): Pick<Figures, "gapRpm" | "gapDeg"> {
  if (!comesBack) {
    const why = "no falling readings";
    return { gapRpm: { why }, gapDeg: { why } };
  }
  const half = topDeg / 2;
  const gapRpm = figure((one) => speedAt(one, half, "rising") - speedAt(one, half, "falling"));
  const gapDeg = figure((one) => advanceAt(one, speedAt(one, half, "rising"), "falling") - half);
  return { gapRpm: within(gapRpm, MOST_GAP_RPM), gapDeg: within(gapDeg, MOST_GAP_DEG) };
}
