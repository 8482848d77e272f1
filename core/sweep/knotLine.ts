// Lines and curvatures through readings of one branch.
import type { Knot } from "./knot.ts";

/** Least squares, each reading by its uncertainty. */
export function lineThrough(knots: readonly Knot[]): {
  readonly slope: number;
  readonly sigma: number;
  readonly centreU: number;
  at(u: number): number;
} {
  let weights = 0;
  let sumU = 0;
  let sumDeg = 0;
  for (const { u, deg, sigma } of knots) {
    const weight = 1 / sigma ** 2;
    weights += weight;
    sumU += weight * u;
    sumDeg += weight * deg;
  }
  const centreU = sumU / weights;
  const centreDeg = sumDeg / weights;
  let square = 0;
  let product = 0;
  for (const { u, deg, sigma } of knots) {
    square += ((u - centreU) / sigma) ** 2;
    product += ((u - centreU) * (deg - centreDeg)) / sigma ** 2;
  }
  const slope = product / square;
  return {
    slope,
    sigma: 1 / Math.sqrt(square),
    centreU,
    at: (u) => centreDeg + slope * (u - centreU),
  };
}

/** The smaller of the second derivatives of the first two triples, since a corner spoils one of them. */
export function curvatureOf(knots: readonly Knot[]): number {
  const triples = [knots.slice(0, 3), knots.slice(1, 4)];
  const [first, second] = triples.map(secondDerivative);
  if (first === undefined || second === undefined || first * second <= 0) return 0;
  return Math.abs(first) < Math.abs(second) ? first : second;
}

/** 0 where it is not clear of the noise. */
function secondDerivative(triple: readonly Knot[]): number {
  const [a, b, c] = triple;
  if (a === undefined || b === undefined || c === undefined) return 0;
  const [ab, bc] = [lineThrough([a, b]), lineThrough([b, c])];
  const apart = bc.centreU - ab.centreU;
  const turned = bc.slope - ab.slope;
  return Math.abs(turned) < Math.hypot(ab.sigma, bc.sigma) ? 0 : turned / apart;
}
