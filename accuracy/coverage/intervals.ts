// The figures that a run reports, each with its 95 % interval and the truth that it should hold.
import type { CurvePoint, PointDocument, RowVerdict, RunResult } from "../../core/documents.ts";
import { COVERAGE_FACTOR } from "../../core/judge/decision.ts";
import { balanceRpm } from "../../sim/mechanism.ts";
import type { DrawnRig } from "../drawn/rig.ts";
import type { DrawnUnit } from "../drawn/unit.ts";
import type { StandInRun } from "../standIn.ts";
import { type Branch, capsuleAdvanceDeg, capsuleStartPa, weightsAdvanceDeg } from "../truth.ts";
import { heldDropPa } from "./hold.ts";

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

const BRANCHES: readonly Branch[] = ["rising", "falling"];

export function intervalsOf(unit: DrawnUnit, rig: DrawnRig, run: StandInRun): readonly Interval[] {
  const truths = new Truths(unit, run);
  const { result } = run.end;
  const bare = [
    ...BRANCHES.flatMap((branch) => speedPoints(result, truths, branch)),
    ...BRANCHES.flatMap((branch) => vacuumPoints(result, truths, branch)),
    ...result.rows.flatMap((row) => rowInterval(row, truths)),
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

/** The unit's true curves, counted from the run's reference as the product does. */
class Truths {
  readonly unit: DrawnUnit;
  readonly run: StandInRun;
  readonly referenceRpm: number;
  readonly sweepRpm: number;
  private readonly highestRpm: number;
  private readonly zeroDeg: number;

  constructor(unit: DrawnUnit, run: StandInRun) {
    this.unit = unit;
    this.run = run;
    const start = run.documents.find((document) => document.type === "start");
    if (start === undefined) throw new Error("the run has no start document");
    this.referenceRpm = start.plan.referenceRpm;
    this.sweepRpm = start.plan.vacuumSweepRpm;
    this.highestRpm = Math.max(...start.plan.speedsRpm);
    this.zeroDeg = weightsAdvanceDeg(unit.weights, this.referenceRpm, "rising");
  }

  /** Cam angle, not counted from the reference. */
  camDeg(rpm: number, branch: Branch): number {
    return weightsAdvanceDeg(this.unit.weights, rpm, branch, this.highestRpm);
  }

  advanceDeg(rpm: number, branch: Branch): number {
    return this.camDeg(rpm, branch) - this.zeroDeg;
  }

  /** The reference once more after everything. */
  get returnPoint(): PointDocument | undefined {
    return this.run.documents.findLast(
      (document): document is PointDocument =>
        document.type === "point" && document.sweep === "return",
    );
  }
}

function expandedOf(point: CurvePoint): number {
  return COVERAGE_FACTOR * point.standardUncertaintyDeg;
}

function speedPoints({ speed }: RunResult, truths: Truths, branch: Branch): Bare[] {
  const { stopDeg } = truths.unit.weights;
  return speed[branch].map((point) => {
    const camDeg = truths.camDeg(point.x, branch);
    const interior = camDeg > 0 && camDeg < stopDeg;
    return {
      quantity: interior ? `advance at a speed, ${branch}` : "advance at rest or at the stop",
      value: point.advanceDeg,
      expanded: expandedOf(point),
      truth: truths.advanceDeg(point.x, branch),
      interior,
      speedRpm: point.x,
    };
  });
}

function vacuumPoints({ capsules }: RunResult, truths: Truths, branch: Branch): Bare[] {
  const { capsule } = truths.unit;
  if (capsule === null) return [];
  const mostDeg = Math.abs(capsuleAdvanceDeg(capsule, 1e6, "rising"));
  return (capsules[0]?.[branch] ?? []).map((point) => {
    const truth = capsuleAdvanceDeg(capsule, point.x, branch);
    const interior = Math.abs(truth) > 0 && Math.abs(truth) < mostDeg;
    return {
      quantity: interior ? `advance at a vacuum, ${branch}` : "advance at rest or at the stop",
      value: point.advanceDeg,
      expanded: expandedOf(point),
      truth,
      interior,
      speedRpm: truths.sweepRpm,
    };
  });
}

function rowInterval(row: RowVerdict, truths: Truths): Bare[] {
  const { measured, expandedUncertainty } = row;
  const known = rowTruth(row, truths);
  if (measured === null || expandedUncertainty === null || known === null) return [];
  return [{ ...known, value: measured, expanded: expandedUncertainty }];
}

type Known = Pick<Bare, "quantity" | "truth" | "interior" | "speedRpm">;

function rowTruth(row: RowVerdict, truths: Truths): Known | null {
  const { unit, referenceRpm } = truths;
  switch (row.about) {
    case "speed":
      return speedRowTruth(row, truths);
    case "vacuum":
      return vacuumRowTruth(row, truths);
    case "dwell":
      return { quantity: "dwell", truth: unit.dwellDeg, interior: true, speedRpm: 400 };
    case "scatter":
      return { quantity: "scatter", truth: 0, interior: false, speedRpm: 400 };
    case "return": {
      const rpm = truths.returnPoint?.reading.speedRpm ?? referenceRpm;
      const truth = truths.advanceDeg(rpm, "falling");
      return { quantity: "return", truth, interior: false, speedRpm: rpm };
    }
    case "hold": {
      const truth = heldDropPa(truths.unit, truths.run);
      if (truth === null) return null;
      return { quantity: "drop in the hold", truth, interior: false, speedRpm: truths.sweepRpm };
    }
  }
}

/** A row with a place is `at` or `end`; past the true end both are the plateau. */
function speedRowTruth({ x, branch, unit }: RowVerdict, truths: Truths): Known | null {
  const { weights } = truths.unit;
  if (branch === null) return null;
  if (unit === "rpm") {
    const truth = balanceRpm(weights, 0, branch);
    // The weights are in motion at the reference already: no start to be found.
    if (truth <= truths.referenceRpm) return null;
    const quantity = `start of advance over speed, ${branch}`;
    return { quantity, truth, interior: true, speedRpm: truth };
  }
  if (x === null) return null;
  const camDeg = truths.camDeg(x, branch);
  const atStop = camDeg === weights.stopDeg;
  return {
    quantity: atStop ? "largest advance, weights" : "printed row at a speed",
    truth: truths.advanceDeg(x, branch),
    interior: true,
    speedRpm: x,
  };
}

function vacuumRowTruth({ x, branch, unit }: RowVerdict, truths: Truths): Known | null {
  const { capsule } = truths.unit;
  if (capsule === null || branch === null) return null;
  const speedRpm = truths.sweepRpm;
  if (unit === "Pa") {
    const truth = capsuleStartPa(capsule, branch);
    return { quantity: "start of advance over vacuum", truth, interior: true, speedRpm };
  }
  if (x === null) return null;
  const truth = capsuleAdvanceDeg(capsule, x, branch);
  const atEnd = truth === capsuleAdvanceDeg(capsule, 1e6, "rising");
  const quantity = atEnd ? "largest advance, capsule" : "printed row at a vacuum";
  return { quantity, truth, interior: true, speedRpm };
}
