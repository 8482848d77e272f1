// Curves read off a form, for tests: at places of one's choice, with errors of one's choice.
import type { CurvePoint, UncertaintyPart } from "../../core/documents.ts";

export function part(
  name: UncertaintyPart["name"],
  standardUncertainty: number,
  shared: boolean,
): UncertaintyPart {
  return { name, standardUncertainty, degreesOfFreedom: null, shape: "normal", shared };
}

/** In rising order of x, as the judge gives both branches. */
export function curve(
  xs: readonly number[],
  advanceAt: (x: number) => number,
  budget: readonly UncertaintyPart[] = [part("repeatability", 0.005, false)],
): CurvePoint[] {
  const standardUncertaintyDeg = Math.hypot(
    ...budget.map(({ standardUncertainty }) => standardUncertainty),
  );
  return xs.map((x) => ({
    x,
    targetX: x,
    advanceDeg: advanceAt(x),
    standardUncertaintyDeg,
    coverageFactor: 1.96,
    budget,
  }));
}

/** Standard normal values, the same ones for a seed (Box and Muller 1958; multiplier of Park and Miller 1988, from memory). */
export function normals(seed: number): () => number {
  let state = 1 + seed;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
