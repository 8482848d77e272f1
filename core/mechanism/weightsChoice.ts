// Which of the weights' forms the readings support: knee, step, levers that change. By the loads they show.
import { fitLinear } from "../fit/leastSquares.ts";
import { type BranchReading, ownDeg } from "./branchReading.ts";
import type { Problem } from "./observation.ts";
import type { Sight } from "./sight.ts";
import { advanceAt, springRate, type WeightsForm } from "./weightsForm.ts";

type Parameter = keyof WeightsForm;

const BARE: WeightsForm = {
  startLoad: 0,
  firstRate: 0,
  firstBend: 0,
  leverGrowthPerDeg: 0,
  kneeDeg: null,
  secondRate: 0,
  secondBend: 0,
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

interface Choice {
  readonly names: readonly Parameter[];
  readonly form: WeightsForm;
  /** Akaike's criterion with its correction for few readings (Hurvich and Tsai 1989, from memory). */
  readonly criterion: number;
}

/**
 * The best of every shape that the readings are enough for, to be fitted more closely, the likeliest
 * shape first. A shape may still turn out to have figures that these readings cannot tell apart.
 */
export function chosenProblems(sight: Sight): Problem<WeightsForm>[] {
  const first = SHAPES.map((shape) =>
    choices(sight, [
      "startLoad",
      "firstRate",
      ...shape,
      ...(sight.comesBack ? ["frictionLoad" as const] : []),
    ]),
  );
  const best = bestOf(first.flat());
  if (best === null) return [];
  const others = sight.comesBack ? frictions(best.names) : [];
  const all = [...first, ...others.map((names) => choices(sight, names))];
  return all
    .map(bestOf)
    .filter((one) => one !== null)
    .sort((a, b) => a.criterion - b.criterion)
    .map((one) => problemOf(sight, one, all.flat()));
}

const KNEE = ["kneeDeg", "secondRate"] as const;
const SHAPES: readonly (readonly Parameter[])[] = [
  [],
  ["leverGrowthPerDeg"],
  ["leverGrowthPerDeg", "firstBend"],
  KNEE,
  [...KNEE, "leverGrowthPerDeg"],
  [...KNEE, "secondBend"],
  [...KNEE, "leverGrowthPerDeg", "secondBend"],
  [...KNEE, "leverGrowthPerDeg", "firstBend", "secondBend"],
  [...KNEE, "stepLoad"],
  [...KNEE, "stepLoad", "leverGrowthPerDeg"],
];

function frictions(names: readonly Parameter[]): (readonly Parameter[])[] {
  return [
    names.map((name) => (name === "frictionLoad" ? "frictionShare" : name)),
    [...names, "frictionShare"],
  ];
}

function bestOf(choices: readonly Choice[]): Choice | null {
  return choices.reduce<Choice | null>(
    (best, one) => (best === null || one.criterion < best.criterion ? one : best),
    null,
  );
}

const KNEE_PLACES = 40;
/** A knee nearer than this share of the travel to either end is told by no reading. */
const KNEE_MARGIN = 0.05;

const FINER = 14;

/** With a knee at many places, and closer about the best of them. */
function choices(sight: Sight, names: readonly Parameter[]): Choice[] {
  if (!names.includes("kneeDeg"))
    return [byLoads(sight, names, null)].filter((one) => one !== null);
  const step = ((1 - 2 * KNEE_MARGIN) * sight.topDeg) / KNEE_PLACES;
  const even = Array.from(
    { length: KNEE_PLACES + 1 },
    (_, i) => KNEE_MARGIN * sight.topDeg + i * step,
  );
  const found = [...even, ...(names.includes("stepLoad") ? flats(sight) : [])]
    .map((place) => byLoads(sight, names, place))
    .filter((one) => one !== null);
  const best = bestOf(found);
  return best === null ? [] : [...found, closer(sight, best, step)];
}

/** Advances that hardly change from one reading to the next: a second spring's initial load holds them. */
function flats({ readings }: Sight): number[] {
  return readings.flatMap((one, i) => {
    const next = readings[i + 1];
    if (next === undefined || next.branch !== one.branch || !one.isOnSlope) return [];
    const [low, high] = [one.point.advanceDeg - one.restDeg, next.point.advanceDeg - next.restDeg];
    return Math.abs(high - low) < onStepDeg(one) + onStepDeg(next) ? [(low + high) / 2] : [];
  });
}

/** So near the knee a reading may stand on the step. */
function onStepDeg({ point }: BranchReading): number {
  return 3 * ownDeg(point);
}

/** Goes on to either side by ever smaller steps while that is better. */
function closer(sight: Sight, from: Choice, firstStep: number): Choice {
  let best = from;
  let step = firstStep / 2;
  for (let i = 0; i < FINER; i++) {
    const kneeDeg = best.form.kneeDeg ?? 0;
    const beside = [kneeDeg - step, kneeDeg + step]
      .map((place) => byLoads(sight, from.names, place))
      .filter((one) => one !== null);
    best = bestOf([best, ...beside]) ?? best;
    step /= 2;
  }
  return best;
}

/** Squares so far below what the uncertainties lead one to expect speak for no form. */
const LEAST_SQUARES = 0.05;
const ROUNDS = 3;
/** An uncertainty, (1000 rpm)², that takes a load out of the fit. */
const UNSAID = 1e6;

/**
 * A straight fit of the loads that readings on the slope show, (1000 rpm)². What is uncertain is the
 * advance: a load is weighed by how much of it one degree makes, which each round knows better.
 */
function byLoads(sight: Sight, names: readonly Parameter[], kneeDeg: number | null): Choice | null {
  const readings = sight.readings.filter(({ isOnSlope }) => isOnSlope);
  const columns = names.filter((name) => name !== "kneeDeg");
  // The variance is a parameter too.
  const free = names.length + 1;
  const spare = readings.length - free - 1;
  if (spare < 1) return null;
  const values = readings.map(({ point }) => (point.x / 1000) ** 2);
  const design = readings.map((reading) => columns.map((name) => column(name, reading, kneeDeg)));
  const hasStep = names.includes("stepLoad");
  let form: WeightsForm | null = null;
  let squares = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const standardUncertainties = readings.map((reading, i) => {
      const deg = reading.point.advanceDeg - reading.restDeg;
      const isOnStep = hasStep && Math.abs(deg - (kneeDeg ?? deg)) < onStepDeg(reading);
      // What stands on the step says nothing of the load.
      return isOnStep ? UNSAID : ownDeg(reading.point) * loadByDegree(form, deg, values[i] ?? 0);
    });
    const fit = fitLinear(design, { values, standardUncertainties });
    if (!fit.converged) return null;
    form = {
      ...BARE,
      ...Object.fromEntries(columns.map((name, i) => [name, fit.parameters[i] ?? 0])),
      kneeDeg,
    };
    if (!isSound(form)) return null;
    squares = fit.residualSum;
  }
  if (form === null) return null;
  const variance = Math.max(squares / readings.length, LEAST_SQUARES);
  const criterion = readings.length * Math.log(variance) + 2 * free * (1 + (free + 1) / spare);
  return { names, form, criterion };
}

