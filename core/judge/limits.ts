// Judges what is not on the curve: dwell, scatter of the lobes, the hold test and the return to the reference.

import { combined, coverageOf, part } from "../angles/budget.ts";
import type { ByHand } from "../byHand/byHand.ts";
import type {
  HoldDocument,
  PointDocument,
  Reading,
  RowVerdict,
  UncertaintyPart,
  Verdict,
} from "../documents.ts";
import type { HoldPlan } from "../plan.ts";
import type { HoldLimits, Limits } from "../unit.ts";
import { decide } from "./decision.ts";

/** A unit that comes back this close to its reference has returned. Common practice, no source. */
const RETURN_DEG = 0.5;

const NOWHERE = { capsule: null, branch: null, x: null } as const;

export interface Dwell {
  readonly dwellDeg: number;
  readonly standardUncertaintyDeg: number;
}

/** Contact springs keep up well beyond this; ripple of the drive, which the slowest readings suffer from, is past. */
const DWELL_RPM_MAX = 1000;

/** Of the fastest reading: what is above it may be where weak springs give way. */
const DWELL_SHARE_MAX = 0.6;

/** The slow reading that knows the dwell best, or the first one that tells it; null where none does. */
export function tellingDwell(readings: readonly Reading[]): Reading | null {
  const telling = readings.filter(({ dwellDeg }) => dwellDeg !== null);
  const fastestRpm = Math.max(0, ...telling.map(({ speedRpm }) => speedRpm));
  const mostRpm = Math.min(DWELL_RPM_MAX, DWELL_SHARE_MAX * fastestRpm);
  const slow = telling.filter(({ speedRpm }) => speedRpm <= mostRpm);
  return (slow.length > 0 ? slow : telling.slice(0, 1)).reduce<Reading | null>(
    (best, one) =>
      best === null || one.dwellStandardUncertaintyDeg < best.dwellStandardUncertaintyDeg
        ? one
        : best,
    null,
  );
}

export function dwellOf(readings: readonly PointDocument[]): Dwell | null {
  const known = tellingDwell(readings.map(({ reading }) => reading));
  if (known === null) return null;
  return {
    dwellDeg: known.dwellDeg as number,
    standardUncertaintyDeg: known.dwellStandardUncertaintyDeg,
  };
}

export function dwellRow(dwell: Dwell | null, limits: Limits): RowVerdict {
  const shown = (degrees: number | null) => Number((degrees ?? 0).toFixed(2));
  const printed = `dwell ${shown(limits.min)} to ${shown(limits.max)} distributor degrees`;
  return degreeRow(
    { about: "dwell", ...NOWHERE, printed, limits },
    dwell && { value: dwell.dwellDeg, budget: known(dwell.standardUncertaintyDeg) },
  );
}

export interface Scatter {
  /** Largest lasting deviation of a lobe, either way. */
  readonly scatterDeg: number;
  readonly standardUncertaintyDeg: number;
}

/**
 * What stays with the lobes at any speed: each lobe's deviation averaged over the readings given, by
 * how well each knows it. Null without any lobe.
 */
export function scatterOf(readings: readonly PointDocument[]): Scatter | null {
  let worst: Scatter | null = null;
  const lobes = Math.max(0, ...readings.map(({ reading }) => reading.lobes.length));
  for (let lobe = 0; lobe < lobes; lobe++) {
    let weights = 0;
    let sum = 0;
    let best = Number.POSITIVE_INFINITY;
    for (const { reading } of readings) {
      const { standardUncertaintyDeg } = reading.lobes[lobe] ?? { standardUncertaintyDeg: 0 };
      if (standardUncertaintyDeg === 0) continue;
      const weight = standardUncertaintyDeg ** -2;
      weights += weight;
      sum += weight * (reading.lobeDeviationsDeg[lobe] ?? 0);
      best = Math.min(best, standardUncertaintyDeg);
    }
    if (weights === 0 || (worst !== null && Math.abs(sum / weights) <= worst.scatterDeg)) continue;
    // Misplaced edges and ripple stand in all readings much alike, so that averaging gains little.
    worst = { scatterDeg: Math.abs(sum / weights), standardUncertaintyDeg: best };
  }
  return worst;
}

export function scatterRow(scatter: Scatter | null, maxDeg: number): RowVerdict {
  const limits = { min: null, max: maxDeg };
  const printed = `lobes within ${maxDeg} distributor degrees of their places`;
  return degreeRow(
    { about: "scatter", ...NOWHERE, printed, limits },
    scatter && { value: scatter.scatterDeg, budget: known(scatter.standardUncertaintyDeg) },
  );
}

export function returnRow(reading: Reading): RowVerdict {
  const limits = { min: -RETURN_DEG, max: RETURN_DEG };
  const printed = `comes back to within ${RETURN_DEG} distributor degrees of the reference`;
  return degreeRow(
    { about: "return", ...NOWHERE, printed, limits },
    { value: reading.advanceDeg, budget: reading.budget },
  );
}

