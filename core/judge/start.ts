// Where advance begins on a measured branch.
import { combined, ownOf, part, scaled, sharedOf } from "../angles/budget.ts";
import type { UncertaintyPart } from "../documents.ts";
import type { SweepPoint } from "./slope.ts";

/** Advance below this may be noise or a plate that settled. An assumption, no source. */
const CLEAR_DEG = 0.03;
const CLEAR_FACTOR = 3;

export type Start =
  /** In rpm or pascals. */
  | { readonly kind: "found"; readonly x: number; readonly budget: readonly UncertaintyPart[] }
  /** No advance up to the highest reading. */
  | { readonly kind: "above"; readonly x: number }
  /** Advance already at the lowest reading. */
  | { readonly kind: "below"; readonly x: number };

/**
 * The line through the first two readings clearly above rest, brought down to rest, kept between the
 * last reading at rest and the first above it. Its uncertainty is that of the angles, and the width
 * of that bracket as a rectangle (JCGM 100 § 4.3.7, from memory), since the curve may bend in it.
 *
 * With `power` 2 the line is straight in x²: near their start weights follow s = p1 + k1·θ with s the
 * square of speed. A capsule follows vacuum itself, `power` 1.
 *
 * @param points one branch in rising order; the sign of its advance turned so that it is positive
 */
export function startOf(points: readonly SweepPoint[], power: 1 | 2): Start | null {
  const lowest = points[0];
  const highest = points.at(-1);
  if (lowest === undefined || highest === undefined) return null;
  const first = points.findLastIndex((_, index) => !isClear(points, index)) + 1;
  const above = points[first];
  if (above === undefined) return { kind: "above", x: highest.x };
  const zero = points[first - 1];
  if (zero === undefined) return { kind: "below", x: lowest.x };
  const width = above.x - zero.x;
  // The last reading may have moved by less than shows: the one before it surely rests.
  const rest = points[first - 2] ?? zero;
  const line = bestLine(rest, [above, points[first + 1], points[first + 2]], power);
  // A line that misses the bracket by its whole width is not the line the advance began on: it jumped.
  if (line === null || line.x < zero.x - width) {
    return { kind: "found", x: (zero.x + above.x) / 2, budget: [bracket(width)] };
  }
  const from = isOn(line, zero) ? rest.x : zero.x;
  const whole = bracket(above.x - from);
  return {
    kind: "found",
    x: Math.min(Math.max(line.x, from), above.x),
    budget: [
      ...line.budget,
      line.bend.standardUncertainty < whole.standardUncertainty ? line.bend : whole,
    ],
  };
}

function bracket(width: number): UncertaintyPart {
  return part("between readings", width / Math.sqrt(12), { shape: "rectangular" });
}

/** Clearly advanced against the reference, or against a reading below it, with which it shares most errors. */
function isClear(points: readonly SweepPoint[], index: number): boolean {
  const here = points[index] as SweepPoint;
  if (here.advanceDeg > clearDeg(here.standardUncertaintyDeg)) return true;
  const own = sidewaysLeftOut(here);
  return points.slice(0, index).some((below) => {
    const uncertaintyDeg = combined([
      ...ownOf(own),
      ...ownOf(below.budget),
      ...sharedBy([
        { parts: own, sensitivity: 1 },
        { parts: sidewaysLeftOut(below), sensitivity: -1 },
      ]),
    ]);
    return here.advanceDeg - below.advanceDeg > clearDeg(uncertaintyDeg);
  });
}

function clearDeg(standardUncertaintyDeg: number): number {
  return Math.max(CLEAR_DEG, CLEAR_FACTOR * standardUncertaintyDeg);
}

/** An uncertain speed or vacuum moves a reading along the curve and lifts none off its rest. */
function sidewaysLeftOut({ budget }: SweepPoint): readonly UncertaintyPart[] {
  return budget.filter(({ name }) => name !== "speed" && name !== "vacuum");
}

/** It moves the whole line along with it. */
function sideways({ xStandardUncertainty }: SweepPoint, power: 1 | 2): UncertaintyPart {
  return power === 2
    ? part("speed", xStandardUncertainty, { shape: "rectangular", shared: true })
    : part("vacuum", xStandardUncertainty, { shared: true });
}

interface Share {
  readonly parts: readonly UncertaintyPart[];
  readonly sensitivity: number;
}

