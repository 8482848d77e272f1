// The coverage factor of a sum of independent parts that are not all normal (JCGM 101), without chance.
import { BobweightError } from "../errors.ts";
import { coverageFactor, effectiveDegreesOfFreedom } from "./coverage.ts";

export type Shape = "normal" | "rectangular" | "triangular" | "arcsine";

/** One part of an uncertainty, in the sum's unit; every shape is symmetric about zero. */
export interface Part {
  readonly standardUncertainty: number;
  /** 1 to Infinity. */
  readonly degreesOfFreedom: number;
  readonly shape: Shape;
}

/*
 * Fourier series of the distribution function. On −L to L the probability between −x and x is
 * x/L + Σ 2 φ(nπ/L) sin(nπx/L) / (nπ), φ being the characteristic function of the sum, the product
 * of those of its parts. Chosen before a convolution on a grid, because φ is computed once for all
 * x, edges and poles of the densities need no care, and the result depends smoothly on every part;
 * before Gil-Pelaez's integral, because the series is that integral with a step that makes no error
 * here: what lies beyond 2L − x is all that it misses. All four shapes have tails no heavier than
 * the normal one's (their moment generating functions stay below exp(s²/2), so that less than
 * 2 exp(−x²/2) lies beyond ± x): with the combined uncertainty as unit and L = 5 this is less than
 * 1e-9 for any x that is asked for. Ending the series costs more: k is right to 0.0001.
 */
const HALF_PERIOD = 5;
/** The series ends where its terms have fallen below this. */
const SMALLEST_TERM = 1e-6;
/** Only an arcsine part that is nearly alone needs so many. */
const MOST_TERMS = 4096;

/** Bessel's integral for J0 by midpoints: sixteen miss 2 J32(x), which is nothing up to x = 12. */
const MIDPOINTS = Array.from({ length: 8 }, (_, i) => Math.cos(((i + 0.5) * Math.PI) / 16));

/** Bessel's function J0 for x of 0 and more, to 2e-6: the series asks for no more. */
export function besselJ0(x: number): number {
  if (x < 12) return MIDPOINTS.reduce((sum, cosine) => sum + Math.cos(x * cosine), 0) / 8;
  // Hankel's expansion for large x, two terms of each kind.
  const w = 1 / (8 * x);
  const phase = x - Math.PI / 4;
  const wave = (1 - 4.5 * w * w) * Math.cos(phase) + w * (1 - 37.5 * w * w) * Math.sin(phase);
  return Math.sqrt(2 / (Math.PI * x)) * wave;
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(x) / x;
}

/** Characteristic function of a shape at s in units of 1/u. */
function phiOf(shape: Shape, s: number): number {
  switch (shape) {
    case "normal":
      return Math.exp(-s * s * 0.5);
    // Half-widths √3 u, √6 u and √2 u: JCGM 100 § 4.3.7, § 4.3.9 and note to H.1.3.4, from memory.
    case "rectangular":
      return sinc(Math.sqrt(3) * s);
    case "triangular":
      return sinc(Math.sqrt(1.5) * s) ** 2;
    case "arcsine":
      return besselJ0(Math.SQRT2 * s);
  }
}

/** A bound on the size that it has from s on; `phi` is its value there. */
function boundOf(shape: Shape, s: number, phi: number): number {
  switch (shape) {
    case "normal":
      return phi;
    case "rectangular":
      return Math.min(1, 1 / (Math.sqrt(3) * s));
    case "triangular":
      return Math.min(1, 1 / (1.5 * s * s));
    case "arcsine":
      return Math.min(1, Math.sqrt(Math.SQRT2 / (Math.PI * s)));
  }
}

/** Where the factors of a series stand. One for all, since none outlives its call. */
const factors = new Float64Array(MOST_TERMS);

/**
 * Factors of sin(nπx/L), n from 1, for parts with standard uncertainties in units of the combined one.
 * Gives how many there are.
 */
function layFactors(parts: readonly Shaped[], combined: number): number {
  let terms = 0;
  let bound = 1;
  while (terms < MOST_TERMS && bound >= SMALLEST_TERM) {
    const n = terms + 1;
    let factor = 2 / (n * Math.PI);
    bound = factor;
    for (const { standardUncertainty, shape } of parts) {
      const s = (standardUncertainty / combined) * ((n * Math.PI) / HALF_PERIOD);
      const phi = phiOf(shape, s);
      factor *= phi;
      bound *= boundOf(shape, s, phi);
    }
    factors[terms] = factor;
    terms = n;
  }
  return terms;
}

