// Uncertainty parts put together (JCGM 100 § 5.1.2, from memory: in quadrature where independent).
import type { PartName, UncertaintyPart } from "../documents.ts";

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

export function combined(parts: readonly UncertaintyPart[]): number {
  return Math.hypot(...parts.map(({ standardUncertainty }) => standardUncertainty));
}
