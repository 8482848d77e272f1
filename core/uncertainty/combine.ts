// The law of propagation of uncertainty (JCGM 100): from inputs to a combined value with its budget.
import { BobweightError } from "../errors.ts";
import { coverageFactor, effectiveDegreesOfFreedom } from "./coverage.ts";

/** One input; value and uncertainty in its own unit, degrees of freedom 1 to Infinity. */
export interface Input {
  readonly name: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
}

/** Correlation of two inputs, named: −1 to 1. */
export interface Correlation {
  readonly between: readonly [string, string];
  readonly coefficient: number;
}

/** One line of the budget: how far the result follows the input, and |sensitivity| × uncertainty. */
export interface BudgetLine {
  readonly name: string;
  readonly sensitivity: number;
  readonly contribution: number;
  readonly degreesOfFreedom: number;
}

export interface Combined {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  readonly coverageFactor: number;
  readonly expandedUncertainty: number;
  readonly budget: readonly BudgetLine[];
}

export interface CombineOptions {
  /** 0.95 where nothing is said. */
  readonly probability?: number;
  readonly correlations?: readonly Correlation[];
}

/** Smallest step for a slope, as a share of the value: rounding and curvature are both small there. */
const SMALLEST_STEP = 1e-6;

/**
 * Slopes of `model` at the inputs' values by central difference. The step is the standard
 * uncertainty (JCGM 100 § 5.1.3 note 2, from memory), so that the slope is the one that matters
 * over the width in question; at least a small share of the value, against rounding.
 */
export function sensitivitiesOf(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
): number[] {
  const values = inputs.map((input) => input.value);
  return inputs.map(({ value, standardUncertainty }, at) => {
    const step = Math.max(standardUncertainty, SMALLEST_STEP * Math.abs(value)) || SMALLEST_STEP;
    const difference = model(values.with(at, value + step)) - model(values.with(at, value - step));
    return difference / (2 * step);
  });
}

/** Value and uncertainty of `model` at the inputs. */
export function propagate(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  options: CombineOptions = {},
): Combined {
  const value = model(inputs.map((input) => input.value));
  return combine(value, inputs, sensitivitiesOf(model, inputs), options);
}

/**
 * Uncertainty of a result `value` with one sensitivity for each input (result's unit per input's).
 * First-order terms only: JCGM 100 § 5.1.2 and, with correlations, § 5.2.2.
 */
export function combine(
  value: number,
  inputs: readonly Omit<Input, "value">[],
  sensitivities: readonly number[],
  options: CombineOptions = {},
): Combined {
  const budget = inputs.map(({ name, standardUncertainty, degreesOfFreedom }, at) => {
    const sensitivity = sensitivities[at];
    if (sensitivity === undefined || !(standardUncertainty >= 0)) {
      throw new BobweightError("BUG", `input "${name}" has no sensitivity or no uncertainty.`);
    }
    const contribution = Math.abs(sensitivity) * standardUncertainty;
    return { name, sensitivity, contribution, degreesOfFreedom };
  });
  const parts = independentParts(budget, options.correlations ?? []);
  const standardUncertainty = Math.hypot(...parts.map((part) => part.standardUncertainty));
  const degreesOfFreedom = effectiveDegreesOfFreedom(parts);
  const factor = coverageFactor(options.probability ?? 0.95, degreesOfFreedom);
  return {
    value,
    standardUncertainty,
    degreesOfFreedom,
    coverageFactor: factor,
    expandedUncertainty: factor * standardUncertainty,
    budget,
  };
}

/**
 * Welch–Satterthwaite wants independent parts. Inputs that are correlated with any other count
 * together as one part with the fewest degrees of freedom among them: no exact rule is known to
 * JCGM 100, and this errs to the wide side.
 */
function independentParts(
  budget: readonly BudgetLine[],
  correlations: readonly Correlation[],
): { standardUncertainty: number; degreesOfFreedom: number }[] {
  const lineOf = (name: string): BudgetLine => {
    const line = budget.find((candidate) => candidate.name === name);
    if (line === undefined) throw new BobweightError("BUG", `no input is called "${name}".`);
    return line;
  };
  const together = new Set<BudgetLine>();
  let variance = 0;
  for (const { between, coefficient } of correlations) {
    const [first, second] = [lineOf(between[0]), lineOf(between[1])];
    if (first === second || !(Math.abs(coefficient) <= 1)) {
      throw new BobweightError("BUG", `correlation ${coefficient} of ${between.join(" with ")}.`);
    }
    together.add(first).add(second);
    const sign = Math.sign(first.sensitivity * second.sensitivity);
    variance += 2 * coefficient * sign * first.contribution * second.contribution;
  }
  let scale = 0;
  for (const line of together) {
    variance += line.contribution ** 2;
    scale += line.contribution ** 2;
  }
  if (variance < -1e-9 * scale) {
    throw new BobweightError("BUG", "the correlations contradict each other: negative variance.");
  }
  const alone = budget.filter((line) => !together.has(line));
  const parts = alone.map(({ contribution, degreesOfFreedom }) => ({
    standardUncertainty: contribution,
    degreesOfFreedom,
  }));
  if (together.size === 0) return parts;
  const fewest = Math.min(...[...together].map((line) => line.degreesOfFreedom));
  const joint = Math.sqrt(Math.max(0, variance));
  return [...parts, { standardUncertainty: joint, degreesOfFreedom: fewest }];
}
