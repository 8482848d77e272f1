// The fitted mechanism as sentences: each figure with its ±, and what cannot be told and why. Pure.
import {
  type CapsuleFit,
  type Figure,
  isFitted,
  isTold,
  type MechanismFit,
  type NotFitted,
  type ToldFigure,
  type WeightsFit,
} from "../mechanism/fitted.ts";
import { ENGLISH } from "../speech/english.ts";
import type { Speech } from "../speech/speech.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { fixed, rpmText } from "./figures.ts";
import type { Fact } from "./model.ts";

/** One part of the mechanism, what is told of it and what cannot be. */
export interface MechanismText {
  readonly part: string;
  readonly facts: readonly Fact[];
}

/** `names` of the capsules in the unit's order. */
export function mechanismTexts(
  { weights, capsules }: MechanismFit,
  names: readonly string[],
  vacuumUnit: VacuumUnit,
  say: Speech = ENGLISH,
): readonly MechanismText[] {
  const { mechanism: words } = say;
  return [
    {
      part: words.weights,
      facts: isFitted(weights) ? weightsFacts(weights, say) : notFitted(weights, say),
    },
    ...capsules.flatMap((capsule, i): MechanismText[] => {
      if (capsule === null) return [];
      const facts = isFitted(capsule)
        ? capsuleFacts(capsule, vacuumUnit, say)
        : notFitted(capsule, say);
      return [{ part: names[i] ?? words.capsule(i + 1), facts }];
    }),
  ];
}

function notFitted({ why }: NotFitted, { mechanism: words }: Speech): readonly Fact[] {
  return [{ label: words.notFitted, value: words.why(why) }];
}

function weightsFacts(fit: WeightsFit, say: Speech): readonly Fact[] {
  const { mechanism: words } = say;
  const rpm = (one: ToldFigure) => rpmFigure(one, say);
  const deg = (one: ToldFigure) => degFigure(one, say);
  const { startRpm, kneeDeg, kneeRpm, secondSlopeDegPer100Rpm: second, stepRpm } = fit;
  return [
    ...fact(words.beginsToAdvance, [[startRpm, (one) => words.at(rpm(one))]]),
    ...fact(isTold(kneeDeg) ? words.firstAlone : words.springs, [
      [fit.firstSlopeDegPer100Rpm, (one) => words.nearStart(deg(one))],
    ]),
    ...fact(words.secondTakesUp, [
      [kneeDeg, (one) => words.at(deg(one))],
      [kneeRpm, ({ value }) => words.about(rpmText(value, say))],
      [second, (one) => words.afterwards(deg(one))],
      [stepRpm, (one) => words.heldFor(rpm(one))],
    ]),
    ...fact(words.stop, [
      [fit.stopDeg, (one) => words.at(deg(one))],
      [fit.stopRpm, (one) => words.reachedAt(rpm(one))],
    ]),
    ...fact(words.frictionHalfway, [
      [fit.gapRpm, (one) => words.gap(gap(one, rpm, say))],
      [fit.gapDeg, (one) => gap(one, deg, say)],
    ]),
    { label: words.formError, value: formError(fit, say) },
    ...untold(say, [
      [words.untoldStart, startRpm],
      [words.untoldSlopeNearStart, fit.firstSlopeDegPer100Rpm],
      [words.untoldSecond, kneeDeg],
      [words.untoldStop, fit.stopDeg],
      [words.untoldFriction, fit.gapRpm],
    ]),
  ];
}

function capsuleFacts(fit: CapsuleFit, vacuumUnit: VacuumUnit, say: Speech): readonly Fact[] {
  const { mechanism: words } = say;
  const deg = (one: ToldFigure) => degFigure(one, say);
  const inUnit = (pa: number) => vacuumFromPascals(pa, vacuumUnit);
  const vacuum = (one: ToldFigure) =>
    `${plusMinus(inUnit(one.value), inUnit(expandedOf(one)), "", say)} ${vacuumUnit}`;
  const slope = (one: ToldFigure) =>
    words.per(
      plusMinus(one.value / inUnit(1000), expandedOf(one) / inUnit(1000), "°", say),
      vacuumUnit,
    );
  return [
    ...fact(words.begins, [[fit.startPa, (one) => words.at(vacuum(one))]]),
    ...fact(words.slope, [[fit.slopeDegPerKPa, slope]]),
    ...fact(words.ends, [
      [fit.endDeg, (one) => words.at(deg(one))],
      [fit.endPa, (one) => words.reachedAt(vacuum(one))],
    ]),
    ...fact(words.friction, [
      [fit.gapPa, (one) => words.gap(gap(one, vacuum, say))],
      [fit.gapDeg, (one) => gap(one, deg, say)],
    ]),
    { label: words.formError, value: formError(fit, say) },
    ...untold(say, [
      [words.untoldStart, fit.startPa],
      [words.untoldSlope, fit.slopeDegPerKPa],
      [words.untoldEnd, fit.endDeg],
      [words.untoldFriction, fit.gapPa],
    ]),
  ];
}

type Part = readonly [Figure, (figure: ToldFigure) => string];

/** The told parts in one value; nothing where the first is not told. */
function fact(label: string, parts: readonly Part[]): Fact[] {
  const [leading] = parts;
  if (leading === undefined || !isTold(leading[0])) return [];
  const texts = parts.flatMap(([figure, text]) => (isTold(figure) ? [text(figure)] : []));
  return [{ label, value: texts.join(", ") }];
}

/** What was looked for and not told, with the reason. */
function untold(
  { mechanism: words }: Speech,
  figures: readonly (readonly [string, Figure])[],
): Fact[] {
  const texts = figures.flatMap(([name, figure]) =>
    isTold(figure) ? [] : [`${name} (${words.why(figure.why)})`],
  );
  return texts.length === 0 ? [] : [{ label: words.untold, value: texts.join(", ") }];
}

/** What every forecast by it carries. */
function formError({ modelErrorDeg }: WeightsFit | CapsuleFit, say: Speech): string {
  return modelErrorDeg < 0.005
    ? say.mechanism.noError
    : say.mechanism.error(`${fixed(modelErrorDeg, 2, say)}°`);
}

/** A gap that may as well be none is told by its upper end. */
function gap(
  figure: ToldFigure,
  text: (figure: ToldFigure) => string,
  { mechanism: words }: Speech,
): string {
  const expanded = expandedOf(figure);
  if (figure.value > expanded) return words.of(text(figure));
  const most = text({ ...figure, value: Math.max(0, figure.value) + expanded, coverageFactor: 0 });
  return words.below(most);
}

function expandedOf({ coverageFactor, standardUncertainty }: ToldFigure): number {
  return coverageFactor * standardUncertainty;
}

function rpmFigure(figure: ToldFigure, say: Speech): string {
  return `${plusMinus(figure.value, expandedOf(figure), "", say, 0)} ${say.rpm}`;
}

function degFigure(figure: ToldFigure, say: Speech): string {
  return plusMinus(figure.value, expandedOf(figure), "°", say);
}

/** As many digits as the uncertainty has sense for, which is rounded up; a limit, without one, likewise. */
function plusMinus(value: number, expanded: number, sign: string, say: Speech, most = 2): string {
  const digits = (expanded || value / 10) >= 0.1 ? Math.min(1, most) : most;
  const roundedUp = (one: number) =>
    fixed(Math.ceil(one * 10 ** digits - 1e-9) / 10 ** digits, digits, say);
  return expanded === 0
    ? `${roundedUp(value)}${sign}`
    : `${fixed(value, digits, say)} ± ${roundedUp(expanded)}${sign}`;
}
