// The shape of a curve by what the turns show while the speed ramps: guidance for readings, not readings.
import { reduced, type SweepAxis } from "./curve.ts";

/** One turn on the way: `x` in rpm or pascals. */
export interface TraceTurn {
  readonly x: number;
  readonly advanceDeg: number;
  /** How fast `x` changed, without sign. */
  readonly xPerS: number;
}

/**
 * A smooth piece of the curve, u being the reduced x: u = atU + (d − deg) / slope + bow · (d − deg)²
 * with d in degrees; level where the slope is 0. Needed speed over advance is what stays smooth where a
 * mechanism comes near to snapping, not advance over speed.
 */
export interface Piece {
  readonly fromU: number;
  readonly toU: number;
  readonly atU: number;
  readonly deg: number;
  readonly slope: number;
  readonly bow: number;
  /** How fast the ramp went through it. */
  readonly uPerS: number;
  /** Turns that it was fitted to, and how densely they lie. */
  readonly turns: number;
  readonly turnsPerU: number;
  /** How far its slope is in doubt beyond its last readings, in degrees per reduced unit. */
  readonly slopeDoubt: number;
}

/** Deviations smaller than this make no piece of their own. */
const SHAPE_DEG = 0.015;
/** What one more piece must save in squared deviations over squared noise. */
const PIECE_COST = 12;
/** And one more coefficient of a piece: level, line, parabola. */
const COEFFICIENT_COST = 5;
const PIECE_TURNS_MIN = 4;
const TURNS_MAX = 240;
/** A slope grows up to the inverse of this where the curve is about to snap. */
const STEEPEST_SHARE = 0.05;
/** Median absolute deviation of a normal distribution to its standard deviation. */
const MAD_TO_SIGMA = 1.4826;

/** Degrees at u. */
export function pieceAt({ atU, deg, slope, bow }: Piece, u: number): number {
  const away = u - atU;
  const root = Math.sqrt(Math.max(0, 1 + 4 * bow * slope ** 2 * away));
  return deg + (2 * slope * away) / (1 + root);
}

/** Degrees per reduced unit at u. */
export function pieceSlope(piece: Piece, u: number): number {
  const { deg, slope, bow } = piece;
  return slope / Math.max(STEEPEST_SHARE, 1 + 2 * bow * slope * (pieceAt(piece, u) - deg));
}

/** How far the piece lies from the straight line between two of its places, at the middle. */
export function bowDeg(piece: Piece, fromU: number, toU: number): number {
  const line = (pieceAt(piece, fromU) + pieceAt(piece, toU)) / 2;
  return Math.abs(pieceAt(piece, (fromU + toU) / 2) - line);
}

export interface Place {
  readonly u: number;
  readonly deg: number;
}

/**
 * The pieces in rising order that follow the trace best: least squares over all ways to cut it, by
 * dynamic programming (segmented least squares, Kleinberg and Tardos, Algorithm Design, section 6.3,
 * from memory), with parabolas for lines. Neighbouring pieces meet at a corner or a leap.
 */
export function piecesOf(axis: SweepAxis, trace: readonly TraceTurn[]): Piece[] {
  const turns = thinned(trace)
    .map(({ x, advanceDeg, xPerS }) => ({
      u: reduced(axis, x),
      deg: advanceDeg,
      uPerS: reducedPerS(axis, x, xPerS),
    }))
    .sort((a, b) => a.u - b.u);
  if (turns.length < 2 * PIECE_TURNS_MIN) return [];
  return joined(
    bestPieces(turns, noiseOf(turns)),
    (before, after) => 2 * (after.fromU - before.toU),
  );
}

/** How fast the reduced x changes at x where x changes by `xPerS`. */
export function reducedPerS(axis: SweepAxis, x: number, xPerS: number): number {
  return reduced(axis, x + xPerS / 2) - reduced(axis, x - xPerS / 2);
}

interface Turn {
  readonly u: number;
  readonly deg: number;
  readonly uPerS: number;
}

