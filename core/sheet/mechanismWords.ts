// The fitted mechanism in a workshop's words: each figure with its ±, and what cannot be told and why. English.
import {
  type CapsuleFit,
  type Figure,
  isFitted,
  isTold,
  type MechanismFit,
  type NotFitted,
  type ToldFigure,
  type Untold,
  type WeightsFit,
} from "../mechanism/fitted.ts";
import { type VacuumUnit, vacuumFromPascals } from "../units.ts";
import { fixed } from "./figures.ts";
import type { Fact } from "./model.ts";

const WHY: Readonly<Record<Untold, string>> = {
  "too few readings": "too few readings",
  "does not move": "no change of advance at any reading",
  "runs backwards": "the curve goes the other way",
  "too few on the slope": "too few readings between start and stop",
  "no form fits": "no form of springs, stop and friction agrees with the readings",
  "begun at the reference": "had begun at the reference reading, from which all advance counts",
  "too few near the start": "too few readings before the second spring takes up",
  "none shows": "the readings are met as well without",
  "not reached": "the highest readings do not stand level",
  "no falling readings": "no readings of the way back between start and stop",
  "too uncertain": "the readings leave it too uncertain",
};

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
): readonly MechanismText[] {
  return [
    {
      part: "Weights",
      facts: isFitted(weights) ? weightsFacts(weights) : notFitted(weights),
    },
    ...capsules.flatMap((capsule, i): MechanismText[] => {
      if (capsule === null) return [];
      const facts = isFitted(capsule) ? capsuleFacts(capsule, vacuumUnit) : notFitted(capsule);
      return [{ part: names[i] ?? `Capsule ${i + 1}`, facts }];
    }),
  ];
}

function notFitted({ why }: NotFitted): readonly Fact[] {
  return [{ label: "Not fitted", value: WHY[why] }];
}

function weightsFacts(fit: WeightsFit): readonly Fact[] {
  const { startRpm, kneeDeg, kneeRpm, secondSlopeDegPer100Rpm: second, stepRpm } = fit;
  return [
    ...fact("Begins to advance", [[startRpm, (one) => `at ${rpm(one)}`]]),
    ...fact(isTold(kneeDeg) ? "First spring alone" : "Springs", [
      [fit.firstSlopeDegPer100Rpm, (one) => `${deg(one)} per 100 rpm near the start`],
    ]),
    ...fact("Second spring takes up", [
      [kneeDeg, (one) => `at ${deg(one)}`],
      [kneeRpm, ({ value }) => `about ${fixed(value, 0)} rpm`],
      [second, (one) => `then ${deg(one)} per 100 rpm`],
      [stepRpm, (one) => `held there for ${rpm(one)}`],
    ]),
    ...fact("Stop", [
      [fit.stopDeg, (one) => `at ${deg(one)}`],
      [fit.stopRpm, (one) => `reached at ${rpm(one)}`],
    ]),
    ...fact("Friction, at half travel", [
      [fit.gapRpm, (one) => `gap ${gap(one, rpm)}`],
      [fit.gapDeg, (one) => gap(one, deg)],
    ]),
    { label: "Error of the form", value: formError(fit) },
    ...untold([
      ["start", startRpm],
      ["slope near the start", fit.firstSlopeDegPer100Rpm],
      ["second spring", kneeDeg],
      ["stop", fit.stopDeg],
      ["friction", fit.gapRpm],
    ]),
  ];
}

function capsuleFacts(fit: CapsuleFit, vacuumUnit: VacuumUnit): readonly Fact[] {
  const inUnit = (pa: number) => vacuumFromPascals(pa, vacuumUnit);
  const vacuum = (one: ToldFigure) =>
    `${plusMinus(inUnit(one.value), inUnit(expandedOf(one)), "")} ${vacuumUnit}`;
  const slope = (one: ToldFigure) =>
    `${plusMinus(one.value / inUnit(1000), expandedOf(one) / inUnit(1000), "°")} per ${vacuumUnit}`;
  return [
    ...fact("Begins", [[fit.startPa, (one) => `at ${vacuum(one)}`]]),
    ...fact("Slope", [[fit.slopeDegPerKPa, slope]]),
    ...fact("Ends", [
      [fit.endDeg, (one) => `at ${deg(one)}`],
      [fit.endPa, (one) => `reached at ${vacuum(one)}`],
    ]),
    ...fact("Friction", [
      [fit.gapPa, (one) => `gap ${gap(one, vacuum)}`],
      [fit.gapDeg, (one) => gap(one, deg)],
    ]),
    { label: "Error of the form", value: formError(fit) },
    ...untold([
      ["start", fit.startPa],
      ["slope", fit.slopeDegPerKPa],
      ["end", fit.endDeg],
      ["friction", fit.gapPa],
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
function untold(figures: readonly (readonly [string, Figure])[]): Fact[] {
  const texts = figures.flatMap(([name, figure]) =>
    isTold(figure) ? [] : [`${name} (${WHY[figure.why]})`],
  );
  return texts.length === 0 ? [] : [{ label: "Cannot be told", value: texts.join(", ") }];
}

/** What every forecast by it carries. */
function formError({ modelErrorDeg }: WeightsFit | CapsuleFit): string {
  return modelErrorDeg < 0.005
    ? "none beyond the readings' own"
    : `${fixed(modelErrorDeg, 2)}° beside the readings' own`;
}

/** A gap that may as well be none is told by its upper end. */
function gap(figure: ToldFigure, text: (figure: ToldFigure) => string): string {
  const expanded = expandedOf(figure);
  if (figure.value > expanded) return `of ${text(figure)}`;
  const most = text({ ...figure, value: Math.max(0, figure.value) + expanded, coverageFactor: 0 });
  return `below ${most}`;
}

function expandedOf({ coverageFactor, standardUncertainty }: ToldFigure): number {
  return coverageFactor * standardUncertainty;
}

function rpm(figure: ToldFigure): string {
  return `${plusMinus(figure.value, expandedOf(figure), "", 0)} rpm`;
}

function deg(figure: ToldFigure): string {
  return plusMinus(figure.value, expandedOf(figure), "°");
}

/** As many digits as the uncertainty has sense for, which is rounded up; a limit, without one, likewise. */
function plusMinus(value: number, expanded: number, sign: string, most = 2): string {
  const digits = (expanded || value / 10) >= 0.1 ? Math.min(1, most) : most;
  const roundedUp = (one: number) =>
    fixed(Math.ceil(one * 10 ** digits - 1e-9) / 10 ** digits, digits);
  return expanded === 0
    ? `${roundedUp(value)}${sign}`
    : `${fixed(value, digits)} ± ${roundedUp(expanded)}${sign}`;
}
