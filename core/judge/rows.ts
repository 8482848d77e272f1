// Judges the printed rows of one band on one branch, each at its own place and not on lines between.
import { combined, coverageOf, ownOf, part, scaled, sharedOf } from "../angles/budget.ts";
import type { UncertaintyPart, Verdict } from "../documents.ts";
import type { BandRow, Limits } from "../unit.ts";
import { decide, gravest } from "./decision.ts";
import { type SweepPoint, slopesAt } from "./slope.ts";
import { startOf } from "./start.ts";

/** One branch of a sweep as the judge sees it. */
export interface JudgedBranch {
  /** In rising order of x. */
  readonly points: readonly SweepPoint[];
  /** Rising order. */
  readonly plannedX: readonly number[];
  /** Largest distance between a printed place and the target that stands for it: what targets are rounded by. */
  readonly nearby: number;
  /** Whether the curve begins as the square of x (speed) or as x (vacuum). */
  readonly startPower: 1 | 2;
  readonly retard: boolean;
  /** What is missing will not come any more. */
  readonly ended: boolean;
}

export interface RowOutcome {
  readonly measured: number | null;
  readonly expandedUncertainty: number | null;
  readonly verdict: Verdict;
}

interface Value {
  readonly value: number;
  readonly budget: readonly UncertaintyPart[];
}

/** Neighbours on either side stand for a place that has no reading if they are no further apart. */
const BRACKET_SHARE = 0.1;
const MISSING: RowOutcome = { measured: null, expandedUncertainty: null, verdict: "unproven" };

/**
 * Null where the plan does not cover the row, or the run did not come to it. A planned row that the
 * whole run did not measure is unproven.
 */
export function judgeRow(
  row: BandRow,
  branch: JudgedBranch,
  lastPrintedX: number,
): RowOutcome | null {
  if (!isCovered(row, branch, lastPrintedX)) return null;
  const outcome = outcomeOf(row, branch);
  return outcome ?? (branch.ended ? MISSING : null);
}

function outcomeOf(row: BandRow, branch: JudgedBranch): RowOutcome | null {
  if (row.kind === "at") {
    const value = valueAt(branch, row.x);
    return value === null ? null : outcome(value, row.limitsDeg);
  }
  if (row.kind === "noneBelow") return noneBelow(row.x, row.limitsDeg, branch);
  if (row.kind === "start") return startOutcome(row.fromX, row.toX, branch);
  return endOutcome(row.x, row.limitsDeg, branch);
}

/** Whether the plan has readings that can tell about the row. */
function isCovered(
  row: BandRow,
  { plannedX, nearby }: JudgedBranch,
  lastPrintedX: number,
): boolean {
  const lowest = plannedX[0];
  const highest = plannedX.at(-1);
  if (lowest === undefined || highest === undefined) return false;
  if (row.kind === "start") {
    const inside = plannedX.some((x) => x >= row.fromX - nearby && x <= row.toX + nearby);
    return inside && lowest <= row.fromX + nearby && highest > row.toX + nearby;
  }
  if (row.kind !== "end") return stands(plannedX, row.x, nearby);
  const from = row.x ?? lastPrintedX;
  return plannedX.some((x) => x >= from - nearby && x <= (1 + BRACKET_SHARE) * from + nearby);
}

/** Whether places include `x` or bracket it closely. */
function stands(places: readonly number[], x: number, nearby: number): boolean {
  if (places.some((place) => Math.abs(place - x) <= nearby)) return true;
  const above = places.findIndex((place) => place > x);
  const [low, high] = [places[above - 1], places[above]];
  return low !== undefined && high !== undefined && high - low <= BRACKET_SHARE * x;
}

function outcome({ value, budget }: Value, limits: Limits): RowOutcome {
  const expandedUncertainty = coverageOf(budget) * combined(budget);
  return {
    measured: value,
    expandedUncertainty,
    verdict: decide(value, expandedUncertainty, limits),
  };
}

/** The one of them with the gravest verdict; among equals the largest value. */
function gravestOf(outcomes: readonly RowOutcome[]): RowOutcome | null {
  const worst = gravest(outcomes.map(({ verdict }) => verdict));
  const candidates = outcomes.filter(({ verdict }) => verdict === worst);
  const sorted = candidates.sort((a, b) => Math.abs(b.measured ?? 0) - Math.abs(a.measured ?? 0));
  return sorted[0] ?? null;
}

/** Advance at exactly `x`; null without a reading there or close on both sides. */
function valueAt(branch: JudgedBranch, x: number): Value | null {
  const { points, nearby } = branch;
  const index = points.findIndex(({ targetX }) => Math.abs(targetX - x) <= nearby);
  if (index >= 0) return corrected(points, index, x);
  const above = points.findIndex((point) => point.x > x);
  const [low, high] = [points[above - 1], points[above]];
  if (low === undefined || high === undefined || high.x - low.x > BRACKET_SHARE * x) return null;
  const share = (x - low.x) / (high.x - low.x);
  const step = high.advanceDeg - low.advanceDeg;
  // The curve may do anything between its two neighbours, so their distance is a rectangle.
  const worse = low.standardUncertaintyDeg > high.standardUncertaintyDeg ? low : high;
  return {
    value: low.advanceDeg + share * step,
    budget: [...worse.budget, between(step)],
  };
}