/** In place of the return to the reference: the cam turned by hand. Null where it does as it should. */
export function springBackRow({ camTurns, camSpringsBack }: ByHand): RowVerdict | null {
  if (camTurns && camSpringsBack) return null;
  const printed = "cam turns by hand and springs back";
  const limits = { min: null, max: null };
  const fails = camTurns === false || camSpringsBack === false;
  return {
    ...degreeRow({ about: "return", ...NOWHERE, printed, limits }, null),
    verdict: fails ? "outside" : "unproven",
  };
}

/** Told by hundreds of turns, so that few degrees of freedom are no matter. */
function known(standardUncertainty: number): readonly UncertaintyPart[] {
  return [part("repeatability", standardUncertainty)];
}

function degreeRow(
  row: Pick<RowVerdict, "about" | "capsule" | "branch" | "x" | "printed" | "limits">,
  measured: { readonly value: number; readonly budget: readonly UncertaintyPart[] } | null,
): RowVerdict {
  if (measured === null) {
    return { ...row, unit: "deg", measured: null, expandedUncertainty: null, verdict: "unproven" };
  }
  const expandedUncertainty = coverageOf(measured.budget) * combined(measured.budget);
  const verdict = decide(measured.value, expandedUncertainty, row.limits);
  return { ...row, unit: "deg", measured: measured.value, expandedUncertainty, verdict };
}

/**
 * Judged by what the plan asked for, which may be less than the specification (`meetsHold`). A vacuum
 * that was never reached is the unit's fault, not the run's.
 */
export function holdRow(
  capsule: number,
  plan: HoldPlan,
  hold: HoldDocument | null,
  sensorStandardUncertaintyPa: number,
): RowVerdict {
  const limits = { min: null, max: plan.dropMaxPa };
  const kPa = (pascals: number) => `${Number((pascals / 1000).toFixed(2))} kPa`;
  const row = {
    about: "hold",
    capsule,
    branch: null,
    printed: `falls by at most ${kPa(plan.dropMaxPa)} in ${plan.seconds} s from ${kPa(plan.vacuumPa)}`,
    x: plan.vacuumPa,
    limits,
    unit: "Pa",
    measured: null,
    expandedUncertainty: null,
  } as const;
  if (hold === null) return { ...row, verdict: "unproven" };
  if (!hold.reached) return { ...row, verdict: "outside" };
  const drop = hold.startPa - hold.endPa;
  const budget = dropBudget(hold, sensorStandardUncertaintyPa);
  const expandedUncertainty = coverageOf(budget) * combined(budget);
  const verdict = decide(drop, expandedUncertainty, limits);
  return {
    ...row,
    measured: drop,
    expandedUncertainty,
    verdict: provesNothing(verdict, hold, plan) ? "unproven" : verdict,
  };
}

/**
 * A clock stopped early, or less vacuum, proves a fault but not its absence; a longer hold, or more
 * vacuum, as a pump worked by hand may give, the absence but not the fault.
 */
function provesNothing(verdict: Verdict, hold: HoldDocument, plan: HoldPlan): boolean {
  const easier = hold.seconds < 0.98 * plan.seconds || hold.targetPa < 0.99 * plan.vacuumPa;
  const harder = hold.seconds > 1.02 * plan.seconds || hold.targetPa > 1.01 * plan.vacuumPa;
  return (easier && verdict === "within") || (harder && verdict === "outside");
}

/**
 * In a difference of two readings of one sensor its repeatability counts twice, and its error only as
 * a share of the drop.
 */
function dropBudget(
  hold: HoldDocument,
  sensorStandardUncertaintyPa: number,
): readonly UncertaintyPart[] {
  const scale = sensorStandardUncertaintyPa / Math.max(hold.targetPa, 1);
  const repeatability = repeatabilityOf(hold.trace) ?? sensorStandardUncertaintyPa;
  return [
    part("repeatability", Math.SQRT2 * Math.hypot(repeatability, RESOLUTION_PA / Math.sqrt(12))),
    part("sensor", Math.abs(scale * (hold.startPa - hold.endPa))),
  ];
}

/** The rig sends whole pascals (protocol clause 3.4). */
const RESOLUTION_PA = 1;
const TRACE_MIN = 8;

/**
 * From second differences, in which a steady fall cancels: each is of variance 1 + 4 + 1 times that
 * of one reading. Null where the trace is too short.
 */
function repeatabilityOf(trace: HoldDocument["trace"]): number | null {
  if (trace.length < TRACE_MIN) return null;
  const pascals = trace.map(([, pa]) => pa);
  let squares = 0;
  for (let i = 1; i < pascals.length - 1; i++) {
    const [before, here, after] = pascals.slice(i - 1, i + 2) as [number, number, number];
    squares += (before - 2 * here + after) ** 2;
  }
  return Math.sqrt(squares / (pascals.length - 2) / 6);
}

/** Whether the planned hold test is at least as hard as the specified one. */
export function meetsHold(plan: HoldPlan | null, limits: HoldLimits): boolean {
  return (
    plan !== null &&
    plan.vacuumPa >= 0.99 * limits.vacuumPa &&
    plan.seconds >= limits.seconds &&
    plan.dropMaxPa <= limits.dropMaxPa
  );
}
