// Uncertainty parts put together: combined standard uncertainty, coverage factor, and what a difference keeps of them.
import type { PartName, UncertaintyPart } from "../documents.ts";
import { coverageFactorOf } from "../uncertainty/distributions.ts";

export function part(
  name: PartName,
  standardUncertainty: number,
  more: Partial<Pick<UncertaintyPart, "degreesOfFreedom" | "shape" | "shared">> = {},
): UncertaintyPart {
  return {
    name,
    standardUncertainty,
    degreesOfFreedom: null,
    shape: "normal",
    shared: false,
    ...more,
  };
}

/** Independent parts in quadrature (JCGM 100 § 5.1.2, from memory). */
export function combined(parts: readonly UncertaintyPart[]): number {
  return Math.hypot(...parts.map(({ standardUncertainty }) => standardUncertainty));
}

/** For 95 % coverage: by degrees of freedom (JCGM 100, annex G) and by shape (JCGM 101). */
export function coverageOf(parts: readonly UncertaintyPart[]): number {
  return coverageFactorOf(
    parts.map(({ standardUncertainty, degreesOfFreedom, shape }) => ({
      standardUncertainty,
      degreesOfFreedom: Math.max(1, degreesOfFreedom ?? Number.POSITIVE_INFINITY),
      shape,
    })),
  );
}

/** The same parts for a figure that follows theirs with this sensitivity. */
export function scaled(parts: readonly UncertaintyPart[], sensitivity: number): UncertaintyPart[] {
  return parts.map((one) => ({
    ...one,
    standardUncertainty: Math.abs(sensitivity) * one.standardUncertainty,
  }));
}

export function sharedOf(parts: readonly UncertaintyPart[]): UncertaintyPart[] {
  return parts.filter(({ shared }) => shared);
}

export function ownOf(parts: readonly UncertaintyPart[]): UncertaintyPart[] {
  return parts.filter(({ shared }) => !shared);
}