/** Brings the ends of neighbouring pieces together where their curves cross, at most `reach` from the cut. */
export function joined(
  pieces: readonly Piece[],
  reach: (before: Piece, after: Piece) => number,
): Piece[] {
  const meetings = pieces.slice(1).map((after, i) => {
    const before = pieces[i] as Piece;
    return meeting(before, after, reach(before, after));
  });
  return pieces.map((piece, i) => ({
    ...piece,
    fromU: meetings[i - 1] ?? piece.fromU,
    toU: meetings[i] ?? piece.toU,
  }));
}

const MEETING_STEPS = 200;

function meeting(before: Piece, after: Piece, reach: number): number {
  const cut = (before.toU + after.fromU) / 2;
  const low = Math.max(before.fromU, cut - reach);
  const high = Math.min(after.toU, cut + reach);
  let best = cut;
  let least = Math.abs(pieceAt(before, best) - pieceAt(after, best));
  for (let i = 0; i <= MEETING_STEPS; i++) {
    const u = low + (i / MEETING_STEPS) * (high - low);
    const apart = Math.abs(pieceAt(before, u) - pieceAt(after, u));
    if (apart < least - 1e-9) [best, least] = [u, apart];
  }
  return best;
}

function thinned(trace: readonly TraceTurn[]): readonly TraceTurn[] {
  const every = Math.ceil(trace.length / TURNS_MAX);
  return every <= 1 ? trace : trace.filter((_, i) => i % every === 0);
}

/** Standard deviation of a turn, by how far each lies from the line between its neighbours. */
function noiseOf(turns: readonly Turn[]): number {
  const off: number[] = [];
  for (let i = 1; i + 1 < turns.length; i++) {
    const [a, b, c] = [turns[i - 1] as Turn, turns[i] as Turn, turns[i + 1] as Turn];
    const share = c.u > a.u ? (b.u - a.u) / (c.u - a.u) : 0.5;
    const line = a.deg + share * (c.deg - a.deg);
    off.push(Math.abs(b.deg - line) / Math.sqrt(1 + share ** 2 + (1 - share) ** 2));
  }
  off.sort((a, b) => a - b);
  return Math.hypot(MAD_TO_SIGMA * (off[Math.floor(off.length / 2)] as number), SHAPE_DEG);
}

function bestPieces(turns: readonly Turn[], sigma: number): Piece[] {
  const count = turns.length;
  const least = new Float64Array(count + 1).fill(Number.POSITIVE_INFINITY);
  const startOf = new Int32Array(count + 1);
  least[0] = 0;
  for (let end = PIECE_TURNS_MIN; end <= count; end++) {
    const last = turns[end - 1] as Turn;
    const sums = new Sums();
    for (let start = end - 1; start >= 0; start--) {
      sums.add(turns[start] as Turn, last, 1);
      if (sums.n < PIECE_TURNS_MIN) continue;
      const { order, squares } = bestFit(sums, sigma ** 2);
      const cost =
        (least[start] as number) + squares / sigma ** 2 + PIECE_COST + order * COEFFICIENT_COST;
      if (cost < (least[end] as number)) [least[end], startOf[end]] = [cost, start];
    }
  }
  const pieces: Piece[] = [];
  for (let end = count; end > 0; end = startOf[end] as number) {
    pieces.unshift(pieceOver(turns.slice(startOf[end], end), sigma));
  }
  return pieces;
}

const WEIGHINGS = 3;
/** Standard deviation of the slope at the end of a parabola through many even places, noise and width 1: √192. */
const END_SLOPE_SIGMA = 13.9;

function pieceOver(turns: readonly Turn[], sigma: number): Piece {
  const last = turns[turns.length - 1] as Turn;
  const middle = turns[Math.floor(turns.length / 2)] as Turn;
  const piece = (fit: Fit): Piece => ({
    fromU: (turns[0] as Turn).u,
    toU: last.u,
    atU: last.u + fit.atU,
    deg: last.deg + fit.deg,
    slope: fit.slope,
    bow: fit.bow,
    uPerS: middle.uPerS,
    turns: turns.length,
    turnsPerU: turns.length / (last.u - (turns[0] as Turn).u),
    slopeDoubt:
      (END_SLOPE_SIGMA * sigma) / (Math.sqrt(turns.length) * (last.u - (turns[0] as Turn).u)),
  });
  const sums = new Sums();
  for (const turn of turns) sums.add(turn, last, 1);
  let fit = bestFit(sums, sigma ** 2);
  // What counts is the distance in degrees: distances in u weigh by the slope where they are.
  for (let i = 0; fit.order === 2 && i < WEIGHINGS; i++) {
    const now = piece(fit);
    const weighed = new Sums();
    for (const turn of turns) weighed.add(turn, last, pieceSlope(now, turn.u) ** 2);
    fit = bowed(weighed) ?? fit;
  }
  return piece(fit);
}

