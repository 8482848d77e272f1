// Where advance begins on a measured branch.
import { ownOf, part, scaled, sharedOf } from "../angles/budget.ts";
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
 * The line through the first two readings clearly above zero, brought down to zero, kept between the
 * last reading at zero and the first above it. Its uncertainty is that of both angles, and the width
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
  const first = points.findLastIndex((point) => !isClear(point)) + 1;
  const above = points[first];
  if (above === undefined) return { kind: "above", x: highest.x };
  const zero = points[first - 1];
  if (zero === undefined) return { kind: "below", x: lowest.x };
  const width = above.x - zero.x;
  const bracket = part("between readings", width / Math.sqrt(12), { shape: "rectangular" });
  const line = lineToZero(above, points[first + 1], points[first + 2], power);
  // A line that misses the bracket by its whole width is not the line the advance began on: it jumped.
  if (line === null || line.x < zero.x - width) {
    return { kind: "found", x: (zero.x + above.x) / 2, budget: [bracket] };
  }
  return {
    kind: "found",
    x: Math.min(Math.max(line.x, zero.x), above.x),
    budget: [
      ...line.budget,
      line.bend.standardUncertainty < bracket.standardUncertainty ? line.bend : bracket,
    ],
  };
}

function isClear({ advanceDeg, standardUncertaintyDeg }: SweepPoint): boolean {
  return advanceDeg > Math.max(CLEAR_DEG, CLEAR_FACTOR * standardUncertaintyDeg);
}

interface Line {
  readonly x: number;
  readonly budget: readonly UncertaintyPart[];
  /** How far the curve may bend away from the line on the way down. */
  readonly bend: UncertaintyPart;
}

/**
 * How far a curve may bend on the way down to zero, as a share of that way, where three readings show
 * no bend: weights by their levers, a capsule's spring hardly. An assumption, no source.
 */
const STRAIGHT_SHARE = { 1: 0.05, 2: 0.1 } as const;

/** How much further down a parabola through three readings would meet zero, in powers of x. */
function bendAt(
  low: SweepPoint,
  high: SweepPoint,
  beyond: SweepPoint | undefined,
  power: 1 | 2,
): number {
  if (beyond === undefined || beyond.advanceDeg <= high.advanceDeg) return 0;
  const run = (one: SweepPoint, other: SweepPoint) =>
    (other.x ** power - one.x ** power) / (other.advanceDeg - one.advanceDeg);
  const change = (run(high, beyond) - run(low, high)) / (beyond.advanceDeg - low.advanceDeg);
  return change * low.advanceDeg * high.advanceDeg;
}

/** Null where the two readings do not rise, or the line meets zero at no place. */
function lineToZero(
  low: SweepPoint,
  high: SweepPoint | undefined,
  beyond: SweepPoint | undefined,
  power: 1 | 2,
): Line | null {
  if (high === undefined) return null;
  const rise = high.advanceDeg - low.advanceDeg;
  const run = high.x ** power - low.x ** power;
  if (rise <= 0 || run <= 0) return null;
  const raised = low.x ** power - (low.advanceDeg * run) / rise;
  if (raised <= 0) return null;
  const x = raised ** (1 / power);
  // Partial derivatives of `raised` by either angle, then of x by `raised`.
  const byLow = (high.advanceDeg * run) / rise ** 2;
  const byHigh = (low.advanceDeg * run) / rise ** 2;
  const toX = 1 / (power * x ** (power - 1));
  // An error that stands in both alike moves the line as a whole.
  const distance = low.x ** power - raised;
  const straight = Math.max(
    STRAIGHT_SHARE[power] * distance,
    Math.abs(bendAt(low, high, beyond, power)),
  );
  return {
    x,
    bend: part("between readings", (straight * toX) / Math.sqrt(3), { shape: "rectangular" }),
    budget: [
      ...scaled(ownOf(low.budget), byLow * toX),
      ...scaled(ownOf(high.budget), byHigh * toX),
      ...scaled(sharedOf(high.budget), (byLow - byHigh) * toX),
    ],
  };
}
