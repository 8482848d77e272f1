// How each fault of the weights changes the curve, with a size not known beforehand.
import type { FindingKind, Subject } from "./finding.ts";
import type { Nominal } from "./nominal.ts";
import type { Shape } from "./shape.ts";

/**
 * A fault as a change of the shape by its size: `median` times e to the power of `spread` times a
 * standard normal number. What sizes to expect is an assumption, no source.
 */
export interface CurveFault {
  readonly kind: FindingKind;
  readonly subject: Subject;
  /** Which spring, or how the specification was misread. */
  readonly part: string | null;
  /** Probability that a unit on the bench has it, before anything is known. An assumption, no source. */
  readonly prior: number;
  /** Null for a fault that is there or not. */
  readonly size: { readonly median: number; readonly spread: number } | null;
  readonly change: (shape: Shape, size: number) => Shape;
}

const FIRST = "first spring";
const SECOND = "second spring";
const BOTH = "both springs";

/** Share of its load or rate that a spring may have lost or have too much. */
const SPRING_SIZE = { median: 0.25, spread: 0.8 } as const;
const LEAST_LEFT = 0.03;

export const stuck: CurveFault = {
  ...unitFault("weights-stuck", 0.03),
  change: (shape) => ({ ...shape, isStuck: true }),
};
export const friction: CurveFault = {
  ...unitFault("weights-dry", 0.06, { median: 0.12, spread: 0.7 }),
  change: (shape, size) => ({ ...shape, friction: size }),
};
export const notReturning: CurveFault = {
  ...unitFault("weights-not-returning", 0.03, { median: 1.5, spread: 0.9 }),
  change: (shape, size) => ({ ...shape, leftDeg: size }),
};

const WEIGHTS: readonly CurveFault[] = [
  stuck,
  friction,
  notReturning,
  {
    ...unitFault("spring-stretched", 0.04, SPRING_SIZE),
    part: FIRST,
    change: (shape, size) => ({ ...shape, first: lessLoad(shape.first, size * shape.first(0)) }),
  },
  {
    ...unitFault("spring-stretched", 0.02, { median: 0.3, spread: 0.7 }),
    part: SECOND,
    change: (shape, size) => ({
      ...shape,
      second: lessLoad(shape.second, size * shape.second(shape.stopDeg)),
    }),
  },
  {
    ...unitFault("spring-light", 0.03, SPRING_SIZE),
    part: FIRST,
    change: (shape, size) => ({ ...shape, first: times(shape.first, 1 - size) }),
  },
  {
    ...unitFault("spring-light", 0.02, SPRING_SIZE),
    part: SECOND,
    change: (shape, size) => ({ ...shape, second: times(shape.second, 1 - size) }),
  },
  {
    ...unitFault("spring-light", 0.015, SPRING_SIZE),
    part: BOTH,
    change: (shape, size) => ({
      ...shape,
      first: times(shape.first, 1 - size),
      second: times(shape.second, 1 - size),
    }),
  },
  {
    ...unitFault("spring-heavy", 0.03, SPRING_SIZE),
    part: FIRST,
    change: (shape, size) => ({ ...shape, first: times(shape.first, 1 + size) }),
  },
  {
    ...unitFault("spring-heavy", 0.02, SPRING_SIZE),
    part: SECOND,
    change: (shape, size) => ({ ...shape, second: times(shape.second, 1 + size) }),
  },
  {
    ...unitFault("spring-heavy", 0.015, SPRING_SIZE),
    part: BOTH,
    change: (shape, size) => ({
      ...shape,
      first: times(shape.first, 1 + size),
      second: times(shape.second, 1 + size),
    }),
  },
  {
    ...unitFault("first-spring-missing", 0.02),
    change: (shape) => ({ ...shape, first: () => 0 }),
  },
  {
    // Of an only spring, whose levers bend the curve as a second one would.
    ...unitFault("first-spring-missing", 0.01),
    change: (shape) => ({ ...shape, first: () => 0, second: () => 0 }),
  },
  {
    ...unitFault("second-spring-missing", 0.02),
    change: (shape) => ({ ...shape, second: () => 0 }),
  },
  {
    ...unitFault("stop-worn", 0.03, { median: 2, spread: 0.6 }),
    change: (shape, size) => ({ ...shape, stopDeg: shape.stopDeg + size }),
  },
  {
    ...unitFault("second-spring-loop-worn", 0.03, { median: 1.5, spread: 0.6 }),
    change: (shape, size) => ({
      ...shape,
      second: (deg) => shape.second(Math.max(0, deg - size)),
    }),
  },
];

const RIG: readonly CurveFault[] = [
  {
    kind: "uncorrected-delay",
    subject: "rig",
    part: null,
    prior: 0.03,
    size: { median: 100, spread: 0.8 },
    change: (shape, size) => ({ ...shape, delayUs: size }),
  },
];

/** The faults of the weights that a specification lets us look for. */
export function weightsFaults({ stopDeg, knots }: Nominal): readonly CurveFault[] {
  const hasSecond = knots.length > 2;
  return [...WEIGHTS, ...RIG].filter(
    ({ kind, part }) =>
      (kind !== "stop-worn" || stopDeg !== null) &&
      (hasSecond || !(part === SECOND || part === BOTH || kind.startsWith("second-"))),
  );
}

const CAPSULE: readonly CurveFault[] = [
  {
    ...unitFault("plate-not-following", 0.04),
    change: (shape) => ({ ...shape, isStuck: true }),
  },
  {
    ...unitFault("plate-sticking", 0.04, { median: 0.15, spread: 0.8 }),
    change: (shape, size) => ({ ...shape, friction: size }),
  },
  ...([1, -1] as const).flatMap((sign): CurveFault[] => [
    {
      ...unitFault("capsule-spring-wrong", 0.015, SPRING_SIZE),
      part: sign > 0 ? "too much load" : "too little load",
      change: (shape, size) => ({
        ...shape,
        first: lessLoad(shape.first, -sign * size * shape.first(0)),
      }),
    },
    {
      ...unitFault("capsule-spring-wrong", 0.015, SPRING_SIZE),
      part: sign > 0 ? "too stiff" : "too soft",
      change: (shape, size) => {
        const factor = Math.max(LEAST_LEFT, 1 + sign * size);
        const start = shape.first(0);
        return {
          ...shape,
          first: (deg) => start + factor * (shape.first(deg) - start),
          second: times(shape.second, factor),
        };
      },
    },
  ]),
];

export function capsuleFaults(): readonly CurveFault[] {
  return CAPSULE;
}

function unitFault(
  kind: FindingKind,
  prior: number,
  size: CurveFault["size"] = null,
): Omit<CurveFault, "change"> {
  return { kind, subject: "unit", part: null, prior, size };
}

function times(load: (deg: number) => number, factor: number): (deg: number) => number {
  return (deg) => Math.max(LEAST_LEFT, factor) * load(deg);
}

function lessLoad(load: (deg: number) => number, less: number): (deg: number) => number {
  return (deg) => Math.max(0, load(deg) - less);
}
