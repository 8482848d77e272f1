// How each fault of the weights changes the curve, with a size not known beforehand.
import type { FindingKind, Subject } from "./finding.ts";
import { loadAt, type Shape, type SpringLoad } from "./shape.ts";

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
  /** It moves by fits and starts, so that no reading is where its branch would have it. */
  readonly isJerky?: true;
  /** Nothing draws it home: where it comes to rest cannot be foreseen. */
  readonly isLoose?: true;
}

const FIRST = "first spring";
const SECOND = "second spring";
const BOTH = "both springs";

/** Share of its load or rate that a spring may have lost or have too much. */
const SPRING_SIZE = { median: 0.25, spread: 0.8 } as const;
/** Share of its load in the middle of the travel. */
const STRETCHED_SIZE = { median: 0.15, spread: 0.9 } as const;
const LEAST_LEFT = 0.03;
/** Of the travel: a second spring that takes up later than this is as good as unhooked. An assumption, no source. */
const MOST_LATE_SHARE = 0.45;
/** With less than this left of it a light spring would be taken for none. An assumption, no source. */
const MOST_LIGHT = 0.85;
/** Of the first spring's load at rest: the rubbing block holds back so much without any spring. An assumption, no source. */
const DRAG = { median: 0.04, spread: 0.8 } as const;

const JERKY = { isJerky: true } as const;
/** Without a spring the cam may lie anywhere at the end, or be where it began. */
const LOOSE = { isLoose: true } as const;

export const stuck: CurveFault = {
  ...unitFault("weights-stuck", 0.03),
  change: (shape) => ({ ...shape, isStuck: true }),
};
/** Dry they stick here and there, or drag all the way alike. */
export const friction: readonly CurveFault[] = eitherWay(
  {
    ...unitFault("weights-dry", 0.06, { median: 0.12, spread: 0.7 }),
    change: (shape, size) => ({ ...shape, friction: size }),
  },
  JERKY,
);
export const notReturning: CurveFault = {
  ...unitFault("weights-not-returning", 0.03, { median: 1.5, spread: 0.9 }),
  change: (shape, size) => ({ ...shape, leftDeg: size }),
};

const WEIGHTS: readonly CurveFault[] = [
  stuck,
  ...friction,
  notReturning,
  {
    ...unitFault("spring-stretched", 0.04, STRETCHED_SIZE),
    part: FIRST,
    change: (shape, size) => ({
      ...shape,
      // Slack it leaves the cam to the rubbing block.
      first: lessLoad(
        shape.first,
        (size * (loadAt(shape.first, 0) + loadAt(shape.first, shape.stopDeg))) / 2,
        DRAG.median * loadAt(shape.first, 0),
      ),
    }),
  },
  {
    ...unitFault("spring-light", 0.03, SPRING_SIZE),
    part: FIRST,
    change: (shape, size) => ({
      ...shape,
      first: times(shape.first, 1 - Math.min(MOST_LIGHT, size)),
    }),
  },
  {
    ...unitFault("spring-light", 0.02, SPRING_SIZE),
    part: SECOND,
    change: (shape, size) => ({
      ...shape,
      second: times(shape.second, 1 - Math.min(MOST_LIGHT, size)),
    }),
  },
  {
    ...unitFault("spring-light", 0.015, SPRING_SIZE),
    part: BOTH,
    change: (shape, size) => ({
      ...shape,
      first: times(shape.first, 1 - Math.min(MOST_LIGHT, size)),
      second: times(shape.second, 1 - Math.min(MOST_LIGHT, size)),
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
    ...unitFault("first-spring-missing", 0.02, DRAG),
    change: (shape, size) => ({ ...shape, first: always(size * loadAt(shape.first, 0)) }),
  },
  // Of a unit that was taken for one with two springs, or has lost both.
  ...eitherWay(
    {
      ...unitFault("first-spring-missing", 0.006, DRAG),
      part: BOTH,
      change: (shape, size) => ({
        ...shape,
        first: always(size * loadAt(shape.first, 0)),
        second: always(0),
      }),
    },
    LOOSE,
  ),
  {
    ...unitFault("second-spring-missing", 0.02),
    change: (shape) => ({ ...shape, second: always(0) }),
  },
  {
    ...unitFault("stop-worn", 0.03, { median: 2, spread: 0.6 }),
    change: (shape, size) => ({ ...shape, stopDeg: shape.stopDeg + size }),
  },
  {
    ...unitFault("second-spring-loop-worn", 0.03, { median: 1.5, spread: 0.6 }),
    change: (shape, size) => ({
      ...shape,
      second: {
        ...shape.second,
        fromDeg: shape.second.fromDeg + Math.min(size, MOST_LATE_SHARE * shape.stopDeg),
      },
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
export function weightsFaults(hasSecond: boolean): readonly CurveFault[] {
  const all = [...WEIGHTS, ...RIG];
  if (hasSecond) return all;
  return all
    .filter(({ kind, part }) => part !== SECOND && part !== BOTH && !kind.startsWith("second-"))
    .flatMap((fault) =>
      fault.kind === "first-spring-missing" ? eitherWay(fault, LOOSE) : [fault],
    );
}

const CAPSULE: readonly CurveFault[] = [
  {
    ...unitFault("plate-not-following", 0.04),
    change: (shape) => ({ ...shape, isStuck: true }),
  },
  ...eitherWay(
    {
      ...unitFault("plate-sticking", 0.04, { median: 0.15, spread: 0.8 }),
      change: (shape, size) => ({ ...shape, friction: size }),
    },
    JERKY,
  ),
  ...([1, -1] as const).flatMap((sign): CurveFault[] => [
    {
      ...unitFault("capsule-spring-wrong", 0.015, SPRING_SIZE),
      part: sign > 0 ? "too much load" : "too little load",
      change: (shape, size) => ({
        ...shape,
        first: lessLoad(shape.first, -sign * size * loadAt(shape.first, 0), 0),
      }),
    },
    {
      ...unitFault("capsule-spring-wrong", 0.015, SPRING_SIZE),
      part: sign > 0 ? "too stiff" : "too soft",
      change: (shape, size) => {
        const factor = Math.max(LEAST_LEFT, 1 + sign * size);
        return {
          ...shape,
          first: { ...shape.first, loadPerDeg: factor * shape.first.loadPerDeg },
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

/** A fault that shows as it is or in this way besides, one as likely as the other. */
function eitherWay(
  fault: CurveFault,
  way: Pick<CurveFault, "isJerky" | "isLoose">,
): readonly CurveFault[] {
  const half = { ...fault, prior: fault.prior / 2 };
  return [half, { ...half, ...way }];
}

function times(spring: SpringLoad, factor: number): SpringLoad {
  const { restLoad, fromDeg, loadPerDeg, leastLoad } = spring;
  const left = Math.max(LEAST_LEFT, factor);
  return {
    restLoad: left * restLoad,
    fromDeg,
    loadPerDeg: left * loadPerDeg,
    leastLoad: left * leastLoad,
  };
}

function lessLoad(spring: SpringLoad, less: number, least: number): SpringLoad {
  const { restLoad, fromDeg, loadPerDeg, leastLoad } = spring;
  return {
    restLoad: restLoad - less,
    fromDeg,
    loadPerDeg,
    leastLoad: Math.max(leastLoad - less, least),
  };
}

function always(load: number): SpringLoad {
  return { restLoad: load, fromDeg: 0, loadPerDeg: 0, leastLoad: 0 };
}
