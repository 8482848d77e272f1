// How far a curve may bend between two readings by the readings beyond either of them.
import type { SweepAxis } from "./curve.ts";
import type { Knot } from "./knot.ts";
import { curvatureOf, lineThrough } from "./knotLine.ts";
import type { Bend } from "./shown.ts";
import { steepeningBend } from "./steepening.ts";

/** What the readings on one side of a gap say of the curve there. */
interface Side {
  readonly slope: number;
  readonly sigma: number;
  /** From the gap's end to the middle of what the slope was taken from. */
  readonly awayU: number;
  /** How long the run is that the slope was taken from, and the noise of its readings in degrees. */
  readonly runU: number;
  readonly noise: number;
  /** Whether three readings and more lie on the line. */
  readonly straight: boolean;
  /** Second derivative that the readings further out agree on; 0 where they do not tell. */
  readonly curvature: number;
}

/** A difference of slopes counts with what exceeds this many standard uncertainties, and at least so many. */
const SLOPE_NOISE = 0.5;
/** Second derivative of three even readings over a run of 1 for a noise of 1: 4·√6. */
const CURVATURE_NOISE = 9.8;
/** Slopes that differ from the gap's to either side by so many standard uncertainties show a jump. */
const JUMP_NOISE = 1.5;
/**
 * How fast a smooth piece may turn where the readings do not tell: over a change of `x` (reduced) by a
 * small share, its slope changes by so many times that share. Tried on random units of real geometry.
 */
const TURNING = { speed: 0.5, vacuum: 0.1 } as const;
/** And at least so many times, since a curve may turn faster beyond what was seen of it. */
const LEAST_TURNING = { speed: 0.1, vacuum: 0.05 } as const;
/** Share by which a curvature may change on the way to the next reading. */
const CURVATURE_DOUBT = 0.3;
/** Readings lie on one line while none is further off than so many standard uncertainties. */
const LINE_NOISE = 2;

/** `lower`, `upper`: the readings beyond either end, nearest first. */
export function bendByReadings(
  axis: SweepAxis,
  from: Knot,
  to: Knot,
  lower: readonly Knot[],
  upper: readonly Knot[],
): Bend {
  const width = to.u - from.u;
  const slope = (to.deg - from.deg) / width;
  const slopeSigma = Math.hypot(from.sigma, to.sigma) / width;
  const left = sideOf(from, lower);
  const right = sideOf(to, upper);
  // What the slopes differ by beyond a smooth curvature. Monotonic to the last: flat beyond the range.
  const off = (side: Side | null, sign: 1 | -1): Off => {
    const away = side?.awayU ?? 0;
    return {
      deg:
        width * (sign * (slope - (side?.slope ?? 0)) - (side?.curvature ?? 0) * (width / 2 + away)),
      noiseDeg: width * Math.hypot(slopeSigma, side?.sigma ?? 0),
      unseenDeg: side === null ? 0 : width * unseenTurn(axis, side, to.u, width),
    };
  };
  const [a, b] = [off(left, 1), off(right, -1)];
  const curvature = Math.max(Math.abs(left?.curvature ?? 0), Math.abs(right?.curvature ?? 0));
  const smoothDeg = (curvature * width ** 2) / 8;
  const corner = largestOf(cornerOf(a, b, 1), cornerOf(a, b, -1));
  const jumpDeg = jumpOf(a, b);
  const bendDeg = Math.max(smoothDeg + corner.deg, jumpDeg);
  const steeper = steepeningBend(from, to, lower, upper[0]);
  // A monotonic curve cannot leave the rectangle between the two readings.
  const most = Math.abs(to.deg - from.deg);
  if (steeper.bendDeg > bendDeg) return { ...steeper, bendDeg: Math.min(most, steeper.bendDeg) };
  return {
    bendDeg: Math.min(most, bendDeg),
    share: corner.deg > smoothDeg && corner.deg > jumpDeg ? corner.share : 0.5,
  };
}

/** How far the line from one side misses the other end of the gap, in degrees. */
interface Off {
  readonly deg: number;
  readonly noiseDeg: number;
  readonly unseenDeg: number;
}

interface Corner {
  readonly deg: number;
  /** Where in the gap the lines from both sides meet. */
  readonly share: number;
}

/** A corner that turns up (sign 1) or down, as large as the lines from both sides allow. */
function cornerOf(a: Off, b: Off, sign: 1 | -1): Corner {
  const size = ({ deg, noiseDeg, unseenDeg }: Off) =>
    Math.max(0, sign * deg + SLOPE_NOISE * noiseDeg + unseenDeg);
  const [sizeA, sizeB] = [size(a), size(b)];
  const sum = sizeA + sizeB;
  if (sum === 0) return { deg: 0, share: 0.5 };
  // How large it may be counts with all doubt; where it is, without.
  const told = sign * a.deg > 0 && sign * b.deg > 0;
  const share = told ? b.deg / (a.deg + b.deg) : sizeB / sum;
  return { deg: (sizeA * sizeB) / sum, share };
}

function largestOf(one: Corner, other: Corner): Corner {
  return one.deg >= other.deg ? one : other;
}

/**
 * Both lines miss the other end to different sides: the curve leaps between them, or it has a corner at
 * one end and another inside.
 */
function jumpOf(a: Off, b: Off): number {
  const clear = (one: Off) => Math.abs(one.deg) > JUMP_NOISE * one.noiseDeg;
  if (a.deg * b.deg >= 0 || !(clear(a) || clear(b))) return 0;
  const size = (one: Off) => Math.max(0, Math.abs(one.deg) - SLOPE_NOISE * one.noiseDeg);
  return Math.min(size(a), size(b));
}

/** What the slope at the gap may differ by, since a run of readings shows no curvature below its noise. */
function unseenTurn(axis: SweepAxis, side: Side, u: number, width: number): number {
  const { slope, awayU, runU, noise, curvature, straight } = side;
  const turning = (TURNING[axis] * Math.abs(slope)) / u;
  const hidden = straight ? Math.min((CURVATURE_NOISE * noise) / runU ** 2, turning) : turning;
  const least = (LEAST_TURNING[axis] * Math.abs(slope)) / u;
  return Math.max(hidden, least, CURVATURE_DOUBT * Math.abs(curvature)) * (width / 2 + awayU);
}

/** Slope towards a gap's end by the longest run of readings that lie on one line. */
function sideOf(end: Knot, beyond: readonly Knot[]): Side | null {
  let run = [end, ...beyond.slice(0, 1)];
  if (run.length < 2) return null;
  let line = lineThrough(run);
  for (let count = 2; count <= beyond.length; count++) {
    const longer = [end, ...beyond.slice(0, count)];
    const fitted = lineThrough(longer);
    const onLine = longer.every(
      (knot) => Math.abs(fitted.at(knot.u) - knot.deg) <= LINE_NOISE * knot.sigma,
    );
    if (!onLine) break;
    [run, line] = [longer, fitted];
  }
  const awayU = Math.abs(line.centreU - end.u);
  const runU = Math.abs((run.at(-1) as Knot).u - end.u);
  const noise = Math.max(...run.map(({ sigma }) => sigma));
  return {
    slope: line.slope,
    sigma: line.sigma,
    awayU,
    runU,
    noise,
    straight: run.length > 2,
    curvature: run.length > 2 ? 0 : curvatureOf([end, ...beyond]),
  };
}
