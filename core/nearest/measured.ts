// What is compared with the units on file: one record's unit, curves and reference.
import type { CurvePoint, RunDocument, RunResult } from "../documents.ts";
import { isReached } from "../findings/capsules.ts";
import { resultOf, startDocumentOf } from "../sheet/curves.ts";
import type { Unit } from "../unit.ts";

export interface Sweep {
  /** Rising order of x: distributor rpm or pascals. */
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
}

/** A capsule whose hose was on. */
export interface MeasuredCapsule extends Sweep {
  readonly name: string;
  /** As the curve goes; where it hardly moves, as the record's unit has it. */
  readonly acts: "advance" | "retard";
}

export interface Measured {
  readonly unit: Unit;
  readonly referenceRpm: number;
  readonly isByHand: boolean;
  readonly speed: Sweep;
  /** Those that have readings. */
  readonly capsules: readonly MeasuredCapsule[];
  readonly result: RunResult;
}

/** A capsule that goes less far than this says nothing of which way it acts. An assumption, no source. */
const MOVES_DEG = 1;

/** @throws BUG where the documents do not begin with a start */
export function measuredFrom(documents: readonly RunDocument[]): Measured {
  const { unit, plan, rig } = startDocumentOf(documents);
  const result = resultOf(documents);
  const sensorPa = rig.vacuumSensorStandardUncertaintyPa;
  const reached = (points: readonly CurvePoint[]) =>
    points.filter((point) => isReached(point, sensorPa));
  return {
    unit,
    referenceRpm: plan.referenceRpm,
    isByHand: rig.byHand !== undefined,
    speed: result.speed,
    capsules: result.capsules.flatMap(({ name, rising, falling }, i): MeasuredCapsule[] => {
      const sweep = { rising: reached(rising), falling: reached(falling) };
      if (sweep.rising.length === 0) return [];
      const farthestDeg = sweep.rising.reduce(
        (most, { advanceDeg }) => (Math.abs(advanceDeg) > Math.abs(most) ? advanceDeg : most),
        0,
      );
      const stated = unit.capsules[i]?.acts ?? "advance";
      const seen = farthestDeg < 0 ? "retard" : "advance";
      return [{ name, acts: Math.abs(farthestDeg) < MOVES_DEG ? stated : seen, ...sweep }];
    }),
    result,
  };
}
