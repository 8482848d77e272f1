// Bar: sweeps that choose their readings know the whole curve in half the spindle time of even steps.
import type { CurvePoint } from "../../core/documents.ts";
import { parseScenario, type Scenario } from "../../sim/scenario.ts";
import {
  type Branch,
  centrifugalAdvanceDeg,
  centrifugalStartRpm,
  centrifugalStopRpm,
  vacuumAdvanceDeg,
} from "../../sim/truth.ts";
import { atMost, type Bar, beside, type Figure } from "../bar.ts";
import { Draw } from "../draw.ts";
import { type DrawnUnit, drawUnit } from "../drawn/unit.ts";
import { measureReadings, type StandInRun } from "../standIn.ts";
import { capsuleEndPa, capsuleStartPa, installedCapsule } from "../truth.ts";

const KNOWN_DEG = 0.1;
const TIME_SHARE = 0.5;
/** Of the sweeps whose whole curve must be known so well: what an expanded uncertainty promises. */
const KNOWN_SHARE = 0.95;
const PLACES = 500;
/** So far beyond the outermost readings their angle is taken to go on: nothing meets its place exactly. */
const EDGE_SHARE = 0.0025;
const BRANCHES: readonly Branch[] = ["rising", "falling"];
/** Even steps that a plan file may ask for; a run of more is reckoned from two shorter ones. */
const EVEN_MAX = 99;
/** Both ways of sweeping read and settle alike, and end a reading by one rule. */
const COMMON = {
  hold: false,
  secondsPerReading: 4,
  repeatsWithinDeg: KNOWN_DEG / 20,
  rampRpmPerS: 300,
} as const;

/** Crankshaft rpm, more than any drawn unit needs. */
const SPEED_MAX_RPM = 8000;

type Axis = "speed" | "vacuum";

/** One branch's truth over its axis: rpm or pascals to degrees. */
interface Sweep {
  readonly axis: Axis;
  readonly low: number;
  readonly high: number;
  /** Degrees at the even places of `evenPlaces(sweep, PLACES)`. */
  readonly truths: Readonly<Record<Branch, readonly number[]>>;
}

export interface ChooseResult {
  readonly axis: Axis;
  readonly chosenS: number;
  readonly evenS: number;
  readonly readings: number;
  readonly evenSteps: number;
  /** Places of the chosen sweep's curve known within the limit, of all places, and the largest error. */
  readonly known: number;
  readonly places: number;
  readonly worstDeg: number;
}

function job(index: number): Promise<ChooseResult> {
  return comparedSweeps(index % 2 === 0 ? "speed" : "vacuum", new Draw("choose", index));
}

/** One drawn unit swept both ways. */
export async function comparedSweeps(axis: Axis, draw: Draw): Promise<ChooseResult> {
  const unit = axis === "speed" ? drawUnit(draw) : drawUnitWithCapsule(draw);
  const content = {
    ...unit.scenario,
    seed: draw.seed(),
    rig: {
      pickupEdges: 36,
      couplingDeg: draw.uniform(0, 359.9),
      sensorNoisePa: 25,
      eventJitterUs: 1.5,
      indexJitterUs: 1,
    },
  };
  const sweep = sweepOf(axis, parseScenario(content, "scenario"));
  const run = (plan: object) =>
    measureReadings({
      unit: withoutRows(axis, unit.unitFile as UnitContent),
      scenario: content,
      plan: { ...COMMON, ...plan },
      rig: { vacuumSensorStandardUncertaintyPa: 1 },
    });
  const chosen = await run(chosenPlan(sweep));
  const errors = errorsOf(sweep, chosen);
  const evenSteps = fewestEvenSteps(sweep);
  return {
    axis,
    chosenS: chosen.rigS,
    evenS: await evenSeconds(sweep, evenSteps, run),
    readings: BRANCHES.reduce((sum, branch) => sum + curveOf(axis, chosen, branch).length, 0),
    evenSteps,
    known: errors.filter((error) => error <= KNOWN_DEG).length,
    places: errors.length,
    worstDeg: Math.max(...errors),
  };
}

interface UnitContent {
  readonly speed?: unknown;
  readonly capsules?: readonly Readonly<Record<string, unknown>>[];
}