/** The reading carried to `x` along the slope on that side, which may be the other side's slope as well. */
function corrected(points: readonly SweepPoint[], index: number, x: number): Value {
  const point = points[index] as SweepPoint;
  const { left, right } = slopesAt(points, index);
  const away = x - point.x;
  const slope = (away < 0 ? (left ?? right) : (right ?? left)) ?? 0;
  const bend = left === null || right === null ? slope : right - left;
  return {
    value: point.advanceDeg + slope * away,
    budget: [...point.budget, between(bend * away)],
  };
}

/** A rectangle so wide (JCGM 100 § 4.3.7, from memory). */
function between(widthDeg: number): UncertaintyPart {
  return part("between readings", Math.abs(widthDeg) / Math.sqrt(12), { shape: "rectangular" });
}

function asValue({ advanceDeg, budget }: SweepPoint): Value {
  return { value: advanceDeg, budget };
}

function noneBelow(x: number, limits: Limits, branch: JudgedBranch): RowOutcome | null {
  const here = valueAt(branch, x);
  if (here === null) return null;
  const below = branch.points.filter(({ targetX }) => targetX < x - branch.nearby).map(asValue);
  return gravestOf([here, ...below].map((value) => outcome(value, limits)));
}

function startOutcome(fromX: number, toX: number, branch: JudgedBranch): RowOutcome | null {
  const { points, plannedX, nearby, startPower, retard } = branch;
  // Until both ends of the range have been passed, later readings may still move the start.
  const passed = plannedX
    .slice(0, plannedX.findIndex((x) => x > toX + nearby) + 1)
    .every((x) => points.some(({ targetX }) => Math.abs(targetX - x) <= nearby));
  if (!passed && !branch.ended) return null;
  const turned = retard
    ? points.map((point) => ({ ...point, advanceDeg: -point.advanceDeg }))
    : points;
  const start = startOf(turned, startPower);
  if (start === null) return null;
  const limits = { min: fromX, max: toX };
  if (start.kind === "found") {
    return outcome({ value: start.x, budget: start.budget }, limits);
  }
  const beyond = start.kind === "above" ? start.x > toX : start.x < fromX;
  return beyond ? { ...MISSING, verdict: "outside" } : MISSING;
}

/**
 * The plateau at or beyond `x`. Where its readings agree, their mean; where they do not, advance still
 * grows (or falls off again) there and each is judged.
 */
function endOutcome(x: number | null, limits: Limits, branch: JudgedBranch): RowOutcome | null {
  const plateau =
    x === null ? largest(branch) : branch.points.filter((p) => p.targetX >= x - branch.nearby);
  if (plateau.length === 0) return null;
  const values = plateau.map(({ advanceDeg }) => advanceDeg);
  const spread = Math.max(...values) - Math.min(...values);
  const widest = Math.max(...plateau.map(expandedDeg));
  if (spread <= Math.SQRT2 * widest) return outcome(meanOf(plateau), limits);
  return gravestOf(plateau.map((point) => outcome(asValue(point), limits)));
}

/**
 * Their own errors average out, the shared ones do not. Where readings agree the curve is level, so
 * that an uncertain speed or vacuum is no matter.
 */
function meanOf(points: readonly SweepPoint[]): Value {
  const count = points.length;
  const value = points.reduce((sum, { advanceDeg }) => sum + advanceDeg, 0) / count;
  const shared = points.map(({ budget }) =>
    sharedOf(budget).filter(({ name }) => name !== "speed" && name !== "vacuum"),
  );
  const worst = shared.reduce((one, other) => (combined(other) > combined(one) ? other : one));
  return {
    value,
    budget: [...points.flatMap(({ budget }) => scaled(ownOf(budget), 1 / count)), ...worst],
  };
}

function expandedDeg({ standardUncertaintyDeg, coverageFactor }: SweepPoint): number {
  return coverageFactor * standardUncertaintyDeg;
}

/** Where no place is printed: the readings that cannot be told from the largest. */
function largest({ points, retard }: JudgedBranch): readonly SweepPoint[] {
  const size = ({ advanceDeg }: SweepPoint) => (retard ? -advanceDeg : advanceDeg);
  const top = points.reduce<SweepPoint | null>(
    (best, point) => (best === null || size(point) > size(best) ? point : best),
    null,
  );
  if (top === null) return [];
  return points.filter(
    (point) => size(top) - size(point) <= Math.hypot(expandedDeg(top), expandedDeg(point)),
  );
}
