// The spring drawer: the workshop's stock of springs, each with the rate that is known best.
import { coverageFactorOf } from "../uncertainty/distributions.ts";
import { type Spring, springRateNPerM } from "./spring.ts";

/** What the rate is computed from. */
export type SpringWire = Pick<
  Spring,
  "wireDiameterM" | "meanCoilDiameterM" | "activeCoils" | "shearModulusPa"
>;

export interface MeasuredRate {
  readonly rateNPerM: number;
  /** 95 % coverage. */
  readonly expandedUncertaintyNPerM: number;
}

/** At least one of `wire` and `measuredRate` is known. */
export interface DrawerSpring
  extends Pick<Spring, "freeLengthM" | "initialTensionN" | "loopLengthM"> {
  readonly name: string;
  readonly quantity: number;
  readonly wire: SpringWire | null;
  readonly measuredRate: MeasuredRate | null;
}

/** Null where wire and coils are not known. */
export function springOf({
  wire,
  freeLengthM,
  initialTensionN,
  loopLengthM,
}: DrawerSpring): Spring | null {
  return wire === null ? null : { ...wire, freeLengthM, initialTensionN, loopLengthM };
}

export interface SpringRate {
  readonly from: "measurement" | "wire";
  readonly rateNPerM: number;
  /** 95 % coverage. */
  readonly expandedUncertaintyNPerM: number;
}

/** Limits either way of a workshop's measures: micrometer, calliper, counted by eye. Assumptions, no source. */
const WIRE_LIMIT_M = 0.01e-3;
const COIL_LIMIT_M = 0.1e-3;
const COILS_LIMIT = 0.25;
/** By size and make: 79.3 to 82.7 GPa in public tables. */
const MODULUS_LIMIT_SHARE = 0.04;

/** From wire and coils; the wire counts to the fourth power, so a hundredth of a millimetre tells. */
export function computedRate(wire: SpringWire): SpringRate {
  const rateNPerM = springRateNPerM(wire);
  const shares = [
    (4 * WIRE_LIMIT_M) / wire.wireDiameterM,
    (3 * COIL_LIMIT_M) / wire.meanCoilDiameterM,
    COILS_LIMIT / wire.activeCoils,
    MODULUS_LIMIT_SHARE,
  ];
  // Rectangular: u = a/√3 (JCGM 100 § 4.3.7, from memory).
  const parts = shares.map((share) => ({
    standardUncertainty: (share * rateNPerM) / Math.sqrt(3),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    shape: "rectangular" as const,
  }));
  const standardUncertainty = Math.hypot(...parts.map((part) => part.standardUncertainty));
  return {
    from: "wire",
    rateNPerM,
    expandedUncertaintyNPerM: coverageFactorOf(parts) * standardUncertainty,
  };
}

/** A measured rate before one computed. */
export function rateOf({ wire, measuredRate }: DrawerSpring): SpringRate {
  if (measuredRate !== null) return { from: "measurement", ...measuredRate };
  return computedRate(wire as SpringWire);
}

/** Whether a spring's two rates, where it has both, lie further apart than their uncertainties allow. */
export function ratesDiffer({ wire, measuredRate }: DrawerSpring): boolean {
  if (wire === null || measuredRate === null) return false;
  const computed = computedRate(wire);
  return (
    Math.abs(computed.rateNPerM - measuredRate.rateNPerM) >
    Math.hypot(computed.expandedUncertaintyNPerM, measuredRate.expandedUncertaintyNPerM)
  );
}