/** Printed rows get a reading whatever is known there; neither way of sweeping is to read any for them. */
function withoutRows(axis: Axis, unit: UnitContent): unknown {
  if (axis === "speed") {
    const { speed: _, ...rest } = unit;
    return { ...rest, speedMaxRpm: SPEED_MAX_RPM };
  }
  return { ...unit, capsules: unit.capsules?.map(({ rows: _, ...rest }) => rest) };
}

function drawUnitWithCapsule(draw: Draw): DrawnUnit {
  for (;;) {
    const unit = drawUnit(draw);
    if ((unit.scenario.capsules as unknown[]).length > 0) return unit;
  }
}

/** From well below the start to a little past the end, in what a rig can be told. */
function sweepOf(axis: Axis, scenario: Scenario): Sweep {
  if (axis === "speed") {
    const start = centrifugalStartRpm(scenario, "falling") ?? 0;
    const low = Math.max(60, Math.floor(0.7 * start));
    const high = Math.ceil(1.08 * (centrifugalStopRpm(scenario, "rising") ?? 0));
    return tabulated(axis, low, high, (rpm, branch) =>
      centrifugalAdvanceDeg(scenario, rpm, branch, high),
    );
  }
  const capsule = installedCapsule(scenario);
  if (capsule === null) throw new Error("the unit has no capsule");
  const low = Math.floor(0.7 * capsuleStartPa(capsule, "falling"));
  const high = Math.ceil(1.08 * capsuleEndPa(capsule));
  return tabulated(axis, low, high, (pascals, branch) =>
    vacuumAdvanceDeg(scenario, pascals, branch),
  );
}

function tabulated(
  axis: Axis,
  low: number,
  high: number,
  truth: (x: number, branch: Branch) => number,
): Sweep {
  const places = evenPlaces({ low, high }, PLACES);
  const along = (branch: Branch) => places.map((x) => truth(x, branch));
  return { axis, low, high, truths: { rising: along("rising"), falling: along("falling") } };
}

function chosenPlan({ axis, low, high }: Sweep): object {
  const range = { knownWithinDeg: KNOWN_DEG };
  return axis === "speed"
    ? { chooseSpeeds: { ...range, lowestRpm: low, highestRpm: high }, vacuums: NONE }
    : { speedsRpm: [], chooseVacuums: { ...range, unit: "Pa", lowest: low, highest: high } };
}

const NONE = { unit: "Pa", values: [] } as const;

function evenPlan(sweep: Sweep, steps: number): object {
  const places = evenPlaces(sweep, steps);
  return sweep.axis === "speed"
    ? { speedsRpm: places.map((rpm) => Math.round(10 * rpm) / 10), vacuums: NONE }
    : { speedsRpm: [], vacuums: { unit: "Pa", values: places.map(Math.round) } };
}

function evenPlaces({ low, high }: Pick<Sweep, "low" | "high">, steps: number): number[] {
  return Array.from({ length: steps + 1 }, (_, i) => low + ((high - low) * i) / steps);
}

function curveOf(axis: Axis, { end }: StandInRun, branch: Branch): readonly CurvePoint[] {
  return axis === "speed" ? end.result.speed[branch] : (end.result.capsules[0]?.[branch] ?? []);
}

/** Straight lines over n², or over the vacuum: what both ways of sweeping draw between their readings. */
function between(
  axis: Axis,
  points: readonly Pick<CurvePoint, "x" | "advanceDeg">[],
  x: number,
): number {
  const reduced = (value: number) => (axis === "speed" ? value ** 2 : value);
  const above = points.findIndex((point) => point.x >= x);
  const to = points[above];
  const from = points[above - 1];
  if (to === undefined || from === undefined) return Number.NaN;
  const share = (reduced(x) - reduced(from.x)) / (reduced(to.x) - reduced(from.x));
  return from.advanceDeg + share * (to.advanceDeg - from.advanceDeg);
}

/** At even places of both branches; a place outside all readings is not known at all. */
function errorsOf(sweep: Sweep, run: StandInRun): number[] {
  const { axis, low, high, truths } = sweep;
  const edge = EDGE_SHARE * (high - low);
  return BRANCHES.flatMap((branch) => {
    const read = curveOf(axis, run, branch);
    const [first, last] = [read[0], read.at(-1)];
    if (first === undefined || last === undefined) return [Number.POSITIVE_INFINITY];
    const curve = [{ ...first, x: first.x - edge }, ...read, { ...last, x: last.x + edge }];
    return evenPlaces(sweep, PLACES).map((x, i) => {
      const error = Math.abs(between(axis, curve, x) - (truths[branch][i] as number));
      return Number.isNaN(error) ? Number.POSITIVE_INFINITY : error;
    });
  });
}