/** Sums of powers and products of u and degrees, about one turn, so that they keep their digits. */
class Sums {
  n = 0;
  u1 = 0;
  u2 = 0;
  d1 = 0;
  d2 = 0;
  d3 = 0;
  d4 = 0;
  ud = 0;
  udd = 0;

  add(turn: Turn, about: Turn, weight: number): void {
    const u = turn.u - about.u;
    const d = turn.deg - about.deg;
    this.n += weight;
    this.u1 += weight * u;
    this.u2 += weight * u * u;
    this.d1 += weight * d;
    this.d2 += weight * d * d;
    this.d3 += weight * d ** 3;
    this.d4 += weight * d ** 4;
    this.ud += weight * u * d;
    this.udd += weight * u * d * d;
  }
}

/** A curve about the turn that the sums are about, and its squared deviations in degrees. */
interface Fit {
  readonly order: number;
  readonly atU: number;
  readonly deg: number;
  readonly slope: number;
  readonly bow: number;
  readonly squares: number;
}

/** Level, line or bowed: each further coefficient must save its cost. */
function bestFit(sums: Sums, sigma2: number): Fit {
  const worth = ({ squares, order }: Fit) => squares + order * COEFFICIENT_COST * sigma2;
  let best = level(sums);
  for (const fit of [line(sums), bowed(sums)]) {
    if (fit !== null && worth(fit) < worth(best)) best = fit;
  }
  return best;
}

function level({ n, d1, d2 }: Sums): Fit {
  const squares = Math.max(0, d2 - d1 ** 2 / n);
  return { order: 0, atU: 0, deg: d1 / n, slope: 0, bow: 0, squares };
}

function line({ n, u1, u2, d1, d2, ud }: Sums): Fit | null {
  const spread = n * u2 - u1 * u1;
  if (spread <= 1e-12 * n * u2) return null;
  const slope = (n * ud - u1 * d1) / spread;
  const deg = (d1 - slope * u1) / n;
  const squares = Math.max(0, d2 - deg * d1 - slope * ud);
  return { order: 1, atU: 0, deg, slope, bow: 0, squares };
}

/** u as a parabola of the degrees, normal equations by Cramer's rule. */
function bowed({ n, u1, u2, d1, d2, d3, d4, ud, udd }: Sums): Fit | null {
  const det = n * (d2 * d4 - d3 * d3) - d1 * (d1 * d4 - d2 * d3) + d2 * (d1 * d3 - d2 * d2);
  if (det <= 1e-9 * n * d2 * d4) return null;
  const c0 =
    (u1 * (d2 * d4 - d3 * d3) - d1 * (ud * d4 - udd * d3) + d2 * (ud * d3 - udd * d2)) / det;
  const c1 =
    (n * (ud * d4 - udd * d3) - u1 * (d1 * d4 - d2 * d3) + d2 * (d1 * udd - d2 * ud)) / det;
  const c2 =
    (n * (d2 * udd - d3 * ud) - d1 * (d1 * udd - d2 * ud) + u1 * (d1 * d3 - d2 * d2)) / det;
  if (c1 === 0) return null;
  // Squared distances in u become such in degrees by the mean slope.
  const spreadD = d2 - d1 ** 2 / n;
  const spreadU = u2 - u1 ** 2 / n;
  const squares = Math.max(0, u2 - c0 * u1 - c1 * ud - c2 * udd) * (spreadD / spreadU);
  return { order: 2, atU: c0, deg: 0, slope: 1 / c1, bow: c2, squares };
}
