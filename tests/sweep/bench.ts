// A sweep of a random unit without rig: turns on the ramps, readings with noise, spindle time by the rules.
import { nextReading, type PlacedReading, type SweepGoal } from "../../core/sweep/choice.ts";
import { curveAt } from "../../core/sweep/curve.ts";
import type { Gap } from "../../core/sweep/gaps.ts";
import { scoutRate } from "../../core/sweep/scout.ts";
import type { TraceTurn } from "../../core/sweep/trace.ts";
import type { CentrifugalUnit } from "../../sim/mechanism.ts";
import { CentrifugalMotion } from "../../sim/weights.ts";
import { type Branch, Dice, TrueCurve } from "./randomUnit.ts";

export interface Costs {
  readonly rampRpmPerS: number;
  readonly readingS: number;
}

const REFERENCE_RPM = 150;
const WANTED_DEG = 0.1;
const TURN_NOISE_DEG = 0.04;

export interface Outcome {
  readonly seconds: number;
  readonly readings: number;
  readonly approaches: number;
  readonly worstDeg: number;
  readonly worstX: number;
  readonly unknown: readonly Gap[];
  readonly curves: Readonly<Record<Branch, readonly PlacedReading[]>>;
  readonly traces: Readonly<Record<Branch, readonly TraceTurn[]>>;
}

function readingTime(rpm: number, costs: Costs): number {
  const windowS = Math.max(180 / rpm, 0.15);
  return 2 * windowS + Math.max(3, Math.ceil((rpm / 60) * costs.readingS)) * (60 / rpm);
}

export function scout(
  unit: CentrifugalUnit,
  highRpm: number,
  costs: Costs,
  dice: Dice,
): { readonly traces: Record<Branch, TraceTurn[]>; readonly seconds: number } {
  const motion = new CentrifugalMotion(unit);
  let rpm = REFERENCE_RPM;
  let seconds = 0;
  let phase = 0;
  let sum = 0;
  let steps = 0;
  let startS = 0;
  const traces: Record<Branch, TraceTurn[]> = { rising: [], falling: [] };
  for (const [branch, goal] of [
    ["rising", highRpm],
    ["falling", REFERENCE_RPM],
  ] as const) {
    let rate = scoutRate([], rpm, costs.rampRpmPerS);
    while (rpm !== goal) {
      const change = rate * 0.001;
      rpm = rpm < goal ? Math.min(goal, rpm + change) : Math.max(goal, rpm - change);
      motion.step(0.001, (rpm * Math.PI) / 30, 1);
      seconds += 0.001;
      phase += (rpm / 60) * 0.001;
      sum += motion.advanceDeg;
      steps++;
      if (phase < 1) continue;
      const overS = ((phase - 1) * 60) / rpm;
      const turnS = seconds - overS - startS;
      const advanceDeg = sum / steps + TURN_NOISE_DEG * dice.normal();
      traces[branch].push({ x: 60 / turnS, advanceDeg, xPerS: rate });
      rate = scoutRate(traces[branch], rpm, costs.rampRpmPerS);
      phase -= 1;
      [sum, steps, startS] = [0, 0, seconds - overS];
    }
  }
  return { traces, seconds };
}

