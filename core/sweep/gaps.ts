// What is known between two neighbouring readings without knowing the mechanism.
import { type CurveReading, fromReduced, reduced, type SweepAxis } from "./curve.ts";
import { type Piece, pieceAt, pieceSlope } from "./trace.ts";

/** Between two neighbouring readings of one branch. */
export interface Gap {
  readonly fromX: number;
  readonly toX: number;
  /** How far the curve may lie from the straight line between the two. */
  readonly bendDeg: number;
  /** Expanded uncertainty (k = 2) of the line where it bends most, and of the curve there with the bend. */
  readonly noiseDeg: number;
  readonly expandedDeg: number;
  /** Where the next reading tells most. */
  readonly worstX: number;
  /** Whether a reading lies beyond its lower and beyond its upper end, so that the slope there is known. */
  readonly seenBelow: boolean;
  readonly seenAbove: boolean;
}

/** A reading in reduced coordinates, the uncertainty of its `x` included. */
interface Knot {
  readonly x: number;
  readonly u: number;
  readonly deg: number;
  /** What differs from reading to reading. */
  readonly sigma: number;
  /** All that is not known. */
  readonly wholeSigma: number;
}

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

const COVERAGE = 2;
/** No reading repeats better, whatever its turns say. */
const REPEATS_DEG = 0.004;
/** The line's own uncertainty halfway between two equal ones. */
const HALFWAY = Math.SQRT1_2;
/** A difference of slopes counts with what exceeds this many standard uncertainties, and at least so many. */
const SLOPE_NOISE = 0.5;
/** Second derivative of three even readings over a run of 1 for a noise of 1: 4·√6. */
const CURVATURE_NOISE = 9.8;
/** Slopes that differ from the gap's to either side by so many standard uncertainties show a jump. */
const JUMP_NOISE = 1.5;
/** A piece of fewer turns does not show its shape well. */
const TELLING_TURNS = 8;
/** So many turns are to lie within this many widths of the gap. */
const TELLING_WIDTHS = 2;
/** Share of a gap by which it may reach beyond the trace. */
const PIECE_SLACK = 0.03;
/** Readings are off their piece with what exceeds so many standard uncertainties of the difference. */
const OFF_NOISE = 0.5;
/**
 * How fast a smooth piece may turn where the readings do not tell: over a change of `x` (reduced) by a
 * small share, its slope changes by so many times that share. Tried on random units of real geometry.
 */
const TURNING = { speed: 0.5, vacuum: 0.1 } as const;
/** And at least so many times, since a curve may turn faster beyond what was seen of it. */
const LEAST_TURNING = { speed: 0.1, vacuum: 0.05 } as const;
/** How much of the doubt of a piece's slope at its end counts over a gap. */
const SLOPE_DOUBT = 0.5;
/** The same where a trace shows the piece beyond its last reading. */
const SHOWN_TURNING = 0.03;
/** Share by which a curvature may change on the way to the next reading. */
const CURVATURE_DOUBT = 0.3;
/** Readings lie on one line while none is further off than so many standard uncertainties. */
const LINE_NOISE = 2;

/**
 * The gaps of one branch, readings in rising order of `x`. In a gap the curve is taken to be monotonic
 * and either smooth or with one corner, or with a jump where the slopes on both sides call for it.
 */
export function gapsOf(
  axis: SweepAxis,
  readings: readonly CurveReading[],
  pieces: readonly Piece[],
): Gap[] {
  const knots = knotsOf(axis, readings);
  return knots.slice(1).map((to, i) => gapBetween(axis, knots, i, to, pieces));
}

function knotsOf(axis: SweepAxis, readings: readonly CurveReading[]): Knot[] {
  return readings.map((reading, i) => {
    const u = reduced(axis, reading.x);
    const slopes = [readings[i - 1], readings[i + 1]].map((other) =>
      other === undefined ? 0 : (other.advanceDeg - reading.advanceDeg) / (other.x - reading.x),
    );
    const fromX = Math.hypot(...slopes) * Math.SQRT1_2 * reading.xStandardUncertainty;
    return {
      x: reading.x,
      u,
      deg: reading.advanceDeg,
      sigma: Math.hypot(Math.max(reading.repeatabilityDeg, REPEATS_DEG), fromX),
      wholeSigma: Math.hypot(reading.standardUncertaintyDeg, fromX),
    };
  });
}

function gapBetween(
  axis: SweepAxis,
  knots: readonly Knot[],
  index: number,
  to: Knot,
  pieces: readonly Piece[],
): Gap {
  const from = knots[index] as Knot;
  const byReadings = bend(axis, from, to, knots.slice(0, index).reverse(), knots.slice(index + 2));
  const shown = bendShown(from, to, pieces);
  const seenBelow = index > 0;
  const seenAbove = index + 2 < knots.length;
  const { bendDeg, share } =
    shown !== null && !(seenBelow && seenAbove) && shown.turns >= TELLING_TURNS
      ? shown
      : together(byReadings, shown);
  const noiseDeg = COVERAGE * HALFWAY * Math.max(from.wholeSigma, to.wholeSigma);
  return {
    fromX: from.x,
    toX: to.x,
    bendDeg,
    noiseDeg,
    expandedDeg: noiseDeg + bendDeg,
    seenBelow,
    seenAbove,
    worstX: fromReduced(axis, from.u + share * (to.u - from.u)),
  };
}

