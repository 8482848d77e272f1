// One specification against the readings of a curve, with faults of any size.
import type { CurvePoint } from "../documents.ts";
import type { CurveFault } from "./curveFaults.ts";
import {
  changeCovariance,
  errorsOf,
  formCovariance,
  type KnownChange,
  type Point,
  sum,
} from "./doubts.ts";
import { type Explained, explain, type Reach, type Whitened, whitened } from "./evidence.ts";
import { read, type Shape } from "./shape.ts";
import { lognormal, readRows, type SoundUnits } from "./soundUnits.ts";

export interface Curve {
  readonly rising: readonly CurvePoint[];
  readonly falling: readonly CurvePoint[];
  readonly referenceX: number;
  /** Standard uncertainty of what stands in all readings alike beyond their budgets. */
  readonly commonDeg: number;
}

/** A curve that no fault explains may lie so far from a sound one. */
const UNEXPLAINED_DEG = 1.5;
const MOVES_DEG = 0.05;
const MOST_PASSES = 4;
const SAME_DEG = 0.2;
/** Along the curve: geometry bends it otherwise than springs and lever of this form. Read off simulated units. */
const FORM_DEG = 0.1;

/** A reading so near the reference's speed tells of the return; and where the cam then is may be anywhere. */
const NEAR_SHARE = 1.1;
const ANYWHERE_DEG = 5;

export function pointsOf(curve: Curve): readonly Point[] {
  return (["rising", "falling"] as const).flatMap((branch) =>
    curve[branch].map((point) => ({ ...point, branch })),
  );
}

/** One specification against the readings: what it asks for of the sound unit is one more thing that is read. */
export class Comparison {
  readonly units: SoundUnits;
  private readonly points: readonly Point[];
  private readonly referenceX: number;
  private readonly values: readonly number[];
  private readonly errors: readonly (readonly number[])[];
  /** Of a cam that nothing draws home. */
  private readonly withReturnOpen: readonly (readonly number[])[];

  constructor(
    units: SoundUnits,
    points: readonly Point[],
    { referenceX, commonDeg }: Pick<Curve, "referenceX" | "commonDeg">,
  ) {
    this.units = units;
    this.points = points;
    this.referenceX = referenceX;
    this.values = [...points.map(({ advanceDeg }) => advanceDeg), ...units.rows.degrees];
    this.errors = errorsOf(points, commonDeg);
    const isReturn = ({ x, branch }: Point) => branch === "falling" && x <= NEAR_SHARE * referenceX;
    this.withReturnOpen = this.errors.map((row, i) =>
      isReturn(points[i] as Point) ? row.with(i, (row[i] as number) + ANYWHERE_DEG ** 2) : row,
    );
  }

  /** Again and again, each time by how exactly it is known what the faults change: the more the less. */
  explain(
    faults: readonly CurveFault[],
    starts: readonly (readonly number[])[],
    reach: Reach = "near",
  ): Explained {
    const predict = (sizes: readonly number[]) => this.predict(faults, sizes);
    const isJerky = faults.some((fault) => fault.isJerky);
    const errors = faults.some((fault) => fault.isLoose) ? this.withReturnOpen : this.errors;
    let found = explain(this.whitened(errors, FORM_DEG, null), starts, predict, reach);
    if (faults.length === 0) return found;
    const [passes, next] = reach === "glance" ? [1, reach] : [MOST_PASSES, "near" as const];
    for (let pass = 0; pass < passes; pass++) {
      const { predicted, sizes } = found;
      const curve = predicted.slice(0, this.points.length);
      // No change is known better than that nothing moves.
      if (curve.every((deg) => Math.abs(deg) < MOVES_DEG)) return found;
      const sound = this.predict([], sizes, faults.length);
      const changes = predicted.map((deg, i) => deg - (sound[i] as number));
      const known = { predicted, changes, isJerky };
      found = explain(this.whitened(errors, FORM_DEG, known), [sizes], predict, next);
      const isSame = (deg: number, i: number) => Math.abs(deg - (curve[i] as number)) < SAME_DEG;
      if (found.predicted.slice(0, curve.length).every(isSame)) return found;
    }
    return found;
  }

  /** With the faults as `explain` has them, and the curve off besides as it likes. */
  leaveUnexplained(
    starts: readonly (readonly number[])[],
    faults: readonly CurveFault[] = [],
  ): Explained {
    return explain(this.whitened(this.errors, UNEXPLAINED_DEG, null), starts, (sizes) =>
      this.predict(faults, sizes),
    );
  }

  private whitened(
    errors: readonly (readonly number[])[],
    formDeg: number,
    known: KnownChange | null,
  ): Whitened {
    const curve = sum(errors, formCovariance(this.points, formDeg));
    const ofPoints = known === null ? curve : sum(curve, changeCovariance(known));
    const { doubtDeg } = this.units.rows;
    const count = this.points.length;
    return whitened(
      this.values,
      this.values.map((_, i) =>
        this.values.map((__, j) => {
          if (i < count && j < count) return ofPoints[i]?.[j] as number;
          return i === j ? doubtDeg ** 2 : 0;
        }),
      ),
    );
  }

  /** `sizes`: the faults' first, then from `from` on what is open of the sound unit. */
  predict(
    faults: readonly CurveFault[],
    sizes: readonly number[],
    from = faults.length,
  ): Float64Array {
    const { units, points, values } = this;
    const sound = units.shapeOf(sizes, from);
    let shape: Shape = sound;
    for (let k = 0; k < faults.length; k++) {
      const fault = faults[k] as CurveFault;
      shape = fault.change(shape, sizeOf(fault, sizes[k] ?? 0));
    }
    const degrees = new Float64Array(values.length);
    readRows(units, sound, degrees, points.length);
    read(shape, points, this.referenceX, degrees, 0);
    return degrees;
  }
}

export function sizeOf({ size }: CurveFault, standard: number): number {
  return size === null ? 0 : lognormal(size, standard);
}