/** The fewest whose lines alone, through readings without any error, know the whole curve of both branches. */
function fewestEvenSteps(sweep: Sweep): number {
  const { axis, truths } = sweep;
  const places = evenPlaces(sweep, PLACES);
  const enough = (steps: number) =>
    BRANCHES.every((branch) => {
      const points = evenPlaces(sweep, steps).map((x) => ({
        x,
        advanceDeg: truthAt(sweep, branch, x),
      }));
      return places.every((x, i) => {
        const error =
          between(axis, points, Math.min(x, points.at(-1)?.x ?? x)) - (truths[branch][i] as number);
        return i === 0 || Math.abs(error) <= KNOWN_DEG;
      });
    });
  let steps = 3;
  while (!enough(steps) && steps < PLACES) steps++;
  return steps;
}

function truthAt({ low, high, truths }: Sweep, branch: Branch, x: number): number {
  const cell = ((x - low) / (high - low)) * PLACES;
  const from = Math.max(0, Math.min(PLACES - 1, Math.floor(cell)));
  const [a, b] = [truths[branch][from] as number, truths[branch][from + 1] as number];
  return a + (cell - from) * (b - a);
}

async function evenSeconds(
  sweep: Sweep,
  steps: number,
  run: (plan: object) => Promise<StandInRun>,
): Promise<number> {
  if (steps < EVEN_MAX) return (await run(evenPlan(sweep, steps))).rigS;
  const half = (await run(evenPlan(sweep, EVEN_MAX / 2))).rigS;
  const whole = (await run(evenPlan(sweep, EVEN_MAX - 1))).rigS;
  return whole + ((steps - EVEN_MAX + 1) * (whole - half)) / (EVEN_MAX / 2 - 1);
}

function figures(results: readonly ChooseResult[]): readonly Figure[] {
  return (["speed", "vacuum"] as const).flatMap((axis) => {
    const own = results.filter((result) => result.axis === axis);
    if (own.length === 0) return [];
    const sum = (value: (result: ChooseResult) => number) =>
      own.reduce((total, result) => total + value(result), 0);
    const whole = own.filter(({ worstDeg }) => worstDeg <= KNOWN_DEG).length / own.length;
    const known = sum((result) => result.known) / sum((result) => result.places);
    const worst = own.map(({ worstDeg }) => worstDeg);
    const shares = own.map(({ chosenS, evenS }) => chosenS / evenS);
    const beyond = shares.filter((share) => share > TIME_SHARE).length / own.length;
    const means = [
      sum((r) => r.readings) / own.length,
      sum((r) => 2 * r.evenSteps + 2) / own.length,
    ];
    return [
      atMost(
        `spindle time of a ${axis} sweep that chooses, as a share of the fewest even steps`,
        sum((result) => result.chosenS) / sum((result) => result.evenS),
        TIME_SHARE,
        own.length,
        "",
        3,
      ),
      {
        what: "… sweeps whose whole curve is within ± 0.1°",
        measured: percent(whole),
        limit: `≥ ${percent(KNOWN_SHARE)}`,
        count: own.length,
        met: whole >= KNOWN_SHARE,
      },
      beside(
        "… places of all curves within ± 0.1°",
        percent(known),
        sum((r) => r.places),
      ),
      beside("… largest error of a sweep: median, 90 %, worst", spreadOf(worst), own.length),
      beside("… share of the time of a unit: median, 90 %, worst", spreadOf(shares), own.length),
      beside("… units on which it takes more than half the time", percent(beyond), own.length),
      beside(
        "… readings a sweep, chosen and even",
        means.map((readings) => readings.toFixed(0)).join(" and "),
        own.length,
      ),
    ];
  });
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}

function spreadOf(values: readonly number[]): string {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.ceil(share * sorted.length) - 1] as number;
  return [0.5, 0.9, 1].map((share) => at(share).toFixed(3)).join(", ");
}

export const choose: Bar<ChooseResult> = {
  name: "choose",
  counts: { short: 40, long: 200 },
  job,
  figures,
};