export function sweep(
  unit: CentrifugalUnit,
  range: { readonly lowRpm: number; readonly highRpm: number },
  noiseDeg: number,
  costs: Costs,
  seed: number,
  readingsMax = 80,
): Outcome {
  const dice = new Dice(seed, 5);
  const { lowRpm: lowX, highRpm: highX } = range;
  const goal: SweepGoal = { axis: "speed", lowX, highX, rowsX: [], knownWithinDeg: WANTED_DEG };
  const { traces, seconds: scoutS } = scout(unit, highX, costs, dice);
  let seconds = scoutS;
  let count = 0;
  let approaches = 0;
  let worstDeg = 0;
  let worstX = 0;
  let atX = REFERENCE_RPM;
  const unknown: Gap[] = [];
  const curves = { rising: [] as PlacedReading[], falling: [] as PlacedReading[] };
  for (const branch of ["rising", "falling"] as const) {
    const curve = new TrueCurve(unit, branch);
    const other = new TrueCurve(unit, branch === "rising" ? "falling" : "rising");
    const readings = curves[branch];
    atX = branch === "rising" ? Math.min(atX, lowX - 1) : highX + 1;
    for (;;) {
      const choice = nextReading(goal, {
        branch,
        trace: traces[branch],
        readings,
        atX,
        barren: [],
        readingsLeft: 1000,
      });
      if (choice.next === "done" || readings.length >= readingsMax) {
        if (choice.next === "done") unknown.push(...choice.unknown);
        break;
      }
      if (choice.again) {
        approaches++;
        // Back until the other branch lies beyond what this one will show.
        const sign = branch === "rising" ? -1 : 1;
        let back = choice.x;
        const there = curve.at(choice.x);
        while (sign * (other.at(back) - there) < 0.1 && back > REFERENCE_RPM && back < highX) {
          back += sign * 5;
        }
        if (back < REFERENCE_RPM) back = REFERENCE_RPM;
        seconds += Math.abs(back - atX) / costs.rampRpmPerS + 0.3;
        atX = back;
      }
      seconds += Math.abs(choice.x - atX) / costs.rampRpmPerS + readingTime(choice.x, costs);
      atX = choice.x;
      count++;
      readings.push({
        x: choice.x,
        targetX: choice.x,
        advanceDeg: curve.at(choice.x) + noiseDeg * dice.normal(),
        standardUncertaintyDeg: noiseDeg,
        repeatabilityDeg: noiseDeg,
        xStandardUncertainty: 0.02,
      });
    }
    readings.sort((a, b) => a.x - b.x);
    for (let x = lowX; x <= highX; x += 0.5) {
      const off = Math.abs((curveAt("speed", readings, x) ?? Number.NaN) - curve.at(x));
      if (off > worstDeg) [worstDeg, worstX] = [off, branch === "rising" ? x : -x];
    }
  }
  return { seconds, readings: count, approaches, worstDeg, worstX, unknown, curves, traces };
}

/** The fewest even steps that meet the same without any noise, or null up to 400 of them. */
export function evenSteps(
  unit: CentrifugalUnit,
  range: { readonly lowRpm: number; readonly highRpm: number },
  costs: Costs,
): { readonly count: number; readonly seconds: number } | null {
  const { lowRpm, highRpm } = range;
  const curves = [new TrueCurve(unit, "rising"), new TrueCurve(unit, "falling")];
  const grid: number[] = [];
  for (let x = lowRpm; x <= highRpm; x += 1) grid.push(x);
  const truths = curves.map((curve) => grid.map((x) => curve.at(x)));
  for (let count = 2; count <= 400; count++) {
    const xs = Array.from(
      { length: count },
      (_, i) => lowRpm + (i / (count - 1)) * (highRpm - lowRpm),
    );
    const meets = curves.every((curve, c) => {
      const at = xs.map((x) => curve.at(x));
      return (["rpm", "n²"] as const).some((way) =>
        grid.every((x, g) => {
          const i = Math.min(
            count - 2,
            Math.floor(((x - lowRpm) / (highRpm - lowRpm)) * (count - 1)),
          );
          const [a, b] = [xs[i] as number, xs[i + 1] as number];
          const share = way === "rpm" ? (x - a) / (b - a) : (x * x - a * a) / (b * b - a * a);
          const line = (at[i] as number) + share * ((at[i + 1] as number) - (at[i] as number));
          return Math.abs(line - (truths[c]?.[g] as number)) <= WANTED_DEG;
        }),
      );
    });
    if (!meets) continue;
    const readings = xs.reduce((sum, x) => sum + readingTime(x, costs), 0);
    const seconds = 2 * readings + (2 * (highRpm - REFERENCE_RPM)) / costs.rampRpmPerS;
    return { count, seconds };
  }
  return null;
}

/** From below the start to beyond the stop, or null where that is no unit for a rig. */
export function rangeOf(unit: CentrifugalUnit): { lowRpm: number; highRpm: number } | null {
  const falling = new TrueCurve(unit, "falling");
  const rising = new TrueCurve(unit, "rising");
  const lowRpm = Math.max(180, Math.round(0.8 * falling.startRpm()));
  const highRpm = Math.round(1.1 * rising.stopRpm());
  if (rising.startRpm() < 200 || highRpm > 4500 || highRpm < 600) return null;
  if (Math.max(rising.steepest(), falling.steepest()) > 0.2) return null;
  return { lowRpm, highRpm };
}