/** Probability between −x and x, by Clenshaw's summation of the first `terms` sines. */
function between(terms: number, x: number): number {
  const angle = (Math.PI * x) / HALF_PERIOD;
  const double = 2 * Math.cos(angle);
  let later = 0;
  let now = 0;
  for (let at = terms - 1; at >= 0; at--) {
    const next = (factors[at] as number) + double * now - later;
    later = now;
    now = next;
  }
  return x / HALF_PERIOD + now * Math.sin(angle);
}

/** Far below what the series leaves of k. */
const CLOSE_ENOUGH = 1e-8;

/** Where `rising` passes zero between `low` and `high`: false position, Illinois's variant. */
function crossing(rising: (x: number) => number, low: number, high: number): number {
  let left = low;
  let right = high;
  let atLeft = rising(low);
  let atRight = rising(high);
  let side = 0;
  while (right - left > CLOSE_ENOUGH) {
    const x = (left * atRight - right * atLeft) / (atRight - atLeft);
    const at = rising(x);
    if (at === 0 || x <= left || x >= right) return x;
    if (at < 0) {
      left = x;
      atLeft = at;
      if (side < 0) atRight /= 2;
      side = -1;
    } else {
      right = x;
      atRight = at;
      if (side > 0) atLeft /= 2;
      side = 1;
    }
  }
  return (left + right) / 2;
}

/** Parts smaller than this share of the whole do not show in k: it would change by about half the share's square. */
const SMALLEST_SHARE = 0.001;

/** Half-width over combined standard uncertainty, all standard uncertainties taken as known. */
function factorOfShapes(all: readonly Part[], probability: number): number {
  const whole = inQuadrature(all);
  const parts = withOneNormal(all).filter(
    (part) => part.standardUncertainty >= SMALLEST_SHARE * whole,
  );
  const [part] = parts;
  if (parts.length === 1 && part !== undefined) return factorAlone(part.shape, probability);
  const combined = inQuadrature(parts);
  const terms = layFactors(parts, combined);
  return crossing((x) => between(terms, x) - probability, 0, HALF_PERIOD);
}

type Shaped = Pick<Part, "standardUncertainty" | "shape">;

function inQuadrature(parts: readonly Shaped[]): number {
  return Math.hypot(...parts.map((part) => part.standardUncertainty));
}

/** Normal parts together are a normal one: exactly the same, and one exponential a term instead of many. */
function withOneNormal(parts: readonly Shaped[]): Shaped[] {
  const others = parts.filter(({ shape }) => shape !== "normal");
  const standardUncertainty = inQuadrature(parts.filter(({ shape }) => shape === "normal"));
  return [{ standardUncertainty, shape: "normal" }, ...others];
}

/** From the shape's distribution function; half-widths as in `phiOf`. */
function factorAlone(shape: Shape, probability: number): number {
  switch (shape) {
    case "normal":
      return normalFactor(probability);
    case "rectangular":
      return Math.sqrt(3) * probability;
    case "triangular":
      return Math.sqrt(6) * (1 - Math.sqrt(1 - probability));
    case "arcsine":
      return Math.SQRT2 * Math.sin((Math.PI / 2) * probability);
  }
}

/** Of a normal distribution, by probability: asked for with every reading, and ever the same. */
const normalFactors = new Map<number, number>();

function normalFactor(probability: number): number {
  const known = normalFactors.get(probability);
  if (known !== undefined) return known;
  const factor = coverageFactor(probability, Number.POSITIVE_INFINITY);
  normalFactors.set(probability, factor);
  return factor;
}

/**
 * Coverage factor k: ± k × the combined standard uncertainty (root of the sum of squares) holds
 * `probability` (0.5 to 0.99) of the sum of independent parts, symmetric about the value.
 *
 * The shapes are taken as JCGM 101 does. Few degrees of freedom widen the result as JCGM 100 does,
 * by t(ν) over t(∞) with Welch–Satterthwaite's ν: exact for one normal part and for any shapes
 * whose uncertainties are known. In between 95 % covers 93.5 to 95.5 % where every part has 5 or
 * more degrees of freedom, 93 % with 3, 91 % with 2 and 85 % with 1 (simulated), a weakness of
 * Welch–Satterthwaite's formula; the t distributions of JCGM 101 would cover more than was asked.
 */
export function coverageFactorOf(parts: readonly Part[], probability = 0.95): number {
  if (!parts.every((part) => part.standardUncertainty >= 0)) {
    throw new BobweightError("BUG", "a part of the uncertainty is negative or not a number.");
  }
  const present = parts.filter((part) => part.standardUncertainty > 0);
  if (present.length === 0) return normalFactor(probability);
  const factor = factorOfShapes(present, probability);
  const degreesOfFreedom = effectiveDegreesOfFreedom(present);
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) return factor;
  return factor * (coverageFactor(probability, degreesOfFreedom) / normalFactor(probability));
}
