// Printed rows of one unit held against the measured curve of another record, whose readings stand elsewhere.
import { combined, coverageOf } from "../angles/budget.ts";
import type { CurvePoint, RowVerdict, UncertaintyPart } from "../documents.ts";
import { type Advance, advanceAt } from "../engine/advance.ts";
import { decide } from "../judge/decision.ts";
import { type Start, startOf } from "../judge/start.ts";
import type { SweepAxis } from "../sweep/curve.ts";
import type { Band, BandRow, Branch, Limits } from "../unit.ts";
import type { Sweep } from "./measured.ts";

/** One printed row on one branch; where there is no figure the readings do not tell. */
export interface RowHeld
  extends Pick<
    RowVerdict,
    "printed" | "x" | "measured" | "expandedUncertainty" | "limits" | "unit" | "verdict"
  > {
  readonly axis: SweepAxis;
  readonly branch: Branch;
}

type Held = Pick<RowHeld, "measured" | "expandedUncertainty" | "verdict">;
const UNTOLD: Held = { measured: null, expandedUncertainty: null, verdict: "unproven" };

/** Every row, both branches where it is judged on both and there are readings of both. */
export function rowsHeld(axis: SweepAxis, sweep: Sweep, band: Band): readonly RowHeld[] {
  const branches: readonly Branch[] =
    band.judgedOn === "both" ? ["rising", "falling"] : [band.judgedOn];
  return branches
    .filter((branch) => sweep[branch].length > 0)
    .flatMap((branch) => band.rows.map((row) => rowHeld(axis, sweep[branch], row, branch)));
}

function rowHeld(
  axis: SweepAxis,
  points: readonly CurvePoint[],
  row: BandRow,
  branch: Branch,
): RowHeld {
  const { printed } = row;
  if (row.kind === "start") {
    const limits = { min: row.fromX, max: row.toX };
    const unit = axis === "speed" ? "rpm" : "Pa";
    const held = startHeld(axis, points, limits);
    return { axis, branch, printed, x: null, limits, unit, ...held };
  }
  const { x, limitsDeg: limits } = row;
  const held =
    row.kind === "end" ? endHeld(axis, points, x, limits) : atHeld(axis, points, x, limits);
  return { axis, branch, printed, x, limits, unit: "deg", ...held };
}

function held(value: number, budget: readonly UncertaintyPart[], limits: Limits): Held {
  const expandedUncertainty = coverageOf(budget) * combined(budget);
  return {
    measured: value,
    expandedUncertainty,
    verdict: decide(value, expandedUncertainty, limits),
  };
}

function atHeld(
  axis: SweepAxis,
  points: readonly CurvePoint[],
  x: number | null,
  limits: Limits,
): Held {
  const advance = x === null ? null : advanceAt(axis, points, x);
  return advance === null ? UNTOLD : held(advance.advanceDeg, advance.budget, limits);
}

/** A curve that is told so far beyond its last reading stands level there. */
const STANDING = 1.01;

/** The largest advance or retard; null where the curve still rises at its last reading. */
export function endRead(axis: SweepAxis, points: readonly CurvePoint[]): Advance | null {
  const last = points.at(-1);
  return last === undefined ? null : advanceAt(axis, points, STANDING * last.x);
}

/** At the highest reading or the printed place, whichever is farther: there the stop stands. */
function endHeld(
  axis: SweepAxis,
  points: readonly CurvePoint[],
  x: number | null,
  limits: Limits,
): Held {
  const last = points.at(-1);
  if (last === undefined) return UNTOLD;
  const advance = x === null ? endRead(axis, points) : advanceAt(axis, points, Math.max(x, last.x));
  if (advance !== null) return held(advance.advanceDeg, advance.budget, limits);
  // It will not come back from where it is already.
  const soFar = held(last.advanceDeg, last.budget, limits);
  const isBeyond = Math.abs(last.advanceDeg) > farthestOf(limits);
  return isBeyond && soFar.verdict === "outside" ? soFar : UNTOLD;
}

function farthestOf({ min, max }: Limits): number {
  return Math.max(Math.abs(min ?? 0), Math.abs(max ?? 0));
}

/** Where advance or retard begins; null without readings. */
export function startRead(axis: SweepAxis, points: readonly CurvePoint[]): Start | null {
  const farthest = points.reduce(
    (most, { advanceDeg }) => (Math.abs(advanceDeg) > Math.abs(most) ? advanceDeg : most),
    0,
  );
  const sign = farthest < 0 ? -1 : 1;
  const turned = points.map((point) => ({
    ...point,
    advanceDeg: sign * point.advanceDeg,
    // What an uncertain speed or vacuum makes is in the budget already.
    xStandardUncertainty: 0,
  }));
  return startOf(turned, axis === "speed" ? 2 : 1);
}

function startHeld(axis: SweepAxis, points: readonly CurvePoint[], limits: Limits): Held {
  const start = startRead(axis, points);
  if (start === null) return UNTOLD;
  if (start.kind === "found") return held(start.x, start.budget, limits);
  const isBeyond =
    start.kind === "above"
      ? start.x > (limits.max ?? Number.POSITIVE_INFINITY)
      : start.x < (limits.min ?? 0);
  return isBeyond ? { ...UNTOLD, verdict: "outside" } : UNTOLD;
}
