// What would turn a measured unit into one on file: part by part by the fitted figures, then as advice with a forecast.
import { combined, coverageOf } from "../angles/budget.ts";
import type { CurvePoint, UncertaintyPart } from "../documents.ts";
import type { DrawerSpring } from "../drawer/drawer.ts";
import { nominalOf } from "../findings/nominal.ts";
import { advise, type Refit } from "../refit/advise.ts";
import { adviseCapsule, type CapsuleAdvice } from "../refit/capsule.ts";
import type { Installed } from "../refit/installed.ts";
import { measuredUnit } from "../refit/measuredUnit.ts";
import { specified } from "../refit/target.ts";
import type { SweepAxis } from "../sweep/curve.ts";
import type { Band, Unit } from "../unit.ts";
import type { Measured, MeasuredCapsule } from "./measured.ts";
import { capsuleBandOf } from "./nearest.ts";
import { endRead, startRead } from "./rows.ts";

/**
 * One figure that differs by more than is uncertain, and the part that sets it. Slopes and the knee are
 * left to the refit's springs: printed rows are too few to read them off.
 */
export interface PartChange {
  readonly part:
    | "first spring's load at rest"
    | "stop"
    | "capsule's spring load"
    | "capsule's stop";
  /** Name of the capsule; null for the weights. */
  readonly capsule: string | null;
  readonly unit: "rpm" | "deg" | "Pa";
  readonly measured: number;
  readonly expandedUncertainty: number;
  readonly wanted: number;
}

export interface Conversion {
  readonly changes: readonly PartChange[];
  /** Null: the weights' curve tells too little, or nothing is specified. */
  readonly refit: Refit | null;
  readonly capsules: readonly (CapsuleAdvice & { readonly name: string })[];
}

/** @param drawer and `installed`: empty and null where no springs are known; then posts and stop are advised alone */
export function conversion(
  measured: Measured,
  to: Unit,
  drawer: readonly DrawerSpring[],
  installed: Installed,
): Conversion {
  const { speed, referenceRpm } = measured;
  const { speedBand } = to;
  const states = [{ ...speed, installed, referenceRpm }];
  const unit = speedBand === null ? null : measuredUnit(states, specified(speedBand));
  return {
    changes: [
      ...changesOf("speed", speed.rising, speedBand, null),
      ...measured.capsules.flatMap((capsule) =>
        changesOf("vacuum", capsule.rising, capsuleBandOf(to, capsule), capsule),
      ),
    ],
    refit: unit === null || speedBand === null ? null : advise(unit, speedBand, drawer, installed),
    capsules: measured.capsules.flatMap((capsule) => {
      const band = capsuleBandOf(to, capsule);
      const advice = band === null ? null : adviseCapsule(capsule.rising, band);
      return advice === null ? [] : [{ name: capsule.name, ...advice }];
    }),
  };
}

/** Where the rising curve begins and ends, against what the rows ask for. */
function changesOf(
  axis: SweepAxis,
  rising: readonly CurvePoint[],
  band: Band | null,
  capsule: MeasuredCapsule | null,
): readonly PartChange[] {
  const nominal = band === null ? null : nominalOf(band, axis === "speed" ? 2 : 1);
  if (nominal === null) return [];
  const { knots, power, startDoubt, stopDeg, halfWidthDeg } = nominal;
  const start = startRead(axis, rising);
  const end = endRead(axis, rising);
  const [load, stop] =
    capsule === null
      ? (["first spring's load at rest", "stop"] as const)
      : (["capsule's spring load", "capsule's stop"] as const);
  const name = capsule?.name ?? null;
  const sign = capsule?.acts === "retard" ? -1 : 1;
  return [
    ...(start?.kind === "found" && isStartPrinted(band)
      ? change(
          load,
          axis === "speed" ? "rpm" : "Pa",
          off(start.x, start.budget, (knots[0]?.load ?? 0) ** (1 / power), 2 * startDoubt),
          name,
        )
      : []),
    ...(end === null || stopDeg === null
      ? []
      : change(stop, "deg", off(end.advanceDeg, end.budget, sign * stopDeg, halfWidthDeg), name)),
  ];
}

/** Else where it begins is led to from rows far beyond, which says little. */
function isStartPrinted(band: Band | null): boolean {
  return (band?.rows ?? []).some(
    (row) =>
      row.kind === "start" ||
      row.kind === "noneBelow" ||
      (row.kind === "at" && (row.limitsDeg.min ?? 0) * (row.limitsDeg.max ?? 0) < 0),
  );
}

type Off = Pick<PartChange, "measured" | "expandedUncertainty" | "wanted">;

function change(
  part: PartChange["part"],
  unit: PartChange["unit"],
  one: Off | null,
  capsule: string | null,
): readonly PartChange[] {
  return one === null ? [] : [{ part, capsule, unit, ...one }];
}

/** Null where it is no farther off than both are known. */
function off(
  measured: number,
  budget: readonly UncertaintyPart[],
  wanted: number,
  wantedDoubt: number,
): Off | null {
  const expandedUncertainty = coverageOf(budget) * combined(budget);
  const doubt = Math.hypot(expandedUncertainty, wantedDoubt);
  return Math.abs(wanted - measured) <= doubt ? null : { measured, expandedUncertainty, wanted };
}
