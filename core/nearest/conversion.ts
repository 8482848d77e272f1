// What would turn a measured unit into one on file: part by part by the fitted figures, then as advice with a forecast.
import type { DrawerSpring } from "../drawer/drawer.ts";
import { type Nominal, nominalOf } from "../findings/nominal.ts";
import { type Figure, isFitted, isTold, type WeightsFit } from "../mechanism/fitted.ts";
import { advise, type Refit } from "../refit/advise.ts";
import { adviseCapsule, type CapsuleAdvice } from "../refit/capsule.ts";
import type { Installed } from "../refit/installed.ts";
import { measuredUnit } from "../refit/measuredUnit.ts";
import { specifiedStopDeg } from "../refit/target.ts";
import type { Unit } from "../unit.ts";
import type { Measured, MeasuredCapsule } from "./measured.ts";
import { capsuleBandOf } from "./nearest.ts";

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
  const { speed, referenceRpm, mechanism } = measured;
  const { speedBand } = to;
  const states = [{ ...speed, installed, referenceRpm }];
  const unit = speedBand === null ? null : measuredUnit(states, specifiedStopDeg(speedBand));
  const nominal = speedBand === null ? null : nominalOf(speedBand, 2);
  const { weights } = mechanism;
  return {
    changes: [
      ...(nominal !== null && isFitted(weights) ? weightsChanges(weights, nominal) : []),
      ...measured.capsules.flatMap((capsule) => capsuleChanges(measured, capsule, to)),
    ],
    refit: unit === null || speedBand === null ? null : advise(unit, speedBand, drawer, installed),
    capsules: measured.capsules.flatMap((capsule) => {
      const band = capsuleBandOf(to, capsule);
      const advice = band === null ? null : adviseCapsule(capsule.rising, band);
      return advice === null ? [] : [{ name: capsule.name, ...advice }];
    }),
  };
}

function weightsChanges(fit: WeightsFit, nominal: Nominal): readonly PartChange[] {
  const startRpm = Math.sqrt(nominal.knots[0]?.load ?? 0);
  const start = off(fit.startRpm, startRpm, 2 * nominal.startDoubt);
  return [
    ...change("first spring's load at rest", "rpm", start),
    ...(nominal.stopDeg === null
      ? []
      : change("stop", "deg", off(fit.stopDeg, nominal.stopDeg, nominal.halfWidthDeg))),
  ];
}

function capsuleChanges(
  { mechanism }: Measured,
  capsule: MeasuredCapsule,
  to: Unit,
): readonly PartChange[] {
  const fit = mechanism.capsules[capsule.index] ?? null;
  const band = capsuleBandOf(to, capsule);
  const nominal = band === null ? null : nominalOf(band, 1);
  if (fit === null || !isFitted(fit) || nominal === null) return [];
  const startPa = nominal.knots[0]?.load ?? 0;
  const sign = capsule.acts === "retard" ? -1 : 1;
  const start = off(fit.startPa, startPa, 2 * nominal.startDoubt);
  return [
    ...change("capsule's spring load", "Pa", start, capsule.name),
    ...(nominal.stopDeg === null
      ? []
      : change(
          "capsule's stop",
          "deg",
          off(fit.endDeg, sign * nominal.stopDeg, nominal.halfWidthDeg),
          capsule.name,
        )),
  ];
}

type Off = Pick<PartChange, "measured" | "expandedUncertainty" | "wanted">;

function change(
  part: PartChange["part"],
  unit: PartChange["unit"],
  one: Off | null,
  capsule: string | null = null,
): readonly PartChange[] {
  return one === null ? [] : [{ part, capsule, unit, ...one }];
}

/** Null where it is not told, or no farther off than both are known. */
function off(figure: Figure, wanted: number, wantedDoubt: number): Off | null {
  if (!isTold(figure)) return null;
  const expandedUncertainty = figure.coverageFactor * figure.standardUncertainty;
  const doubt = Math.hypot(expandedUncertainty, wantedDoubt);
  if (Math.abs(wanted - figure.value) <= doubt) return null;
  return { measured: figure.value, expandedUncertainty, wanted };
}
