// A capsule's figures from both branches of its measured curve, told as far as the readings bear them out.
import type { CurvePoint } from "../documents.ts";
import { type CapsuleForm, capsuleAdvanceAt } from "./capsuleForm.ts";
import type { CapsuleFit, Figure, NotFitted, ToldFigure } from "./fitted.ts";
import { type FormFit, fitForm } from "./formFit.ts";
import type { Problem } from "./observation.ts";
import { levelRestDeg, refusal, type Sight, sightOf } from "./sight.ts";
import { MOST_SHARE, within } from "./telling.ts";

/** @param rising in rising order of vacuum; a capsule that retards has negative advance */
export function fitCapsule(
  rising: readonly CurvePoint[],
  falling: readonly CurvePoint[],
): CapsuleFit | NotFitted {
  const levelDeg = levelRestDeg(rising);
  const fromRest = (deg: number) => deg - (levelDeg ?? 0);
  const farthest = rising.reduce(
    (most, { advanceDeg }) =>
      Math.abs(fromRest(advanceDeg)) > Math.abs(most) ? fromRest(advanceDeg) : most,
    0,
  );
  const sign = farthest < 0 ? -1 : 1;
  const turned = (points: readonly CurvePoint[]) =>
    points.map((point) => ({ ...point, advanceDeg: sign * fromRest(point.advanceDeg) }));
  const sight = sightOf(turned(rising), turned(falling), () => 0);
  const why = refusal(sight);
  if (why !== null) return { why };
  const fit = fitForm(problemOf(sight, levelDeg !== null));
  if (fit === null) return { why: "no form fits" };
  return {
    form: turnedForm(fit.form, sign, levelDeg ?? 0),
    readings: sight.readings.length,
    modelErrorDeg: fit.modelErrorDeg,
    ...figuresOf(fit, sight, sign),
  };
}

function turnedForm(form: CapsuleForm, sign: 1 | -1, levelDeg: number): CapsuleForm {
  return {
    ...form,
    restDeg: levelDeg + sign * form.restDeg,
    degPerKPa: sign * form.degPerKPa,
    endDeg: form.endDeg === null ? null : sign * form.endDeg,
  };
}

function problemOf(
  { readings, topDeg, stands, comesBack }: Sight,
  isRestRead: boolean,
): Problem<CapsuleForm> {
  const onSlope = readings.filter(({ isOnSlope, branch }) => isOnSlope && branch === "rising");
  const [low, high] = [onSlope[0]?.point, onSlope.at(-1)?.point];
  const rise = (high?.advanceDeg ?? 0) - (low?.advanceDeg ?? 0);
  const slope = Math.max(rise / (((high?.x ?? 1) - (low?.x ?? 0)) / 1000), 1e-3);
  const names: readonly (keyof CapsuleForm)[] = [
    "startKPa",
    "degPerKPa",
    ...(isRestRead ? (["restDeg"] as const) : []),
    ...(comesBack ? (["frictionKPa"] as const) : []),
    ...(stands ? (["endDeg"] as const) : []),
  ];
  const bare: CapsuleForm = {
    startKPa: (low?.x ?? 0) / 1000 - (low?.advanceDeg ?? 0) / slope,
    restDeg: 0,
    degPerKPa: slope,
    endDeg: stands ? topDeg : null,
    frictionKPa: 0,
  };
  return {
    readings,
    rivals: [],
    copies: comesBack ? 2 : 1,
    start: names.map((name) => bare[name] ?? 0),
    bounds: {
      lower: names.map((name) => (name === "degPerKPa" ? 1e-4 : Number.NEGATIVE_INFINITY)),
      upper: names.map(() => Number.POSITIVE_INFINITY),
    },
    formOf: (parameters) => ({
      ...bare,
      ...Object.fromEntries(names.map((name, i) => [name, parameters[i] ?? 0])),
    }),
    predict: capsuleAdvanceAt,
  };
}

/** Half the 95 % interval of what is told: of a vacuum, of the largest advance, of a gap in degrees. */
const MOST_PA = 3000;
const MOST_END_DEG = 0.5;
const MOST_GAP_DEG = 1;

function figuresOf(
  { figure, form }: FormFit<CapsuleForm>,
  { comesBack }: Sight,
  sign: 1 | -1,
): Omit<CapsuleFit, "form" | "readings" | "modelErrorDeg"> {
  const signed = (told: ToldFigure): ToldFigure => ({ ...told, value: sign * told.value });
  const slope = figure((one) => one.degPerKPa);
  const start = figure((one) => 1000 * (one.startKPa + one.frictionKPa));
  const end: Figure =
    form.endDeg === null
      ? { why: "not reached" }
      : within(signed(figure((one) => one.endDeg ?? 0)), MOST_END_DEG);
  const gap = (value: (one: CapsuleForm) => number, most: number): Figure =>
    comesBack ? within(figure(value), most) : { why: "no falling readings" };
  return {
    startPa:
      start.value - 2 * start.standardUncertainty <= 0
        ? { why: "begun at the reference" }
        : within(start, MOST_PA),
    slopeDegPerKPa: within(signed(slope), MOST_SHARE * slope.value),
    endDeg: end,
    endPa:
      form.endDeg === null
        ? end
        : within(
            figure(
              (one) => 1000 * (one.startKPa + one.frictionKPa + (one.endDeg ?? 0) / one.degPerKPa),
            ),
            MOST_PA,
          ),
    gapPa: gap((one) => 2000 * one.frictionKPa, MOST_PA),
    gapDeg: gap((one) => 2 * one.frictionKPa * one.degPerKPa, MOST_GAP_DEG),
  };
}
