// The lobes' deviations parted into what goes round with the turn, what stays with the lobes, and chance.
import type { Scatter } from "../documents.ts";
import type { LobeEvents } from "./window.ts";

/** With three lobes a once-per-turn pattern and any other are the same three numbers. */
const LOBES_MIN = 4;

/** `deviationsDeg`, `lobes` and `placesDeg` (degrees after the index, NaN without events) in the order of the lobes. */
export function scatterOf(
  deviationsDeg: readonly number[],
  lobes: readonly LobeEvents[],
  placesDeg: readonly number[],
): Scatter {
  const randomDeg = pooledSpread(lobes);
  const round = placesDeg.some(Number.isNaN) ? null : oncePerTurn(deviationsDeg, placesDeg);
  if (round === null) {
    return {
      oncePerTurnDeg: null,
      oncePerTurnAtDeg: null,
      fixedDeg: largest(deviationsDeg),
      randomDeg,
    };
  }
  const { cosine, sine } = round;
  const rest = centred(
    deviationsDeg.map((deviation, j) => {
      const angle = ((placesDeg[j] as number) * Math.PI) / 180;
      return deviation - cosine * Math.cos(angle) - sine * Math.sin(angle);
    }),
  );
  return {
    oncePerTurnDeg: Math.hypot(cosine, sine),
    oncePerTurnAtDeg: ((Math.atan2(sine, cosine) * 180) / Math.PI + 360) % 360,
    fixedDeg: largest(rest),
    randomDeg,
  };
}

/** Least squares on cosine and sine of the place; null with too few lobes to tell. */
function oncePerTurn(
  deviationsDeg: readonly number[],
  placesDeg: readonly number[],
): { readonly cosine: number; readonly sine: number } | null {
  if (deviationsDeg.length < LOBES_MIN) return null;
  const angles = placesDeg.map((place) => (place * Math.PI) / 180);
  const cosines = centred(angles.map(Math.cos));
  const sines = centred(angles.map(Math.sin));
  const product = (one: readonly number[], other: readonly number[]) =>
    one.reduce((sum, value, j) => sum + value * (other[j] as number), 0);
  const [cc, ss, cs] = [product(cosines, cosines), product(sines, sines), product(cosines, sines)];
  const [yc, ys] = [product(deviationsDeg, cosines), product(deviationsDeg, sines)];
  const determinant = cc * ss - cs * cs;
  if (determinant < 1e-6) return null;
  return { cosine: (ss * yc - cs * ys) / determinant, sine: (cc * ys - cs * yc) / determinant };
}

function centred(values: readonly number[]): number[] {
  const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
  return values.map((one) => one - mean);
}

function largest(deviationsDeg: readonly number[]): number {
  return Math.max(0, ...deviationsDeg.map(Math.abs));
}

/** Standard deviation of single events about their own lobes' means. */
function pooledSpread(lobes: readonly LobeEvents[]): number {
  let squares = 0;
  let degrees = 0;
  for (const { spreadDeg, count } of lobes) {
    squares += spreadDeg ** 2 * Math.max(0, count - 1);
    degrees += Math.max(0, count - 1);
  }
  return degrees === 0 ? 0 : Math.sqrt(squares / degrees);
}