/** A trace of enough turns shows what the readings leave open. */
function together(byReadings: Bend, shown: Shown | null): Bend {
  const tells = shown !== null && shown.turns >= TELLING_TURNS;
  return tells && shown.bendDeg < byReadings.bendDeg ? shown : byReadings;
}

/** A bend between two readings and where in the gap it is largest. */
interface Bend {
  readonly bendDeg: number;
  readonly share: number;
}

/**
 * The bend by the trace as the readings set it right; null where it does not reach over the whole gap.
 * Ramps lag, but alike at both ends unless a corner lies between: what the readings differ by counts.
 */
function bendShown(from: Knot, to: Knot, pieces: readonly Piece[]): Shown | null {
  const width = to.u - from.u;
  const traceDeg = (u: number) => {
    const piece = pieces.find(({ toU }) => toU >= u) ?? pieces.at(-1);
    return piece === undefined ? Number.NaN : pieceAt(piece, u);
  };
  const [first, last] = [pieces[0], pieces.at(-1)];
  const slack = PIECE_SLACK * width;
  if (first === undefined || last === undefined) return null;
  if (first.fromU > from.u + slack || last.toU < to.u - slack) return null;
  const [fromDeg, toDeg] = [traceDeg(from.u), traceDeg(to.u)];
  const inside = pieces.map(({ toU }) => toU).filter((u) => u > from.u && u < to.u);
  const places = [...inside, ...[1, 2, 3, 4, 5, 6, 7].map((part) => from.u + (part / 8) * width)];
  let [shapeDeg, share] = [0, 0.5];
  for (const u of places) {
    const part = (u - from.u) / width;
    const deg = Math.abs(traceDeg(u) - fromDeg - part * (toDeg - fromDeg));
    if (deg > shapeDeg) [shapeDeg, share] = [deg, part];
  }
  const offDeg = Math.abs(to.deg - toDeg - (from.deg - fromDeg));
  const covering = pieces.filter(
    ({ fromU, toU }) => Math.min(toU, to.u) - Math.max(fromU, from.u) > slack,
  );
  // Up to a corner the curve goes on from the last reading, and may turn as it does.
  const doubtDeg = Math.max(
    ...covering.map((piece) => {
      if (piece.slopeDoubt === 0) return 0;
      const turning = (SHOWN_TURNING * pieceSlope(piece, (from.u + to.u) / 2) * width) / (2 * to.u);
      return width * Math.max(SLOPE_DOUBT * piece.slopeDoubt, Math.abs(turning));
    }),
  );
  const noiseDeg = Math.hypot(from.sigma, to.sigma);
  const bendDeg = Math.max(0, offDeg + doubtDeg - OFF_NOISE * noiseDeg) + shapeDeg;
  return {
    bendDeg: Math.min(Math.abs(to.deg - from.deg), bendDeg),
    share,
    turns: Math.min(
      ...covering.map(({ turns }) => turns),
      TELLING_WIDTHS * covering.reduce((sum, piece) => sum + turnsWithin(piece, from.u, to.u), 0),
    ),
  };
}

/** Turns of the trace between two places. */
function turnsWithin({ fromU, toU, turnsPerU }: Piece, lowU: number, highU: number): number {
  return turnsPerU * Math.max(0, Math.min(toU, highU) - Math.max(fromU, lowU));
}

/** `lower`, `upper`: the readings beyond either end, nearest first. */
function bend(
  axis: SweepAxis,
  from: Knot,
  to: Knot,
  lower: readonly Knot[],
  upper: readonly Knot[],
): Bend & { readonly clearDeg: number } {
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
  const bendDeg = Math.max(smoothDeg + corner.deg, jumpOf(a, b));
  return {
    // A monotonic curve cannot leave the rectangle between the two readings.
    bendDeg: Math.min(Math.abs(to.deg - from.deg), bendDeg),
    clearDeg: Math.max(clearCorner(a, b), clearJump(a, b)),
    share: corner.deg > smoothDeg && corner.deg > jumpOf(a, b) ? corner.share : 0.5,
  };
}

interface Shown extends Bend {
  /** How many turns tell of the shape. */
  readonly turns: number;
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

/** What is left of the corner when the noise is taken off. */
function clearCorner(a: Off, b: Off): number {
  if (a.deg * b.deg <= 0) return 0;
  const size = ({ deg, noiseDeg }: Off) => Math.max(0, Math.abs(deg) - JUMP_NOISE * noiseDeg);
  const [sizeA, sizeB] = [size(a), size(b)];
  return sizeA + sizeB === 0 ? 0 : (sizeA * sizeB) / (sizeA + sizeB);
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

function clearJump(a: Off, b: Off): number {
  const size = ({ deg, noiseDeg }: Off) => Math.max(0, Math.abs(deg) - JUMP_NOISE * noiseDeg);
  return a.deg * b.deg < 0 ? Math.min(size(a), size(b)) : 0;
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

/** Least squares, each reading by its uncertainty. */
function lineThrough(knots: readonly Knot[]): {
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
function curvatureOf(knots: readonly Knot[]): number {
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