function isSound(form: WeightsForm): boolean {
  return form.firstRate > 0 && form.secondRate >= 0 && form.stepLoad >= 0 && form.startLoad >= 0;
}

/** What one degree more makes of the load at a reading; unknown and the same everywhere at first. */
function loadByDegree(form: WeightsForm | null, deg: number, speed: number): number {
  if (form === null) return 1;
  return Math.max(springRate(form, deg) - form.leverGrowthPerDeg * speed, 1e-4);
}

function column(
  name: Parameter,
  { point, restDeg, branch }: BranchReading,
  kneeDeg: number | null,
): number {
  const { x } = point;
  const advanceDeg = point.advanceDeg - restDeg;
  const speed = (x / 1000) ** 2;
  const beyond = kneeDeg === null ? 0 : Math.max(0, advanceDeg - kneeDeg);
  const sign = branch === "rising" ? 1 : -1;
  switch (name) {
    case "startLoad":
      return 1;
    case "firstRate":
      return advanceDeg;
    case "firstBend":
      return advanceDeg ** 2;
    case "leverGrowthPerDeg":
      return -speed * advanceDeg;
    case "secondRate":
      return beyond;
    case "secondBend":
      return beyond ** 2;
    case "stepLoad":
      return beyond > 0 ? 1 : 0;
    case "frictionLoad":
      return sign;
    case "frictionShare":
      return sign * speed;
    default:
      return 0;
  }
}

/** Forms less likely than this against the best are left out. */
const LEAST_LIKELY = 0.01;

function problemOf(
  { readings, topDeg, stands, comesBack, leftDeg }: Sight,
  chosen: Choice,
  all: readonly Choice[],
): Problem<WeightsForm> {
  const names: readonly Parameter[] = [
    ...chosen.names,
    ...(stands ? ["stopDeg" as const] : []),
    ...(leftDeg > 0 ? ["homeDeg" as const] : []),
  ];
  const ends = { stopDeg: stands ? topDeg : null, homeDeg: leftDeg };
  const start = { ...chosen.form, ...ends };
  const copies = comesBack ? 2 : 1;
  const weighed = [chosen, ...all.filter((one) => one !== chosen)]
    .map(({ form, criterion }) => ({
      form: { ...form, ...ends },
      likelihood: Math.exp((chosen.criterion - criterion) / (2 * copies)),
    }))
    .filter(({ likelihood }) => likelihood > LEAST_LIKELY);
  const sum = weighed.reduce((total, { likelihood }) => total + likelihood, 0);
  return {
    readings,
    rivals: weighed.map(({ form, likelihood }) => ({ form, share: likelihood / sum })),
    copies,
    start: names.map((name) => start[name] ?? 0),
    bounds: {
      lower: names.map((name) => LOWEST[name] ?? Number.NEGATIVE_INFINITY),
      upper: names.map((name) => (name === "kneeDeg" ? topDeg : Number.POSITIVE_INFINITY)),
    },
    formOf: (parameters) => ({
      ...BARE,
      ...Object.fromEntries(names.map((name, i) => [name, parameters[i] ?? 0])),
    }),
    predict: advanceAt,
  };
}
