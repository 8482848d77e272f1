// Coverage factors: quantiles of the normal and of Student's t distribution, and Welch–Satterthwaite's degrees of freedom.
import { BobweightError } from "../errors.ts";

/** Nodes and weights of Gauss–Legendre's rule on −1 to 1 (Newton on the recurrence of P_n). */
function legendreRule(size: number): readonly { node: number; weight: number }[] {
  return Array.from({ length: size }, (_, i) => {
    let node = Math.cos((Math.PI * (i + 0.75)) / (size + 0.5));
    let slope = 1;
    for (let round = 0; round < 10; round++) {
      let before = 1;
      let now = node;
      for (let n = 2; n <= size; n++) {
        [before, now] = [now, ((2 * n - 1) * node * now - (n - 1) * before) / n];
      }
      slope = (size * (node * now - before)) / (node * node - 1);
      node -= now / slope;
    }
    return { node, weight: 2 / ((1 - node * node) * slope * slope) };
  });
}

/** 48 nodes leave less than 1e-12 for the smooth integrands below. */
const RULE = legendreRule(48);

/** S(z) of Stirling's ln Γ(z) = (z − ½) ln z − z + ½ ln 2π + S(z), for z of 12 or more. */
function stirlingTail(z: number): number {
  const w = 1 / (z * z);
  return (1 / 12 - w * (1 / 360 - w * (1 / 1260 - w * (1 / 1680 - w / 1188)))) / z;
}

/** Γ(x + ½) / (Γ(x) √x): the logarithms are subtracted before they are large, so that it tends to 1 cleanly. */
function gammaRatio(x: number): number {
  if (x < 12) return (gammaRatio(x + 1) * Math.sqrt(x * (x + 1))) / (x + 0.5);
  return Math.exp(x * Math.log1p(0.5 / x) - 0.5 + stirlingTail(x + 0.5) - stirlingTail(x));
}

/**
 * Student's density after t = √ν tan(w/√ν): c cos^(ν−1)(w/√ν), on a finite stretch and smooth for
 * every ν from 1 up; it becomes the normal density as ν grows, so that one method serves both.
 */
interface Kernel {
  readonly density: (w: number) => number;
  readonly wOf: (t: number) => number;
  readonly tOf: (w: number) => number;
  /** Beyond it less than 1e-17 is left. */
  readonly farW: number;
}

const NORMAL: Kernel = {
  density: (w) => Math.exp(-w * w * 0.5) / Math.sqrt(2 * Math.PI),
  wOf: (t) => t,
  tOf: (w) => w,
  farW: 9,
};

/** Above this the kernel differs from the normal one by less than rounding does. */
const AS_GOOD_AS_INFINITE = 1e15;

function kernelOf(degreesOfFreedom: number): Kernel {
  if (!(degreesOfFreedom >= 1)) {
    throw new BobweightError("BUG", `${degreesOfFreedom} degrees of freedom: fewer than one.`);
  }
  if (degreesOfFreedom > AS_GOOD_AS_INFINITE) return NORMAL;
  const root = Math.sqrt(degreesOfFreedom);
  const top = gammaRatio(degreesOfFreedom / 2) / Math.sqrt(2 * Math.PI);
  const power = degreesOfFreedom - 1;
  // ln cos w = ½ ln(1 − sin² w) keeps its digits where w is small and the power large.
  const logCosine = (w: number): number => 0.5 * Math.log1p(-(Math.sin(w / root) ** 2));
  return {
    density: (w) => top * Math.exp(power * logCosine(w)),
    wOf: (t) => root * Math.atan(t / root),
    tOf: (w) => root * Math.tan(w / root),
    farW: 9 * Math.sqrt(degreesOfFreedom / power),
  };
}

/** Probability between −w and w. */
function central(kernel: Kernel, w: number): number {
  const half = Math.min(w, kernel.farW) / 2;
  let sum = 0;
  for (const { node, weight } of RULE) sum += weight * kernel.density(half * (1 + node));
  return 2 * half * sum;
}

/** Probability that Student's t with these degrees of freedom (1 to Infinity) is at most `t`. */
export function studentCdf(t: number, degreesOfFreedom: number): number {
  const kernel = kernelOf(degreesOfFreedom);
  return 0.5 + (Math.sign(t) * central(kernel, kernel.wOf(Math.abs(t)))) / 2;
}

/** Probability that a standard normal value is at most `z`. */
export function normalCdf(z: number): number {
  return studentCdf(z, Number.POSITIVE_INFINITY);
}

/** Rounds of Newton that are never needed: about ten are. */
const MOST_ROUNDS = 100;

/**
 * Two-sided coverage factor: ± k standard uncertainties hold `probability` (0 to 1, both excluded)
 * of Student's t; degrees of freedom 1 to Infinity, whole or not. Good to about 1e-10 (relative)
 * for probabilities up to 0.999.
 *
 * The central probability is concave in w, so Newton from the left rises to the root and never
 * passes it.
 */
export function coverageFactor(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) {
    throw new BobweightError("BUG", `coverage probability ${probability} is not between 0 and 1.`);
  }
  const kernel = kernelOf(degreesOfFreedom);
  let w = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const step = (probability - central(kernel, w)) / (2 * kernel.density(w));
    w += step;
    if (step <= 1e-14 * w) break;
  }
  return kernel.tOf(w);
}

/** The z that a standard normal value stays below with `probability` (0 to 1, both excluded). */
export function normalQuantile(probability: number): number {
  if (probability === 0.5) return 0;
  const size = coverageFactor(Math.abs(2 * probability - 1), Number.POSITIVE_INFINITY);
  return probability > 0.5 ? size : -size;
}

/**
 * Welch–Satterthwaite: degrees of freedom of a sum of independent parts, each its standard
 * uncertainty in the sum's unit and its own degrees of freedom (Infinity where it is known).
 * Whole numbers are not forced. Source: JCGM 100 G.4.1 equation (G.2b), from memory.
 */
export function effectiveDegreesOfFreedom(
  parts: readonly { readonly standardUncertainty: number; readonly degreesOfFreedom: number }[],
): number {
  const largest = Math.max(0, ...parts.map((part) => part.standardUncertainty));
  if (largest === 0) return Number.POSITIVE_INFINITY;
  // Shares of the largest: fourth powers of small numbers would vanish.
  let variance = 0;
  let weighed = 0;
  for (const part of parts) {
    const square = (part.standardUncertainty / largest) ** 2;
    variance += square;
    weighed += (square * square) / part.degreesOfFreedom;
  }
  return (variance * variance) / weighed;
}