/** An error that stands in all of them alike: what they make of it together. */
function sharedBy(shares: readonly Share[]): UncertaintyPart[] {
  const byName = new Map<string, UncertaintyPart>();
  for (const { parts, sensitivity } of shares) {
    for (const one of sharedOf(parts)) {
      const before = byName.get(one.name)?.standardUncertainty ?? 0;
      const standardUncertainty = before + sensitivity * one.standardUncertainty;
      byName.set(one.name, { ...one, standardUncertainty });
    }
  }
  return [...byName.values()].map((one) => ({
    ...one,
    standardUncertainty: Math.abs(one.standardUncertainty),
  }));
}

interface Line {
  readonly x: number;
  readonly budget: readonly UncertaintyPart[];
  /** How far the curve may bend away from the line on the way down. */
  readonly bend: UncertaintyPart;
  /** The line's advance at a place. */
  readonly at: (x: number) => number;
}

/** Whether the line runs through a reading below those it was drawn by. */
function isOn(line: Line, { x, advanceDeg, budget }: SweepPoint): boolean {
  return Math.abs(advanceDeg - line.at(x)) <= clearDeg(combined(ownOf(budget)));
}

type Above = readonly [SweepPoint, SweepPoint | undefined, SweepPoint | undefined];

/** Down to no advance at all, or to a reading at rest, which shares most errors: by what is known better. */
function bestLine(rest: SweepPoint, above: Above, power: 1 | 2): Line | null {
  const [toZero, toRest] = [null, rest].map((level) => lineDown(level, above, power));
  if (!toZero || !toRest) return toZero ?? toRest ?? null;
  return combined(toZero.budget) <= combined(toRest.budget) ? toZero : toRest;
}

/**
 * How far a curve may bend on the way down to zero, as a share of that way, where three readings show
 * no bend: weights by their levers, a capsule's spring hardly. An assumption, no source.
 */
const STRAIGHT_SHARE = { 1: 0.04, 2: 0.05 } as const;

/** How much further down a parabola through three readings would meet rest, in powers of x. */
function bendAt([low, high, beyond]: Above, levelDeg: number, power: 1 | 2): number {
  if (high === undefined || beyond === undefined || beyond.advanceDeg <= high.advanceDeg) return 0;
  const run = (one: SweepPoint, other: SweepPoint) =>
    (other.x ** power - one.x ** power) / (other.advanceDeg - one.advanceDeg);
  const change = (run(high, beyond) - run(low, high)) / (beyond.advanceDeg - low.advanceDeg);
  return change * (low.advanceDeg - levelDeg) * (high.advanceDeg - levelDeg);
}

/** Null where the two readings do not rise, or the line meets the level at no place. */
function lineDown(rest: SweepPoint | null, above: Above, power: 1 | 2): Line | null {
  const [low, high] = above;
  if (high === undefined) return null;
  const levelDeg = rest?.advanceDeg ?? 0;
  const rise = high.advanceDeg - low.advanceDeg;
  const run = high.x ** power - low.x ** power;
  if (rise <= 0 || run <= 0) return null;
  const distance = ((low.advanceDeg - levelDeg) * run) / rise;
  const raised = low.x ** power - distance;
  if (raised <= 0) return null;
  const x = raised ** (1 / power);
  // Partial derivatives of x by each angle: of `raised`, then of its root.
  const toX = 1 / (power * x ** (power - 1));
  const byLow = (-(high.advanceDeg - levelDeg) * run * toX) / rise ** 2;
  const byHigh = ((low.advanceDeg - levelDeg) * run * toX) / rise ** 2;
  const shares: Share[] = [
    { parts: sidewaysLeftOut(low), sensitivity: byLow },
    { parts: sidewaysLeftOut(high), sensitivity: byHigh },
    ...(rest === null ? [] : [{ parts: sidewaysLeftOut(rest), sensitivity: (run * toX) / rise }]),
  ];
  const straight = Math.max(
    STRAIGHT_SHARE[power] * distance,
    Math.abs(bendAt(above, levelDeg, power)),
  );
  return {
    x,
    at: (place) => levelDeg + ((place ** power - raised) * rise) / run,
    bend: part("between readings", (straight * toX) / Math.sqrt(3), { shape: "rectangular" }),
    budget: [
      ...shares.flatMap(({ parts, sensitivity }) => scaled(ownOf(parts), sensitivity)),
      ...sharedBy(shares),
      sideways(low, power),
    ],
  };
}
