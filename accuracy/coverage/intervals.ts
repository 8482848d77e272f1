// The figures that a run reports, each with its 95 % interval and the truth that it should hold.
import type { CurvePoint, RowVerdict } from "../../core/documents.ts";
import type { Branch } from "../../sim/truth.ts";
import type { DrawnRig } from "../drawn/rig.ts";
import type { Truths } from "./truths.ts";

export interface Interval {
  readonly quantity: string;
  readonly value: number;
  /** Half the width of the reported interval. */
  readonly expanded: number;
  readonly truth: number;
  /** Whether the quantity may lie on either side of its value: not at a stop, not at zero. */
  readonly interior: boolean;
  readonly strata: readonly string[];
}

type Bare = Omit<Interval, "strata"> & { readonly speedRpm: number };
type Known = Pick<Bare, "quantity" | "truth" | "interior" | "speedRpm">;

const BRANCHES: readonly Branch[] = ["rising", "falling"];

export function intervalsOf(truths: Truths, rig: DrawnRig): readonly Interval[] {
  const { rows } = truths.run.end.result;
  const bare = [
    ...BRANCHES.flatMap((branch) => speedPoints(truths, branch)),
    ...BRANCHES.flatMap((branch) => vacuumPoints(truths, branch)),
    ...rows.flatMap((row) => rowInterval(row, truths)),
    ...speeds(truths),
  ];
  return bare.map(({ speedRpm, ...interval }) => ({
    ...interval,
    strata: [speedStratum(speedRpm), `${rig.pickupEdges} edges`, `${rig.ripple} ripple`],
  }));
}

function speedStratum(rpm: number): string {
  if (rpm < 400) return "below 400 rpm";
  return rpm < 1000 ? "400–1000 rpm" : "above 1000 rpm";
}

function expandedOf(point: CurvePoint): number {
  return point.coverageFactor * point.standardUncertaintyDeg;
}

const STILL = "advance at rest or at the stop";

function speedPoints(truths: Truths, branch: Branch): Bare[] {
  return truths.run.end.result.speed[branch].map((point) => {
    const camDeg = truths.camDeg(point.x, branch);
    const interior = camDeg > 0 && camDeg < truths.stopDeg;
    return {
      quantity: interior ? `advance at a speed, ${branch}` : STILL,
      value: point.advanceDeg,
      expanded: expandedOf(point),
      truth: truths.advanceDeg(point.x, branch),
      interior,
      speedRpm: point.x,
    };
  });
}

function vacuumPoints(truths: Truths, branch: Branch): Bare[] {
  return (truths.run.end.result.capsules[0]?.[branch] ?? []).map((point) => {
    const truth = truths.vacuumAdvanceDeg(point.x, branch);
    const interior = Math.abs(truth) > 0 && Math.abs(truth) < truths.plateDeg;
    return {
      quantity: interior ? `advance at a vacuum, ${branch}` : STILL,
      value: point.advanceDeg,
      expanded: expandedOf(point),
      truth,
      interior,
      speedRpm: truths.plan.vacuumSweepRpm,
    };
  });
}

function speeds(truths: Truths): Bare[] {
  return truths.readings.map((reading) => ({
    quantity: "speed",
    value: reading.speedRpm,
    expanded: reading.speedExpandedUncertaintyRpm,
    truth: truths.speedRpm(reading),
    interior: true,
    speedRpm: reading.speedRpm,
  }));
}

function rowInterval(row: RowVerdict, truths: Truths): Bare[] {
  const { measured, expandedUncertainty } = row;
  const known = rowTruth(row, truths);
  if (measured === null || expandedUncertainty === null || known === null) return [];
  return [{ ...known, value: measured, expanded: expandedUncertainty }];
}

function rowTruth(row: RowVerdict, truths: Truths): Known | null {
  const { referenceRpm, speedsRpm, vacuumSweepRpm } = truths.plan;
  switch (row.about) {
    case "speed":
      return speedRowTruth(row, truths);
    case "vacuum":
      return vacuumRowTruth(row, truths);
    // Dwell and scatter are told by the first reading of the speed sweep.
    case "dwell":
      return {
        quantity: "dwell",
        truth: truths.dwellDeg,
        interior: true,
        speedRpm: speedsRpm[0] ?? 0,
      };
    case "scatter":
      return {
        quantity: "scatter",
        truth: truths.scatterDeg,
        interior: false,
        speedRpm: speedsRpm[0] ?? 0,
      };
    case "return": {
      const truth = truths.advanceDeg(referenceRpm, "falling");
      return { quantity: "return", truth, interior: false, speedRpm: referenceRpm };
    }
    case "hold": {
      const truth = truths.heldDropPa();
      if (truth === null) return null;
      return { quantity: "drop in the hold", truth, interior: false, speedRpm: vacuumSweepRpm };
    }
  }
}

/** A row with a place is `at` or `end`; past the true end both are the plateau. */
function speedRowTruth({ x, branch, unit }: RowVerdict, truths: Truths): Known | null {
  if (branch === null) return null;
  if (unit === "rpm") {
    const truth = truths.startRpm(branch);
    if (truth === null) return null;
    const quantity = `start of advance over speed, ${branch}`;
    return { quantity, truth, interior: true, speedRpm: truth };
  }
  if (x === null) return null;
  return {
    quantity:
      truths.camDeg(x, branch) >= truths.stopDeg
        ? "largest advance, weights"
        : "printed row at a speed",
    truth: truths.advanceDeg(x, branch),
    interior: true,
    speedRpm: x,
  };
}

function vacuumRowTruth({ x, branch, unit }: RowVerdict, truths: Truths): Known | null {
  if (branch === null) return null;
  const speedRpm = truths.plan.vacuumSweepRpm;
  if (unit === "Pa") {
    const truth = truths.startPa(branch);
    if (truth === null) return null;
    return { quantity: "start of advance over vacuum", truth, interior: true, speedRpm };
  }
  if (x === null) return null;
  const truth = truths.vacuumAdvanceDeg(x, branch);
  const atEnd = Math.abs(truth) >= truths.plateDeg;
  const quantity = atEnd ? "largest advance, capsule" : "printed row at a vacuum";
  return { quantity, truth, interior: true, speedRpm };
}
