// Which of the centrifugal unit's forms the readings support: with or without knee, step, growing lever.
import { fitLinear } from "../fit/leastSquares.ts";
import { type BranchReading, criterion, type FormFit, fitForm, type Problem } from "./formFit.ts";
import { advanceAt, type WeightsForm } from "./weightsForm.ts";

type Parameter = keyof WeightsForm;

const BARE: WeightsForm = {
  startLoad: 0,
  firstRate: 0,
  leverGrowthPerDeg: 0,
  kneeDeg: null,
  secondRate: 0,
  stepLoad: 0,
  stopDeg: null,
  frictionLoad: 0,
  frictionShare: 0,
  homeDeg: 0,
};

const LOWEST: Partial<Record<Parameter, number>> = {
  startLoad: 0,
  firstRate: 1e-6,
  kneeDeg: 0,
  secondRate: 0,
  stepLoad: 0,
  homeDeg: 0,
};

export interface Sight {
  readonly readings: readonly BranchReading[];
  /** Largest advance read, and whether readings stand level there. */
  readonly topDeg: number;
  readonly stands: boolean;
  readonly comesBack: boolean;
  /** Advance that the falling branch ends with, where it clearly does. */
  readonly leftDeg: number;
}

/** Readings on the slope, clear of rest and stop by this, show loads. */
export const CLEAR_DEG = 0.15;
const KNEE_PLACES = 24;
/** A knee nearer than this share of the travel to either end would be told by no reading. */
const KNEE_MARGIN = 0.06;

/** The best of all forms that the readings are enough for; null where none fits. */
export function chosenForm(sight: Sight): FormFit<WeightsForm> | null {
  const friction: Parameter[] = sight.comesBack ? ["frictionLoad"] : [];
  const basis: Parameter[] = [
    "startLoad",
    "firstRate",
    ...friction,
    ...(sight.stands ? ["stopDeg" as const] : []),
    ...(sight.leftDeg > 0 ? ["homeDeg" as const] : []),
  ];
  const knees: Parameter[][] = [
    [],
    ["kneeDeg", "secondRate"],
    ["kneeDeg", "secondRate", "stepLoad"],
  ];
  const levers: Parameter[][] = [[], ["leverGrowthPerDeg"]];
  const shapes = knees.flatMap((knee) => levers.map((lever) => [...basis, ...knee, ...lever]));
  const best = bestOf(shapes.map((names) => fitted(sight, names)));
  if (best === null || !sight.comesBack) return best?.fit ?? null;
  const others: Parameter[][] = [
    best.names.map((name) => (name === "frictionLoad" ? "frictionShare" : name)),
    [...best.names, "frictionShare"],
  ];
  return bestOf([best, ...others.map((names) => fitted(sight, names))])?.fit ?? null;
}

interface Choice {
  readonly names: readonly Parameter[];
  readonly fit: FormFit<WeightsForm>;
}

function bestOf(choices: readonly (Choice | null)[]): Choice | null {
  return choices
    .filter((one) => one !== null)
    .reduce<Choice | null>(
      (best, one) => (best === null || criterion(one.fit) < criterion(best.fit) ? one : best),
      null,
    );
}

/** With a knee the search begins from the best places along the travel, since it finds the nearest only. */
function fitted(sight: Sight, names: readonly Parameter[]): Choice | null {
  const starts = names.includes("kneeDeg")
    ? kneeStarts(sight, names)
    : [startOf(sight, null, names)];
  const fits = starts
    .filter((start) => start !== null)
    .map((start) => fitForm(problemOf(sight, names, start)))
    .filter((fit) => fit !== null)
    .sort((a, b) => a.squares - b.squares);
  const [fit] = fits;
  return fit === undefined ? null : { names, fit };
}

function kneeStarts(sight: Sight, names: readonly Parameter[]): (WeightsForm | null)[] {
  const places = Array.from(
    { length: KNEE_PLACES },
    (_, i) => sight.topDeg * (KNEE_MARGIN + ((1 - 2 * KNEE_MARGIN) * i) / (KNEE_PLACES - 1)),
  );
  const starts = places.map((kneeDeg) => startOf(sight, kneeDeg, names));
  const squares = starts.map((start) =>
    start === null ? Number.POSITIVE_INFINITY : squaresOf(sight, start),
  );
  const isLeast = (i: number) =>
    (squares[i] ?? 0) < Number.POSITIVE_INFINITY &&
    (squares[i] ?? 0) <= (squares[i - 1] ?? Number.POSITIVE_INFINITY) &&
    (squares[i] ?? 0) <= (squares[i + 1] ?? Number.POSITIVE_INFINITY);
  return starts
    .map((start, i) => ({ start, i }))
    .filter(({ i }) => isLeast(i))
    .sort((a, b) => (squares[a.i] ?? 0) - (squares[b.i] ?? 0))
    .slice(0, 2)
    .map(({ start }) => start);
}

function squaresOf({ readings }: Sight, form: WeightsForm): number {
  return readings.reduce(
    (sum, { point, branch }) => sum + (advanceAt(form, point.x, branch) - point.advanceDeg) ** 2,
    0,
  );
}

/** By a straight fit of the loads of readings on the slope; null where they cannot tell it. */
function startOf(
  { readings, topDeg, stands, leftDeg }: Sight,
  kneeDeg: number | null,
  names: readonly Parameter[],
): WeightsForm | null {
  const onSlope = readings.filter(({ point }) => isOnSlope(point.advanceDeg, topDeg, stands));
  const columns: Parameter[] = names.filter((name) =>
    ["startLoad", "firstRate", "secondRate", "stepLoad", "frictionLoad"].includes(name),
  );
  const design = onSlope.map(({ point: { advanceDeg }, branch }) =>
    columns.map((name) => {
      const beyond = kneeDeg === null ? 0 : advanceDeg - kneeDeg;
      if (name === "startLoad") return 1;
      if (name === "firstRate") return advanceDeg;
      if (name === "secondRate") return Math.max(0, beyond);
      if (name === "stepLoad") return beyond > 0 ? 1 : 0;
      return branch === "rising" ? 1 : -1;
    }),
  );
  const fit = fitLinear(design, { values: onSlope.map(({ point }) => (point.x / 1000) ** 2) });
  if (!fit.converged) return null;
  const found = Object.fromEntries(columns.map((name, i) => [name, fit.parameters[i] ?? 0]));
  return {
    ...BARE,
    ...found,
    kneeDeg,
    stopDeg: stands ? topDeg : null,
    homeDeg: leftDeg,
  };
}

export function isOnSlope(advanceDeg: number, topDeg: number, stands: boolean): boolean {
  return advanceDeg > CLEAR_DEG && (!stands || advanceDeg < topDeg - CLEAR_DEG);
}

function problemOf(
  { readings, topDeg, stands }: Sight,
  names: readonly Parameter[],
  start: WeightsForm,
): Problem<WeightsForm> {
  const fixed = { ...BARE, stopDeg: stands ? topDeg : null };
  const highest = (name: Parameter) => (name === "kneeDeg" ? topDeg : Number.POSITIVE_INFINITY);
  return {
    readings,
    start: names.map((name) => start[name] ?? 0),
    bounds: {
      lower: names.map((name) => LOWEST[name] ?? Number.NEGATIVE_INFINITY),
      upper: names.map(highest),
    },
    formOf: (parameters) => ({
      ...fixed,
      ...Object.fromEntries(names.map((name, i) => [name, parameters[i] ?? 0])),
    }),
    predict: advanceAt,
  };
}
