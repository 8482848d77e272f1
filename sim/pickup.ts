// Where the rig's pickup edges truly stand.
import { Random } from "./random.ts";
import type { RigSetup } from "./scenario.ts";

const SPACING_STREAM = 4;
const RAD = Math.PI / 180;

/**
 * By how many degrees each edge stands after its even place, in the order in which a unit turned the
 * way it is made for meets them; the index is edge 0, the origin, with error 0. Angles of the disc,
 * the same at every speed.
 */
export function pickupErrorsDeg(
  rig: Pick<
    RigSetup,
    "pickupEdges" | "spacingErrorPeakDeg" | "eccentricityDeg" | "eccentricityPhaseDeg"
  >,
  seed: number,
): number[] {
  const { pickupEdges, spacingErrorPeakDeg, eccentricityDeg, eccentricityPhaseDeg } = rig;
  const random = new Random(seed, SPACING_STREAM);
  const onceATurn = (edge: number) =>
    eccentricityDeg * Math.cos(((360 * edge) / pickupEdges - eccentricityPhaseDeg) * RAD);
  return Array.from({ length: pickupEdges }, (_, edge) => {
    if (edge === 0) return 0;
    return spacingErrorPeakDeg * (2 * random.uniform() - 1) + onceATurn(edge) - onceATurn(0);
  });
}
