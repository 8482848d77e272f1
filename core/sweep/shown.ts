// How far a curve bends between two readings by the trace.
import type { Knot } from "./knot.ts";
import { type Piece, pieceAt, pieceSlope } from "./trace.ts";

/** A bend between two readings and where in the gap it is largest. */
export interface Bend {
  readonly bendDeg: number;
  readonly share: number;
}

export interface Shown extends Bend {
  /** How many turns tell of the shape. */
  readonly turns: number;
}

/** So many turns are to lie within this many widths of the gap. */
const TELLING_WIDTHS = 2;
/** Share of a gap by which it may reach beyond the trace, … */
const TRACE_SLACK = 0.15;
/** … and into a piece that does not count. */
const PIECE_SLACK = 0.03;
/** Readings are off their piece with what exceeds so many standard uncertainties of the difference. */
const OFF_NOISE = 0.5;
/** How much of the doubt of a piece's slope at its end counts over a gap. */
const SLOPE_DOUBT = 0.5;
/** The same where a trace shows the piece beyond its last reading. */
const SHOWN_TURNING = 0.03;

/**
 * The bend by the trace as the readings set it right; null where it does not reach over the whole gap.
 * Ramps lag, but alike at both ends unless a corner lies between: what the readings differ by counts.
 */
export function bendShown(from: Knot, to: Knot, pieces: readonly Piece[]): Shown | null {
  const width = to.u - from.u;
  const traceDeg = (u: number) => {
    const piece = pieces.find(({ toU }) => toU >= u) ?? pieces.at(-1);
    return piece === undefined ? Number.NaN : pieceAt(piece, u);
  };
  const [first, last] = [pieces[0], pieces.at(-1)];
  const slack = PIECE_SLACK * width;
  if (first === undefined || last === undefined) return null;
  const beyond = TRACE_SLACK * width;
  if (first.fromU > from.u + beyond || last.toU < to.u - beyond) return null;
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
